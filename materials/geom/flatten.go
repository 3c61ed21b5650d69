package geom

import (
	"math"
	"slices"
)

// endStep is how many times shorter than the others the first and last step of a curve is where it is Fine, so that
// the chain leaves a corner as the curve does: a mitred offset draws the direction there out far beyond the corner,
// where 45 mm of a step of usual length would be 0.2 mm off.
const endStep = 64

// Polylines are the subpaths as chains of places on the curve, chords within tol mm of it (0.0001 at least),
// open ones left open, closed ones ending where they start. The steps of a segment are the same from either end,
// so what mirrors in the path mirrors in the chain.
func (p Path) Polylines(tol float64) [][]Point {
	tol = max(tol, 1e-4)
	chains := make([][]Point, len(p))
	for i, s := range p {
		from, _ := s.Ends()
		chain := []Point{from}
		for _, g := range s.Segments {
			n := g.chords(tol)
			chain = slices.Grow(chain, n+2)
			step := func(k, n int) {
				if q := g.at(k, n); q != chain[len(chain)-1] {
					chain = append(chain, q)
				}
			}
			ends := n > 1 && tol <= Fine
			if ends {
				step(1, endStep*n)
			}
			for k := 1; k < n; k++ {
				step(k, n)
			}
			if ends {
				step(endStep*n-1, endStep*n)
			}
			step(n, n)
		}
		chains[i] = chain
	}
	return chains
}

// points is how many places Polylines would make, without making them.
func (p Path) points(tol float64) int {
	sum := 0
	for _, s := range p {
		for _, g := range s.Segments {
			sum += g.chords(tol) + 2
		}
	}
	return sum
}

// rings are the polylines closed, one for each subpath.
func (p Path) rings(tol float64) []Ring {
	rings := make([]Ring, len(p))
	for i, c := range p.Polylines(tol) {
		if last := len(c) - 1; last > 0 && c[0] == c[last] {
			c = c[:last]
		}
		rings[i] = c
	}
	return rings
}

// Flatten is the path filled by the even-odd rule, as polygons with chords within tol mm of the curve: 0.001
// (Fine) for offsets and the enclosing circle, 0.05 for drawings and cut plans. Open subpaths are closed by
// a straight line; what encloses nothing is left out. The path must have passed Check.
func (p Path) Flatten(tol float64) Region { return regionOf(p.rings(tol)) }

// regionOf makes shapes of rings that do not cross: a ring within an odd number of others is a hole of the
// closest around it.
func regionOf(rings []Ring) Region {
	depth, parent := nest(rings)
	shapeOf := make([]int, len(rings))
	var region Region
	for i, r := range rings {
		if depth[i]%2 == 0 && r.Area() != 0 {
			shapeOf[i] = len(region)
			region = append(region, Shape{Outer: r.running(1)})
		}
	}
	for i, r := range rings {
		if depth[i]%2 == 1 && r.Area() != 0 {
			s := &region[shapeOf[parent[i]]]
			s.Holes = append(s.Holes, r.running(-1))
		}
	}
	return region
}

// nest tells for each ring how many others it lies in and which of them is the closest around it, or -1.
func nest(rings []Ring) (depth, parent []int) {
	depth, parent = make([]int, len(rings)), make([]int, len(rings))
	boxes, areas := make([]Rect, len(rings)), make([]float64, len(rings))
	for i, r := range rings {
		boxes[i], areas[i] = r.Bounds(), math.Abs(r.Area())
	}
	for i, r := range rings {
		parent[i] = -1
		for j, s := range rings {
			// Rings that do not cross lie within each other with every vertex or with none.
			if i == j || areas[j] <= areas[i] || !boxes[j].holds(r[0]) || !s.contains(r[0]) {
				continue
			}
			depth[i]++
			if parent[i] < 0 || areas[j] < areas[parent[i]] {
				parent[i] = j
			}
		}
	}
	return depth, parent
}
