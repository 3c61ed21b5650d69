package drawing

import (
	"encoding/binary"
	"image"
	"image/draw"
	"math"

	"golang.org/x/image/vector"

	"foamwright/materials/geom"
)

// canvas is a picture and how mm become pixels on it.
type canvas struct {
	picture *image.RGBA
	raster  vector.Rasterizer
	mask    image.Alpha // how far each pixel of what is painted is covered; its room is used again
	scale   float64
	origin  geom.Point
}

func (c *canvas) pixel(p geom.Point) (x, y float64) {
	return (p.X - c.origin.X) * c.scale, (p.Y - c.origin.Y) * c.scale
}

// band is how many rows are filled at once. The rasteriser follows an edge from row to row in 1/512 pixel, rounding
// down, so long edges would drift; and so few rows stay near the processor.
const band = 64

// paint fills outlines given in pixels, each run round counting: those that run against each other leave what is
// between them open.
func (c *canvas) paint(outlines [][][2]float64, colour Colour) {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, o := range outlines {
		for _, p := range o {
			for k := range 2 {
				low[k], high[k] = math.Min(low[k], p[k]), math.Max(high[k], p[k])
			}
		}
	}
	if !(low[0] < high[0]) {
		return
	}
	part := image.Rect(int(math.Floor(low[0])), int(math.Floor(low[1])), int(math.Ceil(high[0])), int(math.Ceil(high[1]))).Intersect(c.picture.Rect)
	for y := part.Min.Y; y < part.Max.Y; y += band {
		rows := image.Rect(part.Min.X, y, part.Max.X, min(y+band, part.Max.Y))
		c.cover(outlines, rows)
		c.lay(rows, colour)
	}
}

// cover makes the mask of some rows of the picture, from the pieces of edges that lie in them.
func (c *canvas) cover(outlines [][][2]float64, rows image.Rectangle) {
	size := image.Rect(0, 0, rows.Dx(), rows.Dy())
	c.raster.Reset(size.Dx(), size.Dy())
	c.raster.DrawOp = draw.Src
	left, top, foot := float64(rows.Min.X), float64(rows.Min.Y), float64(rows.Max.Y)
	for _, o := range outlines {
		for i, p := range o {
			q := o[(i+1)%len(o)]
			if math.Max(p[1], q[1]) <= top || math.Min(p[1], q[1]) >= foot {
				continue
			}
			at := func(y float64) (float32, float32) {
				within := math.Min(math.Max(y, top), foot)
				x := p[0]
				if within != p[1] {
					x += (q[0] - p[0]) * (within - p[1]) / (q[1] - p[1])
				}
				return float32(x - left), float32(within - top)
			}
			if p[1] != q[1] {
				c.raster.MoveTo(at(p[1]))
				c.raster.LineTo(at(q[1]))
			}
		}
	}
	n := size.Dx() * size.Dy()
	if cap(c.mask.Pix) < n {
		c.mask.Pix = make([]uint8, n)
	}
	c.mask = image.Alpha{Pix: c.mask.Pix[:n], Stride: size.Dx(), Rect: size}
	c.raster.Draw(&c.mask, size, image.Opaque, image.Point{})
}

// lay puts a colour where the mask covers: eight pixels at once where they are all open or all covered.
func (c *canvas) lay(part image.Rectangle, colour Colour) {
	v := colour.NRGBA()
	solid := [4]uint8{v.R, v.G, v.B, 0xff}
	var eight [32]uint8
	for i := range eight {
		eight[i] = solid[i%4]
	}
	for y := range part.Dy() {
		row := c.mask.Pix[y*c.mask.Stride:][:c.mask.Stride]
		to := c.picture.Pix[c.picture.PixOffset(part.Min.X, part.Min.Y+y):]
		for x := 0; x < len(row); x++ {
			if x+8 <= len(row) {
				block := binary.LittleEndian.Uint64(row[x:])
				if block == math.MaxUint64 && v.A == 0xff {
					copy(to[4*x:], eight[:])
				}
				if block == 0 || block == math.MaxUint64 && v.A == 0xff {
					x += 7
					continue
				}
			}
			if a := uint32(row[x]) * uint32(v.A); a > 0 {
				for k, s := range solid[:3] {
					d := &to[4*x+k]
					*d = uint8((uint32(s)*a + uint32(*d)*(255*255-a) + 255*127) / (255 * 255))
				}
			}
		}
	}
}

// fill fills a region; its holes run the other way round, so they stay open.
func (c *canvas) fill(r geom.Region, colour Colour) {
	var outlines [][][2]float64
	for _, s := range r {
		for _, ring := range append([]geom.Ring{s.Outer}, s.Holes...) {
			outlines = append(outlines, c.outline(ring))
		}
	}
	c.paint(outlines, colour)
}

func (c *canvas) outline(ring []geom.Point) [][2]float64 {
	out := make([][2]float64, len(ring))
	for i, p := range ring {
		out[i][0], out[i][1] = c.pixel(p)
	}
	return out
}

func (c *canvas) dots(d Dots) {
	for _, p := range d.At {
		x, y := c.pixel(p)
		c.paint([][][2]float64{disc(x, y, d.Diameter*c.scale/2)}, d.Fill.or(d.Class.own()))
	}
}

// disc is a circle as a polygon that looks round.
func disc(x, y, radius float64) [][2]float64 {
	n := 8 + int(3*math.Sqrt(radius))*2
	out := make([][2]float64, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = [2]float64{x + radius*cos, y + radius*sin}
	}
	return out
}
