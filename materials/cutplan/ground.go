package cutplan

import (
	"slices"

	"foamwright/materials/geom"
)

// ground is one kind of sheet made ready for laying out.
type ground struct {
	box     geom.Rect   // of the sheet
	inner   geom.Rect   // the box less the margin
	area    float64     // of the sheet
	frame   []slab      // of a shaped sheet: what surrounds it and the margin within; pieces may not lie there
	edge    []slab      // the same without the margin, for seated panels
	levels  []float64   // heights at which the frame turns back
	outside []geom.Rect // of a shaped sheet: boxes that cover what surrounds it
}

// ground of a sheet; swapped changes x and y about.
func (s Sheet) ground(margin float64, swapped bool) *ground {
	o := s.outline()
	rs := rings(o)
	if swapped {
		for i, r := range rs {
			rs[i] = swap(r)
		}
	}
	g := &ground{box: rs[0].Bounds(), area: net(o)}
	g.inner = geom.Rect{
		Min: geom.Point{X: g.box.Min.X + margin, Y: g.box.Min.Y + margin},
		Max: geom.Point{X: g.box.Max.X - margin, Y: g.box.Max.Y - margin},
	}
	if !s.shaped() {
		return g
	}
	x0, y0, x1, y1 := g.box.Min.X-1, g.box.Min.Y-1, g.box.Max.X+1, g.box.Max.Y+1
	around := []geom.Ring{{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}
	beyond := slices.Clone(around)
	for _, r := range rs {
		r = back(r)
		beyond = append(beyond, r)
		moved := swell(r, margin)
		around = append(around, moved)
		g.levels = append(g.levels, turning(moved)...)
	}
	g.frame, _ = cut(around)
	g.edge, _ = cut(beyond)
	for _, b := range g.edge {
		box := geom.Rect{
			Min: geom.Point{X: max(min(b.l0, b.left(b.y1)), g.box.Min.X), Y: max(b.y0, g.box.Min.Y)},
			Max: geom.Point{X: min(max(b.r0, b.right(b.y1)), g.box.Max.X), Y: min(b.y1, g.box.Max.Y)},
		}
		if box.Width() > 0 && box.Height() > 0 {
			g.outside = append(g.outside, box)
		}
	}
	return g
}

// back is the ring run the other way: what was solid is free.
func back(r geom.Ring) geom.Ring {
	out := make(geom.Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

// spare is by how much a box fits inside the margin, in mm; below zero it does not fit.
func (g *ground) spare(box geom.Rect) float64 {
	return min(g.inner.Width()-box.Width(), g.inner.Height()-box.Height())
}
