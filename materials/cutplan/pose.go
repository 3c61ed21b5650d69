package cutplan

import (
	"math"
	"slices"

	"foamwright/materials/geom"
)

// Matrix maps a shape to where it lies on the sheet.
func (p Pose) Matrix() geom.Matrix {
	m := geom.Rotate(p.Turn)
	if p.Mirrored {
		m = geom.MirrorX().Then(m)
	}
	return m.Then(geom.Translate(p.At.X, p.At.Y))
}

// Apply is the shape as it lies on the sheet.
func (p Pose) Apply(s geom.Shape) geom.Shape { return geom.Region{s}.Transform(p.Matrix())[0] }

// ring is one ring as it lies.
func (p Pose) ring(r geom.Ring) geom.Ring { return p.Apply(geom.Shape{Outer: r}).Outer }

// box is that of one ring as it lies.
func (p Pose) box(r geom.Ring) geom.Rect {
	m := p.Matrix()
	at := m.Apply(r[0])
	b := geom.Rect{Min: at, Max: at}
	for _, v := range r[1:] {
		at = m.Apply(v)
		b.Min.X, b.Min.Y = min(b.Min.X, at.X), min(b.Min.Y, at.Y)
		b.Max.X, b.Max.Y = max(b.Max.X, at.X), max(b.Max.Y, at.Y)
	}
	return b
}

// net is the area of a shape without its holes, whichever way its rings run.
func net(s geom.Shape) float64 {
	a := math.Abs(s.Outer.Area())
	for _, h := range s.Holes {
		a -= math.Abs(h.Area())
	}
	return a
}

// rings are the rings of a shape, outer first, with the solid on the left: the outer ring positive, holes
// negative, without doubled points.
func rings(s geom.Shape) []geom.Ring {
	out := []geom.Ring{lean(s.Outer, true)}
	for _, h := range s.Holes {
		out = append(out, lean(h, false))
	}
	return out
}

// lean runs a ring the asked way round and drops doubled points.
func lean(r geom.Ring, positive bool) geom.Ring {
	out := make(geom.Ring, 0, len(r))
	for _, p := range r {
		if n := len(out); n == 0 || math.Hypot(p.X-out[n-1].X, p.Y-out[n-1].Y) > 1e-9 {
			out = append(out, p)
		}
	}
	for n := len(out); n > 1 && math.Hypot(out[0].X-out[n-1].X, out[0].Y-out[n-1].Y) <= 1e-9; n-- {
		out = out[:n-1]
	}
	if (out.Area() > 0) != positive {
		slices.Reverse(out)
	}
	return out
}
