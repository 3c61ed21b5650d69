package cutplan

import (
	"cmp"
	"slices"

	"foamwright/materials/geom"
)

// edge of a ring that is not level.
type edge struct {
	y0, y1, x0, k float64
	turn          int // what crossing it from left to right adds to the winding number
}

func (e *edge) at(y float64) float64 { return e.x0 + (y-e.y0)*e.k }

// sides are the edges that are not level, by their upper end, each end at one of the heights.
func sides(rings []geom.Ring, heights []float64) []edge {
	at := func(y float64) float64 {
		i, found := slices.BinarySearch(heights, y)
		if !found {
			i--
		}
		return heights[i]
	}
	var out []edge
	for _, r := range rings {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			e := edge{y0: at(p.Y), y1: at(q.Y), x0: p.X, turn: -1}
			if e.y0 == e.y1 {
				continue
			}
			e.k = (q.X - p.X) / (e.y1 - e.y0)
			if e.y0 > e.y1 {
				e.y0, e.y1, e.x0, e.turn = e.y1, e.y0, q.X, +1
			}
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(a, b edge) int { return cmp.Compare(a.y0, b.y0) })
	return out
}
