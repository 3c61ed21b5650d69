package cutplan

import "math"

// target is a set of sheets that costs less than that of the best plan: one sheet left out and, maybe, one of
// a cheaper kind in its place.
type target struct {
	without int // index into the plan's sheets
	instead int // index into Job.Sheets; −1 for none
}

// aim picks the target tried least, of these the one that leaves least to be moved.
func (p *improver) aim() (best target, ok bool) {
	plan := p.from()
	used, area := make([]int, len(p.job.Sheets)), 0.0
	for _, o := range plan.Sheets {
		used[o.Sheet]++
		area += p.needs.usable[o.Sheet]
	}
	fill, seat := make([]float64, len(plan.Sheets)), make([]bool, len(plan.Sheets))
	for _, a := range plan.Placements {
		fill[a.Sheet] += p.needs.areas[a.Piece]
		seat[a.Sheet] = seat[a.Sheet] || p.job.Pieces[a.Piece].On != nil
	}
	fewest, least := math.MaxInt, math.Inf(1)
	for i, o := range plan.Sheets {
		for kind := -1; kind < len(p.job.Sheets) && !seat[i]; kind++ {
			left, move := area-p.needs.usable[o.Sheet], fill[i]
			if kind < 0 && p.job.Sheets[o.Sheet].Weight == 0 {
				continue
			}
			if kind >= 0 {
				s := p.job.Sheets[kind]
				if s.Weight >= p.job.Sheets[o.Sheet].Weight || s.Limit > 0 && used[kind] == s.Limit {
					continue
				}
				left, move = left+p.needs.usable[kind], max(0, fill[i]-p.needs.usable[kind])
			}
			t := target{i, kind}
			if n := p.tries[t]; left >= p.needs.total && (n < fewest || n == fewest && move < least) {
				best, ok, fewest, least = t, true, n, move
			}
		}
	}
	return best, ok
}

// empty tries to do with cheaper sheets: the pieces of one go to the others wherever they overlap least, and
// all are pulled apart.
func (p *improver) empty() {
	t, ok := p.aim()
	if !ok {
		return
	}
	p.tries[t]++
	p.load(p.from(), t.without)
	if t.instead >= 0 {
		p.trays = append(p.trays, tray{kind: t.instead, inner: p.grounds[t.instead].inner})
	}
	if p.place(p.effort) {
		p.take()
	}
	p.harder()
}
