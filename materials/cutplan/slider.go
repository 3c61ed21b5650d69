package cutplan

import (
	"slices"

	"foamwright/materials/geom"
)

// item is a form lying on a sheet.
type item struct {
	form *form
	copy int
	x, y float64
	fat  geom.Rect // the swollen box as it lies
}

// board is one opened sheet with what lies on it.
type board struct {
	kind  int
	g     *ground
	items []item
	free  float64 // mm²
	full  []bool  // by piece: no place was found, and none will be, since a sheet only fills
}

func (b *board) put(f *form, copy int, x, y, area float64) {
	b.free -= area
	b.items = append(b.items, item{f, copy, x, y, geom.Rect{
		Min: geom.Point{X: x + f.fat.Min.X, Y: y + f.fat.Min.Y},
		Max: geom.Point{X: x + f.fat.Max.X, Y: y + f.fat.Max.Y},
	}})
}

// slider finds places in a field.
type slider struct {
	*field
	frames []span
	found  []span
	ys     []float64
	evals  int
}

// leftmost slides a form at a height from the left edge to the first place where it overlaps nothing; false
// when its right side would go beyond limit.
func (s *slider) leftmost(b *board, f *form, y, limit float64) (float64, bool) {
	s.evals++
	x, last := b.g.inner.Min.X-f.box.Min.X, min(b.g.inner.Max.X, limit)-f.box.Max.X
	top, bottom := y+f.fat.Min.Y, y+f.fat.Max.Y
	for again := true; again; {
		if again = false; x > last+eps {
			return 0, false
		}
		for i := range b.items {
			it := &b.items[i]
			if bottom <= it.fat.Min.Y+eps || top >= it.fat.Max.Y-eps ||
				x+f.fat.Max.X <= it.fat.Min.X+eps || x+f.fat.Min.X >= it.fat.Max.X-eps {
				continue
			}
			if next := s.clear(it, f, x, y); next > x+eps/2 { // less is rounding, and would creep on for ever
				if x, again = next, true; x > last+eps {
					return 0, false
				}
			}
		}
		if b.g.frame != nil {
			s.frames = kept(s.frames[:0], b.g.frame, f.bare(), y)
			if next := past(s.frames, x); next > x+eps/2 {
				x, again = next, true
			}
		}
	}
	return x, true
}

// clear is the first place at or after x where the form at height y is clear of one item.
func (s *slider) clear(it *item, f *form, x, y float64) float64 {
	if it.form.hull == nil || f.hull == nil {
		return past(s.hollow(it.form, f, y-it.y), x-it.x) + it.x
	}
	key := [2]int{it.form.id, f.id}
	k := s.outs[key]
	if k == nil {
		k = difference(it.form.hull, f.hull)
		s.hold(100 + 40*len(k.left.y) + 40*len(k.right.y))
		s.outs[key] = k
	}
	if lo, hi, ok := k.span(y - it.y); ok && x > it.x+lo+eps && x < it.x+hi-eps {
		return it.x + hi
	}
	return x
}

// pairing is two forms by their ids and how much higher the moving one lies.
type pairing struct {
	standing, moving int
	dy               float64
}

// mostMet bounds what a field remembers of how its forms meet, in bytes; when it is more all is forgotten.
const mostMet = 32 << 20

func (f *field) hold(bytes int) {
	if f.held += bytes; f.held > mostMet {
		clear(f.outs)
		clear(f.spans)
		f.held = bytes
	}
}

// hollow is where a form may not be shifted to against another, one of them not convex. It takes long, so it
// is remembered, and counts as more than one evaluation when it is not.
func (s *slider) hollow(standing, moving *form, dy float64) []span {
	key := pairing{standing.id, moving.id, dy}
	spans, ok := s.spans[key]
	if !ok {
		a, b := standing.solid(), moving.solid()
		s.evals += (len(a) + len(b)) / 16
		s.found = kept(s.found[:0], a, b, dy)
		spans = slices.Clone(s.found)
		s.hold(100 + 16*len(spans))
		s.spans[key] = spans
	}
	return spans
}
