package drawing

import (
	"math"
	"sort"

	"foamwright/materials/geom"
)

// walk goes round a ring by length.
type walk struct {
	ring   geom.Ring
	sums   []float64 // length up to each vertex
	length float64
}

func newWalk(ring geom.Ring) walk {
	w := walk{ring: ring, sums: make([]float64, len(ring))}
	for i := range ring {
		w.sums[i] = w.length
		w.length += distance(ring[i], ring[(i+1)%len(ring)])
	}
	return w
}

// at is the place so many mm from the ring's first vertex, any number of times round.
func (w walk) at(d float64) geom.Point {
	if d = math.Mod(d, w.length); d < 0 {
		d += w.length
	}
	i := sort.SearchFloat64s(w.sums, d)
	if i == len(w.sums) || w.sums[i] > d {
		i--
	}
	p, q := w.ring[i], w.ring[(i+1)%len(w.ring)]
	if step := distance(p, q); step > 0 {
		return toward(p, q, d-w.sums[i])
	}
	return p
}

// top is how far the highest place on the line x = 0 is from the first vertex; 0 when the ring does not meet it.
func (w walk) top() float64 {
	best, at := math.Inf(1), 0.0
	for i, p := range w.ring {
		q := w.ring[(i+1)%len(w.ring)]
		if (p.X <= 0) == (q.X <= 0) {
			continue
		}
		t := p.X / (p.X - q.X)
		if y := p.Y + (q.Y-p.Y)*t; y < best {
			best, at = y, w.sums[i]+distance(p, q)*t
		}
	}
	return at
}

// spans are the stretches of an upright line that lie in a region, as pairs of heights from the top.
func spans(r geom.Region, x float64) [][2]float64 {
	var hits []float64
	for _, s := range r {
		for _, ring := range append([]geom.Ring{s.Outer}, s.Holes...) {
			for i, p := range ring {
				if q := ring[(i+1)%len(ring)]; (p.X <= x) != (q.X <= x) {
					hits = append(hits, p.Y+(q.Y-p.Y)*(x-p.X)/(q.X-p.X))
				}
			}
		}
	}
	sort.Float64s(hits)
	var out [][2]float64
	for i := 0; i+1 < len(hits); i += 2 {
		out = append(out, [2]float64{hits[i], hits[i+1]})
	}
	return out
}

// between is the part of a ring from x = low to x = high (Sutherland and Hodgman's clipping, from memory): good
// for filling, since where it falls apart the parts hang together by lines without a width.
func between(ring geom.Ring, low, high float64) geom.Ring {
	for _, side := range [2][2]float64{{low, 1}, {high, -1}} {
		at, way := side[0], side[1]
		var kept geom.Ring
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			if (p.X-at)*way >= 0 {
				kept = append(kept, p)
			}
			if (p.X-at)*(q.X-at) < 0 {
				kept = append(kept, geom.Point{X: at, Y: p.Y + (q.Y-p.Y)*(at-p.X)/(q.X-p.X)})
			}
		}
		ring = kept
	}
	return ring
}
