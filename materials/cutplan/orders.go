package cutplan

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// byWeight orders the sheets by weight per measure; on a par, offcuts and larger sheets come first.
func (j Job) byWeight(measure func(i int) float64) []int {
	order := make([]int, len(j.Sheets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		worth := func(i int) float64 { return float64(j.Sheets[i].Weight) / measure(i) }
		return cmp.Or(cmp.Compare(worth(a), worth(b)), cmp.Compare(rank(j.Sheets[a].Offcut), rank(j.Sheets[b].Offcut)), cmp.Compare(measure(b), measure(a)))
	})
	return order
}

// plain lists the orders a maker would try: large pieces first, by one measure or another.
func (d *decoder) plain() []sequence {
	if d.plains == nil {
		d.plains = d.bySize()
	}
	return d.plains
}

func (d *decoder) bySize() []sequence {
	var units []unit
	for i, p := range d.job.Pieces {
		for c := 0; p.On == nil && c < p.Count; c++ {
			units = append(units, unit{i, c})
		}
	}
	boxes := make([]struct{ w, h float64 }, len(d.job.Pieces))
	for i := range boxes {
		b := d.bodies[i].near[0].Bounds()
		boxes[i].w, boxes[i].h = b.Width(), b.Height()
	}
	measures := []func(i int) float64{
		func(i int) float64 { return boxes[i].w * boxes[i].h },
		func(i int) float64 { return max(boxes[i].w, boxes[i].h) },
		func(i int) float64 { return min(boxes[i].w, boxes[i].h) },
		func(i int) float64 { return d.areas[i] },
		func(i int) float64 { return boxes[i].w + boxes[i].h },
	}
	var out []sequence
	for _, m := range measures {
		order := slices.Clone(units)
		slices.SortStableFunc(order, func(a, b unit) int { return cmp.Compare(m(b.piece), m(a.piece)) })
		for _, swapped := range []bool{false, true} {
			out = append(out, sequence{order: order, swapped: swapped, byArea: true})
			if len(d.job.Sheets) > 1 {
				out = append(out, sequence{order: order, swapped: swapped})
			}
		}
	}
	return out
}

// change is the sequence of a layout with a few pieces moved in the order, any two exchanged or one brought
// forward; now and then with those of one sheet put first, or with another way of laying.
func (d *decoder) change(l *layout, rng *rand.Rand) sequence {
	q := l.sequence
	q.order = slices.Clone(q.order)
	n := len(q.order)
	switch rng.IntN(10) {
	case 0:
		q.swapped = !q.swapped
	case 1:
		q.byArea = !q.byArea
	case 2:
		q.lean = []float64{0, 0.1, 0.3, 1}[rng.IntN(4)]
	case 3:
		first := map[unit]bool{}
		for _, it := range l.boards[rng.IntN(len(l.boards))].items {
			first[unit{it.form.piece, it.copy}] = true
		}
		slices.SortStableFunc(q.order, func(a, b unit) int {
			return cmp.Compare(rank(first[a]), rank(first[b]))
		})
	}
	for range 1 + rng.IntN(3) {
		a, b := rng.IntN(n), rng.IntN(n)
		if rng.IntN(2) == 0 {
			q.order[a], q.order[b] = q.order[b], q.order[a]
			continue
		}
		a, b = max(a, b), min(a, b)
		u := q.order[a]
		copy(q.order[b+1:a+1], q.order[b:a])
		q.order[b] = u
	}
	return q
}

// rank puts what is preferred first.
func rank(first bool) int {
	if first {
		return 0
	}
	return 1
}
