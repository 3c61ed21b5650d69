package cutplan

import (
	"math"

	"foamwright/materials/geom"
)

// mostCorners is how many corners a ring keeps for laying out: enough for any part of a shield, and a bound
// on what a drawing of thousands of corners may cost.
const mostCorners = 64

// simplify takes corners off a ring (solid on the left), only ever outwards: a hollow corner is bridged, a
// short edge between two proud corners is replaced by its neighbours drawn on until they meet. Each step adds
// one triangle that runs the ring's own way round, so the winding number falls nowhere and cut of the result
// covers the piece, even where it overlaps itself. Steps are up to tol deep; where that leaves too many
// corners, deeper hollows are bridged, the shallowest first, and edges drawn on up to four times tol.
func simplify(r geom.Ring, tol float64) geom.Ring {
	for t := tol / 8; ; t *= 2 {
		for {
			next := thin(r, t, min(t, 4*tol))
			if len(next) == len(r) {
				break
			}
			r = next
		}
		if t >= tol && len(r) <= mostCorners || t > 2*farthest {
			return r
		}
	}
}

// thin is one walk round the ring, bridging and drawing on up to so deep; corners beside one just changed wait for the next walk.
func thin(r geom.Ring, bridge, draw float64) geom.Ring {
	n := len(r)
	out := make(geom.Ring, 0, n)
	for i := 0; i < n; i++ {
		left := n - i + len(out) // corners there would be if the rest stayed
		if left <= 4 || i == 0 || i+2 >= n {
			out = append(out, r[i])
			continue
		}
		p0, p1, p2, p3 := r[i-1], r[i], r[i+1], r[i+2]
		if out[len(out)-1] != p0 {
			out = append(out, p1)
			continue
		}
		base := math.Hypot(p2.X-p0.X, p2.Y-p0.Y)
		if turn := cross(p0, p1, p2); turn <= 1e-12 && base > 0 {
			if -turn/base <= bridge && ahead(p0, p1, p2) {
				out = append(out, p2)
				i++
				continue
			}
		} else if x, height, ok := meet(p0, p1, p2, p3); ok && height <= draw {
			out = append(out, x)
			i++
			continue
		}
		out = append(out, p1)
	}
	return out
}

// ahead tells whether p1 lies between p0 and p2 rather than on a spike beyond them.
func ahead(p0, p1, p2 geom.Point) bool {
	return (p1.X-p0.X)*(p2.X-p0.X)+(p1.Y-p0.Y)*(p2.Y-p0.Y) >= 0 && (p1.X-p2.X)*(p0.X-p2.X)+(p1.Y-p2.Y)*(p0.Y-p2.Y) >= 0
}

// meet draws p0p1 and p3p2 on until they meet beyond the edge p1p2, and says how far beyond.
func meet(p0, p1, p2, p3 geom.Point) (x geom.Point, height float64, ok bool) {
	if cross(p0, p1, p2) <= 0 || cross(p1, p2, p3) <= 0 {
		return x, 0, false
	}
	ux, uy, vx, vy := p1.X-p0.X, p1.Y-p0.Y, p3.X-p2.X, p3.Y-p2.Y
	d := ux*vy - uy*vx
	if d <= 1e-9*math.Hypot(ux, uy)*math.Hypot(vx, vy) { // together they turn half round or more
		return x, 0, false
	}
	t := ((p2.X-p1.X)*vy - (p2.Y-p1.Y)*vx) / d
	x = geom.Point{X: p1.X + t*ux, Y: p1.Y + t*uy}
	return x, -cross(p1, p2, x) / math.Hypot(p2.X-p1.X, p2.Y-p1.Y), true
}

// cross is twice the signed area of a triangle.
func cross(a, b, c geom.Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// swell moves a ring (solid on the left) outwards by d: every edge becomes a strip of width d, every proud
// corner a fan that covers the arc, and all of them run the ring's way round. The winding number is that of
// the ring plus one for each strip or fan, so cut of the result is the piece with all that is within d of
// it, and at corners up to a sixth of d more (up to 0.41 d at corners up to a right one).
func swell(r geom.Ring, d float64) geom.Ring {
	if d <= 0 {
		return r
	}
	n := len(r)
	normals := make([]geom.Point, n) // of the edge that leaves each corner, away from the solid
	for i, p := range r {
		q := r[(i+1)%n]
		l := math.Hypot(q.X-p.X, q.Y-p.Y)
		normals[i] = geom.Point{X: (q.Y - p.Y) / l, Y: (p.X - q.X) / l}
	}
	out := make(geom.Ring, 0, n+8)
	for i, p := range r {
		a, b := normals[(i+n-1)%n], normals[i]
		sin, cos := a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y
		angle := math.Atan2(sin, cos)
		if angle < -3 { // a spike's tip folds right back: go round it
			angle += 2 * math.Pi
		}
		if angle < 0 {
			out = append(out, hollow(r, i, a, b, d)...)
			continue
		}
		parts := 1
		if angle > math.Pi/2+1e-9 {
			parts = int(math.Ceil(angle / (math.Pi / 3)))
		}
		if e, ok := between(a, b); ok && parts == 1 { // the box grows by d and no more
			out = append(out, mitre(p, a, e, d), mitre(p, e, b, d))
			continue
		}
		step := angle / float64(parts)
		reach := d / math.Cos(step/2)
		for k := range parts {
			s, c := math.Sincos(step * (float64(k) + 0.5))
			out = append(out, geom.Point{X: p.X + reach*(a.X*c-a.Y*s), Y: p.Y + reach*(a.X*s+a.Y*c)})
		}
	}
	return out
}

// hollow is the corner of the moved outline at a hollow corner: back through the corner itself. Where the
// turn is under a right one and both edges are long enough it is where the moved edges meet: what that takes
// off the winding number lies within both strips, so one of them still covers it.
func hollow(r geom.Ring, i int, a, b geom.Point, d float64) []geom.Point {
	n, p := len(r), r[i]
	before, after := r[(i+n-1)%n], r[(i+1)%n]
	cos := a.X*b.X + a.Y*b.Y
	back := d * math.Sqrt(max(0, 1-cos)/max(1e-12, 1+cos)) // d × tan of half the turn
	if cos > 0 && 2*back <= min(math.Hypot(p.X-before.X, p.Y-before.Y), math.Hypot(after.X-p.X, after.Y-p.Y)) {
		f := d / (1 + cos)
		return []geom.Point{{X: p.X + f*(a.X+b.X), Y: p.Y + f*(a.Y+b.Y)}}
	}
	return []geom.Point{{X: p.X + d*a.X, Y: p.Y + d*a.Y}, p, {X: p.X + d*b.X, Y: p.Y + d*b.Y}}
}
