package drawing

import (
	"math"

	"foamwright/materials/geom"
)

// thinned is a chain with only as many of its places as it needs to stay within tol mm of itself (Douglas and
// Peucker's way, from memory). A closed one starts at the place furthest from its first.
func thinned(points []geom.Point, tol float64, closed bool) []geom.Point {
	if len(points) < 4 {
		return points
	}
	if closed {
		far := furthest(points, func(p geom.Point) float64 { return distance(points[0], p) })
		ring := append(points[far:len(points):len(points)], points[:far+1]...)
		half := len(points) - far // where the first place is now
		return append(halves(nil, ring[:half+1], tol), halves(nil, ring[half:], tol)...)
	}
	return append(halves(nil, points, tol), points[len(points)-1])
}

// halves appends the kept places of a chain but its last.
func halves(kept, chain []geom.Point, tol float64) []geom.Point {
	a, b := chain[0], chain[len(chain)-1]
	far := furthest(chain, func(p geom.Point) float64 { return offLine(p, a, b) })
	if len(chain) < 3 || offLine(chain[far], a, b) <= tol {
		return append(kept, a)
	}
	return halves(halves(kept, chain[:far+1], tol), chain[far:], tol)
}

func furthest(points []geom.Point, far func(geom.Point) float64) int {
	best, at := -1.0, 0
	for i, p := range points {
		if d := far(p); d > best {
			best, at = d, i
		}
	}
	return at
}

// offLine is how far a place is from the stretch between two.
func offLine(p, a, b geom.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if square := dx*dx + dy*dy; square > 0 {
		t = math.Min(1, math.Max(0, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/square))
	}
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}
