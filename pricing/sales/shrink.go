package sales

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // phones send pictures of screens as PNG

	"golang.org/x/image/draw"

	"foamwright/materials/fault"
)

// Bounds of pictures. MaxPhoto is what a phone's largest usually takes; common practice, no source.
const (
	MaxPhoto  = 12 << 20 // bytes that may be sent
	mostPixel = 60e6     // of them, unpacked: a small file can hold a picture that fills the memory
	longSide  = 1600     // px as it is kept
	smallSide = 320      // px in lists
	quality   = 82       // of JPEG, out of 100
)

// shrunk is a picture as it is kept.
type shrunk struct {
	jpeg, small   []byte
	width, height int
}

// shrink makes a picture anew from its pixels alone, upright: nothing else that was in the file is kept.
func shrink(ctx context.Context, sent []byte) (shrunk, error) {
	if len(sent) > MaxPhoto {
		return shrunk{}, fault.New(fault.TooLarge, "This picture is larger than 12 MB. Send a smaller one.")
	}
	head, kind, err := image.DecodeConfig(bytes.NewReader(sent))
	switch {
	case len(sent) == 0:
		return shrunk{}, problem("photo", "", "Choose a picture.")
	case err != nil || kind != "jpeg" && kind != "png":
		return shrunk{}, problem("photo", "", "This is no picture that can be read. Send a JPEG or a PNG.")
	case head.Width < 1 || head.Height < 1 || head.Height > mostPixel/head.Width:
		return shrunk{}, problem("photo", "", "This picture has more than 60 million points. Send a smaller one.")
	}
	if err := ctx.Err(); err != nil {
		return shrunk{}, err
	}
	img, _, err := image.Decode(bytes.NewReader(sent))
	if err != nil {
		return shrunk{}, problem("photo", "", "This picture is damaged. Take it again, or send another.")
	}
	large := upright(fit(img, longSide), orientation(sent))
	s := shrunk{width: large.Bounds().Dx(), height: large.Bounds().Dy()}
	if s.jpeg, err = packed(large); err != nil {
		return s, err
	}
	s.small, err = packed(fit(large, smallSide))
	return s, err
}

// fit scales a picture so that its longer side is at most so many px, on white where it is see-through.
func fit(img image.Image, side int) *image.RGBA {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	if long := max(w, h); long > side {
		w, h = max(1, (w*side+long/2)/long), max(1, (h*side+long/2)/long)
	}
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(to, to.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.ApproxBiLinear.Scale(to, to.Bounds(), img, b, draw.Over, nil)
	return to
}

func packed(img image.Image) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality})
	return b.Bytes(), err
}

// upright turns a picture as its camera said it was held: the eight ways of Exif 2.3, tag 0x0112.
func upright(img *image.RGBA, way int) *image.RGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	var from func(x, y int) (int, int) // of a point of the upright picture
	switch way {
	case 2:
		from = func(x, y int) (int, int) { return w - 1 - x, y }
	case 3:
		from = func(x, y int) (int, int) { return w - 1 - x, h - 1 - y }
	case 4:
		from = func(x, y int) (int, int) { return x, h - 1 - y }
	case 5:
		from = func(x, y int) (int, int) { return y, x }
	case 6:
		from = func(x, y int) (int, int) { return y, h - 1 - x }
	case 7:
		from = func(x, y int) (int, int) { return w - 1 - y, h - 1 - x }
	case 8:
		from = func(x, y int) (int, int) { return w - 1 - y, x }
	default:
		return img
	}
	size := image.Rect(0, 0, w, h)
	if way >= 5 {
		size = image.Rect(0, 0, h, w)
	}
	to := image.NewRGBA(size)
	for y := range size.Dy() {
		for x := range size.Dx() {
			fx, fy := from(x, y)
			to.SetRGBA(x, y, img.RGBAAt(fx, fy))
		}
	}
	return to
}
