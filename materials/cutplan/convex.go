package cutplan

import (
	"sort"

	"foamwright/materials/geom"
)

// eps is how deep, in mm, two outlines may touch before they count as overlapping; ten times finer than
// what Verify allows, so that rounding never tells a plan apart from its proof.
const eps = 1e-7

// keepOut is where the origin of one convex shape may not lie if another is at the origin: their Minkowski
// difference, kept as a left and a right side by height.
type keepOut struct {
	y0, y1      float64
	left, right side
}

type side struct{ y, x []float64 }

// at is the x of a side at a height strictly between its ends.
func (s side) at(y float64) float64 {
	i := sort.SearchFloat64s(s.y, y)
	if i == 0 {
		return s.x[0]
	}
	if i == len(s.y) {
		return s.x[i-1]
	}
	return s.x[i-1] + (s.x[i]-s.x[i-1])*(y-s.y[i-1])/(s.y[i]-s.y[i-1])
}

// span is the open stretch of x that is kept out at a height, relative to the standing shape.
func (k *keepOut) span(y float64) (lo, hi float64, ok bool) {
	if y <= k.y0+eps || y >= k.y1-eps {
		return 0, 0, false
	}
	return k.left.at(y), k.right.at(y), true
}

// minkowski is the difference of two convex positive rings: where the origin of the moving one may not lie
// against the standing one. The edges of one and of the other turned half round are joined in order of
// direction, from the lowest corner.
func minkowski(standing, moving geom.Ring) geom.Ring {
	a, b := standing, make(geom.Ring, len(moving))
	for i, p := range moving {
		b[i] = geom.Point{X: -p.X, Y: -p.Y}
	}
	i0, k0 := lowest(a), lowest(b)
	at := geom.Point{X: a[i0].X + b[k0].X, Y: a[i0].Y + b[k0].Y}
	sum := make(geom.Ring, 0, len(a)+len(b))
	for i, k := 0, 0; i < len(a) || k < len(b); {
		sum = append(sum, at)
		u := step(a, i0+i)
		v := step(b, k0+k)
		turn := u.X*v.Y - u.Y*v.X
		if k == len(b) || i < len(a) && turn >= 0 {
			at.X, at.Y = at.X+u.X, at.Y+u.Y
			i++
		} else {
			at.X, at.Y = at.X+v.X, at.Y+v.Y
			k++
		}
	}
	return sum
}

// difference is minkowski's as two sides.
func difference(standing, moving geom.Ring) *keepOut {
	sum := minkowski(standing, moving)
	top := 0
	for i, p := range sum {
		if p.Y > sum[top].Y {
			top = i
		}
	}
	out := keepOut{y0: sum[0].Y, y1: sum[top].Y}
	for _, p := range sum[:top+1] {
		out.right.y, out.right.x = append(out.right.y, p.Y), append(out.right.x, p.X)
	}
	out.left.y, out.left.x = append(out.left.y, sum[0].Y), append(out.left.x, sum[0].X)
	for i := len(sum) - 1; i >= top; i-- {
		out.left.y, out.left.x = append(out.left.y, sum[i].Y), append(out.left.x, sum[i].X)
	}
	return &out
}

// step is the edge that leaves corner i.
func step(r geom.Ring, i int) geom.Point {
	p, q := r[i%len(r)], r[(i+1)%len(r)]
	return geom.Point{X: q.X - p.X, Y: q.Y - p.Y}
}

// lowest is the corner of least y, of these the one of least x: where edge directions begin to turn.
func lowest(r geom.Ring) int {
	best := 0
	for i, p := range r {
		if p.Y < r[best].Y || p.Y == r[best].Y && p.X < r[best].X {
			best = i
		}
	}
	return best
}

// convex tells whether a positive ring has no hollow corner and goes round once.
func convex(r geom.Ring) bool {
	turns := 0
	for i := range r {
		u, v := step(r, i), step(r, i+1)
		if u.X*v.Y-u.Y*v.X < -1e-9 {
			return false
		}
		if (u.Y <= 0) != (v.Y <= 0) {
			turns++
		}
	}
	return turns == 2
}
