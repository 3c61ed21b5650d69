package cutplan

import (
	"math"
	"slices"

	"foamwright/materials/geom"
)

// widest and finest are how much of the used width or height a tidying takes off, from the first to the last
// before it begins anew.
const widest, finest = 0.08, 0.002

// tidy shrinks the part of the last sheet that may be used, so that more of it is left over its full width or
// height, and pulls apart what then overlaps.
func (p *improver) tidy() {
	p.load(p.s.plan, -1)
	t := &p.trays[len(p.trays)-1]
	reach := p.reach(t)
	box := p.grounds[t.kind].box
	p.turns++
	axis := p.turns & 1
	if !p.credited() { // the larger remnant counts most
		down := (box.Max.Y-reach.Y)*box.Width() > (box.Max.X-reach.X)*box.Height()
		if axis = 0; down == (p.turns%4 != 0) && !p.job.Sheets[t.kind].Roll {
			axis = 1
		}
	}
	cut := p.steps[axis] * (reach.X - t.inner.Min.X)
	if axis == 1 {
		cut = p.steps[axis] * (reach.Y - t.inner.Min.Y)
	}
	if axis == 0 {
		t.inner.Max.X = reach.X - cut - 2*eps
	} else {
		t.inner.Max.Y = reach.Y - cut - 2*eps
	}
	for _, u := range slices.Clone(t.units) {
		s := p.at[u]
		if s.at.X+s.lie.box.Max.X > t.inner.Max.X+eps || s.at.Y+s.lie.box.Max.Y > t.inner.Max.Y+eps {
			if u < p.seated {
				return // a panel reaches that far
			}
			p.lift(u)
		}
	}
	if p.place(p.effort) && p.take() {
		return
	}
	if p.steps[axis] *= 0.7; p.steps[axis] < finest {
		p.steps[axis] = widest
		p.harder()
	}
}

// reach is how far what lies on a sheet reaches, right and down.
func (p *improver) reach(t *tray) geom.Point {
	r := geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, u := range t.units {
		s := &p.at[u]
		r.X, r.Y = max(r.X, s.at.X+s.lie.box.Max.X), max(r.Y, s.at.Y+s.lie.box.Max.Y)
	}
	return r
}

// lastly are the sheets something lies on, the one of which most is left put last.
func (p *improver) lastly() []tray {
	var out []tray
	var most, spare float64
	last := -1
	for _, t := range p.trays {
		if len(t.units) == 0 {
			continue
		}
		box, r := p.grounds[t.kind].box, p.reach(&t)
		left := max((box.Max.X-r.X)*box.Height(), (box.Max.Y-r.Y)*box.Width())
		rest := box.Width()*box.Height() - (r.X-box.Min.X)*(r.Y-box.Min.Y)
		if last < 0 || left > most+1 || left > most-1 && rest > spare {
			most, spare, last = left, rest, len(out)
		}
		out = append(out, t)
	}
	if last >= 0 {
		out = append(append(out[:last:last], out[last+1:]...), out[last])
	}
	return out
}

// credited tells whether kept offcuts lower the cost.
func (p *improver) credited() bool { return p.job.CreditShare > 0 && p.job.Keep != KeepRule{} }
