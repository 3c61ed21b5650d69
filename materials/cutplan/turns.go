package cutplan

import (
	"math"

	"foamwright/materials/geom"
)

// turns are those tried for a piece that may turn freely: the turn with the smallest box and its quarter
// turns, or, when none of these fits a sheet, the slanting turn that fits with most to spare.
func (b body) turns(sheets []*ground) []float64 {
	box := func(turn float64, r geom.Ring) geom.Rect { return Pose{Turn: turn}.box(r) }
	size := func(turn float64) float64 {
		x := box(turn, b.near[0])
		return x.Width() * x.Height()
	}
	best, least := 0.0, size(0)*0.999
	for i := range b.near[0] {
		s := step(b.near[0], i)
		if t := -math.Atan2(s.Y, s.X) * 180 / math.Pi; size(t) < least {
			best, least = t, size(t)
		}
	}
	quarters := []float64{best, best + 90, best + 180, best + 270}
	for _, g := range sheets {
		if box := box(best, b.outline[0]); g.spare(box) >= -eps || g.spare(geom.Rect{Max: geom.Point{X: box.Height(), Y: box.Width()}}) >= -eps {
			return quarters
		}
	}
	room, slant := math.Inf(-1), 0.0
	for _, g := range sheets {
		if r, t := geom.FitsRectangle(b.outline[0], g.inner.Width(), g.inner.Height()); r > room {
			room, slant = r, t
		}
	}
	if room < -eps {
		return quarters
	}
	return []float64{slant, slant + 180}
}

// twin tells whether two forms of a piece lie alike, up to a shift: nothing is lost by trying one of them.
func (f *form) twin(o *form) bool {
	if math.Abs(f.box.Width()-o.box.Width()) > tolerance || math.Abs(f.box.Height()-o.box.Height()) > tolerance {
		return false
	}
	dx, dy := o.box.Min.X-f.box.Min.X, o.box.Min.Y-f.box.Min.Y
	for i, r := range f.near {
		if !along(r, o.near[i], dx, dy) {
			return false
		}
	}
	return true
}

// along tells whether every corner of r, shifted, lies on the outline of o within twice the tolerance. It
// looks on from where the last corner was found, so that twins of many corners are soon known.
func along(r, o geom.Ring, dx, dy float64) bool {
	at := 0
	for _, p := range r {
		p.X, p.Y = p.X+dx, p.Y+dy
		end := at + len(o)
		for ; at < end && apart2(p, o[at%len(o)], step(o, at)) > 4*tolerance*tolerance; at++ {
		}
		if at == end {
			return false
		}
		at %= len(o)
	}
	return true
}

// apart2 is the square of the distance of p from the edge that leaves a by u.
func apart2(p, a, u geom.Point) float64 {
	x, y := p.X-a.X, p.Y-a.Y
	t := min(1, max(0, (x*u.X+y*u.Y)/(u.X*u.X+u.Y*u.Y)))
	x, y = x-t*u.X, y-t*u.Y
	return x*x + y*y
}
