package cutplan

import (
	"math"

	"foamwright/materials/geom"
)

// part is a convex piece of a solid; the parts of a solid cover it and lie side by side.
type part struct {
	ring   geom.Ring
	planes []plane
	box    geom.Rect
}

// solid is an outline taken apart into convex parts, for the test of overlap.
type solid struct {
	id    int
	parts []part
	box   geom.Rect
}

// newSolid of rings: one part where they are one convex ring, else their slabs, joined where that stays convex.
func newSolid(id int, rs []geom.Ring, slabs []slab) *solid {
	s := &solid{id: id}
	if len(rs) == 1 && convex(rs[0]) {
		s.parts = []part{{ring: rs[0]}}
	} else {
		s.parts = joined(slabs)
	}
	for i := range s.parts {
		p := &s.parts[i]
		p.box, p.planes = p.ring.Bounds(), planes(p.ring)
		if i == 0 {
			s.box = p.box
			continue
		}
		s.box.Min = geom.Point{X: min(s.box.Min.X, p.box.Min.X), Y: min(s.box.Min.Y, p.box.Min.Y)}
		s.box.Max = geom.Point{X: max(s.box.Max.X, p.box.Max.X), Y: max(s.box.Max.Y, p.box.Max.Y)}
	}
	return s
}

// joined makes convex rings of slabs: a slab is joined to the one above it whose lower side is its upper side,
// where the sides turn inwards only. Both lists are by height, so the first fit is the one.
func joined(slabs []slab) []part {
	var runs [][]slab
	for _, s := range slabs {
		fits := -1
		for i, r := range runs {
			a := &r[len(r)-1]
			if math.Abs(a.y1-s.y0) < level && math.Abs(a.left(a.y1)-s.l0) < level && math.Abs(a.right(a.y1)-s.r0) < level &&
				s.lk >= a.lk-1e-9 && s.rk <= a.rk+1e-9 {
				fits = i
				break
			}
		}
		if fits < 0 {
			runs = append(runs, []slab{s})
		} else {
			runs[fits] = append(runs[fits], s)
		}
	}
	out := make([]part, 0, len(runs))
	for _, run := range runs {
		var r geom.Ring
		add := func(x, y float64) {
			if n := len(r); n == 0 || math.Hypot(r[n-1].X-x, r[n-1].Y-y) > level {
				r = append(r, geom.Point{X: x, Y: y})
			}
		}
		for _, s := range run { // down the right side, up the left: the solid on the left, y pointing down
			add(s.right(s.y0), s.y0)
			add(s.right(s.y1), s.y1)
		}
		for i := len(run) - 1; i >= 0; i-- {
			s := &run[i]
			add(s.left(s.y1), s.y1)
			add(s.left(s.y0), s.y0)
		}
		if n := len(r); n > 1 && math.Hypot(r[0].X-r[n-1].X, r[0].Y-r[n-1].Y) <= level {
			r = r[:n-1]
		}
		if len(r) > 2 {
			out = append(out, part{ring: r})
		}
	}
	return out
}
