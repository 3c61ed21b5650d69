package cutplan

import (
	"math"
	"slices"
)

// mostHeights bounds the heights tried for one form on a crowded sheet.
const mostHeights = 200

// heights lists the heights worth trying for a form: at the edges, level with and just past every place
// where a neighbour's outline turns back, in the middle of holes, and a few between.
func (s *slider) heights(b *board, f *form) []float64 {
	lo, hi := b.g.inner.Min.Y-f.box.Min.Y, b.g.inner.Max.Y-f.box.Max.Y
	ys := s.ys[:0]
	if hi < lo-eps || f.box.Width() > b.g.inner.Width()+eps {
		return ys
	}
	hi = max(lo, hi)
	add := func(y float64) {
		if y >= lo && y <= hi {
			ys = append(ys, y)
		}
	}
	add(lo)
	add(hi)
	for i := len(b.items) - 1; i >= 0 && len(ys) < mostHeights; i-- { // the latest lie at the front
		it := &b.items[i]
		for _, level := range it.form.levels {
			add(it.y + level - f.fat.Min.Y)
			add(it.y + level - f.fat.Max.Y)
		}
		for _, m := range it.form.middles {
			add(it.y + m - (f.fat.Min.Y+f.fat.Max.Y)/2)
		}
	}
	for _, level := range b.g.levels {
		add(level - f.box.Min.Y)
		add(level - f.box.Max.Y)
	}
	if !f.square || b.g.frame != nil {
		for k := 1.0; k < 6; k++ {
			add(lo + (hi-lo)*k/6)
		}
	}
	slices.Sort(ys)
	s.ys = slices.CompactFunc(ys, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
	return s.ys
}

// place finds the place on a sheet that reaches least far to the right, of these the one highest up.
func (s *slider) place(b *board, forms []*form, lean float64) (best *form, x, y float64) {
	reach := math.Inf(1)
	try := func(f *form, at float64) bool {
		down := lean * (at + f.box.Max.Y)
		to, ok := s.leftmost(b, f, at, reach-down)
		if !ok || to+f.box.Max.X+down > reach-1e-6 && best != nil {
			return false
		}
		best, x, y, reach = f, to, at, to+f.box.Max.X+down
		return true
	}
	for _, f := range forms {
		for _, at := range s.heights(b, f) {
			try(f, at)
		}
	}
	if best == nil || best.square && b.g.frame == nil {
		return best, x, y
	}
	f, lo, hi := best, b.g.inner.Min.Y-best.box.Min.Y, b.g.inner.Max.Y-best.box.Max.Y
	for d := f.box.Height() / 8; d > tolerance; d /= 2 { // nestle: a better height near the best
		for _, at := range []float64{y - d, y + d} {
			if at >= lo && at <= hi {
				try(f, at)
			}
		}
	}
	return best, x, y
}
