package shield

import (
	"fmt"
	"math"

	"foamwright/materials/geom"
)

// Common practice, no source: the least width of a panel worth joining on, mm; and the share of a mat below which a
// panels cuts a layer over a grid of mats: as few mats as it can be, then short seams, with the seams of
// onBorder is how much of a ring runs along the border of its cell: the seams of a panel.
func onBorder(ring geom.Ring, c geom.Rect) float64 {
	const near = 1e-6
	along := func(a, b, at float64) bool { return math.Abs(a-at) < near && math.Abs(b-at) < near }
	sum := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if along(p.X, q.X, c.Min.X) || along(p.X, q.X, c.Max.X) || along(p.Y, q.Y, c.Min.Y) || along(p.Y, q.Y, c.Max.Y) {
			sum += math.Hypot(q.X-p.X, q.Y-p.Y)
		}
	}
	return sum
}

// k × pitch, or level ones.
func crossings(r geom.Region, offset, pitch float64, level bool) float64 {
	b := r.Bounds()
	from, to := b.Min.X, b.Max.X
	if level {
		from, to = b.Min.Y, b.Max.Y
	}
	sum := 0.0
	for at := offset - pitch*math.Floor((offset-from)/pitch); at < to; at += pitch {
		if at > from+1e-6 {
			sum += across(r, at, level)
		}
	}
	return sum
}

func box(r geom.Rect) geom.Region {
	return geom.Region{{Outer: geom.Ring{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}}}
}

func shapeAt(s geom.Shape, dx, dy float64) geom.Shape {
	return geom.Region{s}.Transform(geom.Translate(dx, dy))[0]
}
