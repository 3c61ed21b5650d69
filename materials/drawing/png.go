package drawing

import (
	"bytes"
	"image"
	"image/png"
	"math"

	"foamwright/materials/fault"
)

// Sizes of pictures: under the least nothing can be read, over the most a picture fills the memory.
const leastPixels, mostPixels = 100, 4000

// PNG writes the drawing as a picture whose longer side has so many pixels, from 100 to 4 000: the same bytes
// for the same drawing. It stands on white where the drawing has no paper. A picture of 256 colours is a third of
// the size of a full one and quicker to write; edges are smoothed in what those allow.
func PNG(d Drawing, pixels int) ([]byte, error) {
	if pixels < leastPixels || pixels > mostPixels {
		return nil, fault.New(fault.Invalid, "A picture is from %d to %d pixels on its longer side.", leastPixels, mostPixels)
	}
	scale := float64(pixels) / math.Max(d.Sheet.Width(), d.Sheet.Height())
	c := &canvas{
		picture: image.NewRGBA(image.Rect(0, 0, max(1, int(math.Round(d.Sheet.Width()*scale))), max(1, int(math.Round(d.Sheet.Height()*scale))))),
		scale:   scale, origin: d.Sheet.Min,
	}
	for i := range c.picture.Pix {
		c.picture.Pix[i] = 0xff
	}
	var pen lettering
	for _, m := range d.Marks {
		switch m := m.(type) {
		case Area:
			c.fill(m.Region, m.Fill.or(m.Class.own()))
			if m.Pen > 0 {
				for _, ring := range rings(m.Region) {
					c.stroke(ring, m.Pen, Ink.own())
				}
			}
		case Lines:
			c.lines(m)
		case Dots:
			c.dots(m)
		case Text:
			if err := pen.write(c, m); err != nil {
				return nil, err
			}
		}
	}
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := encoder.Encode(&out, reduced(c.picture)); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
