package cutplan

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"foamwright/materials/geom"
)

// improver betters the plan of a search by separation.
type improver struct {
	*separator
	s      *search
	needs  bound
	effort float64        // of the next try, looks
	tries  map[target]int // how often a target was not reached with the sheets of the best plan
	steps  [2]float64     // by how much of its used width or height the next tidying shrinks the last sheet
	turns  int            // tidyings done
	base   Plan           // see from
}

func (k *stock) improver(s *search) *improver {
	p := &improver{separator: k.separator(rand.New(rand.NewPCG(s.Seed, 1))), s: s, needs: k.bound(), tries: map[target]int{}}
	p.steps = [2]float64{widest, widest}
	p.effort = firstEffort * float64(len(k.units))
	p.stop = s.over
	return p
}

// firstEffort is how many looks a unit the first try to empty a sheet may take; each try after it may take growth
// times as many.
const firstEffort, mostEffort, growth = 1_500, 25_000, 1.3

func (p *improver) harder() {
	p.effort = min(p.effort*growth, mostEffort*float64(len(p.units)))
}

// load lays a plan out, less one sheet (−1 for none), whose units then lie nowhere.
func (p *improver) load(plan Plan, without int) {
	for u := range p.at {
		p.lift(u)
	}
	p.even()
	p.trays = p.trays[:0]
	to := make([]int, len(plan.Sheets))
	for i, o := range plan.Sheets {
		to[i] = -1
		if i != without {
			to[i] = len(p.trays)
			p.trays = append(p.trays, tray{kind: o.Sheet, inner: p.grounds[o.Sheet].inner})
		}
	}
	where := make(map[unit]Placement, len(plan.Placements))
	for _, a := range plan.Placements {
		where[unit{a.Piece, a.Copy}] = a
	}
	for u, x := range p.units {
		a, ok := where[x]
		if !ok || to[a.Sheet] < 0 {
			continue
		}
		if l := p.lying(a); l != nil && (u < p.seated || p.inside(to[a.Sheet], l, a.At)) {
			p.put(u, to[a.Sheet], l, a.At)
		}
	}
}

// inside tells whether a lie keeps within the box of a sheet less its margin.
func (p *improver) inside(tray int, l *lie, at geom.Point) bool {
	room, ok := l.room(p.trays[tray].inner)
	return ok && at.X >= room.Min.X-eps && at.X <= room.Max.X+eps && at.Y >= room.Min.Y-eps && at.Y <= room.Max.Y+eps
}

// lying finds the lie of a placement.
func (p *improver) lying(a Placement) *lie {
	for _, l := range p.lies[a.Piece] {
		if sameTurn(l.pose.Turn, a.Turn) && l.pose.Mirrored == a.Mirrored {
			return l
		}
	}
	return nil
}

// place inserts what lies nowhere and separates.
func (p *improver) place(effort float64) bool {
	for u := range p.at {
		if p.at[u].sheet < 0 && !p.insert(u) {
			return false
		}
	}
	return p.separate(effort)
}

// take offers the separated layout to the search.
func (p *improver) take() bool {
	if !p.s.take(p.layout()) {
		return false
	}
	clear(p.tries)
	p.base = Plan{}
	return true
}

// layout is the plan of what lies, without the sheets on which nothing does, the one with the largest remnant last.
func (p *improver) layout() Plan {
	var out Plan
	boxes := [][]geom.Rect{}
	for _, t := range p.lastly() {
		if len(t.units) == 0 {
			continue
		}
		var on []geom.Rect
		for _, u := range t.units {
			s := &p.at[u]
			pose := s.lie.pose
			pose.At = s.at
			out.Placements = append(out.Placements, Placement{Piece: p.units[u].piece, Copy: p.units[u].copy, Sheet: len(out.Sheets), Pose: pose})
			b := s.lie.box
			on = append(on, geom.Rect{Min: geom.Point{X: b.Min.X + s.at.X, Y: b.Min.Y + s.at.Y}, Max: geom.Point{X: b.Max.X + s.at.X, Y: b.Max.Y + s.at.Y}})
		}
		out.Sheets = append(out.Sheets, Opened{Sheet: t.kind})
		boxes = append(boxes, on)
	}
	slices.SortStableFunc(out.Placements, func(a, b Placement) int {
		return cmp.Or(cmp.Compare(a.Piece, b.Piece), cmp.Compare(a.Copy, b.Copy))
	})
	out.Offcuts, _ = p.job.remnants(p.grounds, out.Sheets, boxes)
	return out
}
