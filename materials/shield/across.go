package shield

import (
	"slices"

	"foamwright/materials/geom"
)

// across is the length of one upright (or level) line inside a region, mm.
func across(r geom.Region, at float64, level bool) float64 {
	var hits []float64
	for _, s := range r {
		for _, ring := range append([]geom.Ring{s.Outer}, s.Holes...) {
			for i, p := range ring {
				q := ring[(i+1)%len(ring)]
				if level {
					p, q = geom.Point{X: p.Y, Y: p.X}, geom.Point{X: q.Y, Y: q.X}
				}
				if (p.X <= at) != (q.X <= at) {
					hits = append(hits, p.Y+(q.Y-p.Y)*(at-p.X)/(q.X-p.X))
				}
			}
		}
	}
	slices.Sort(hits)
	sum := 0.0
	for i := 0; i+1 < len(hits); i += 2 {
		sum += hits[i+1] - hits[i]
	}
	return sum
}
