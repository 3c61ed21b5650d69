package geom

import "math"

// Segment is one exact piece of a path: a Line, Quad, Cubic or Arc.
type Segment interface {
	Ends() (from, to Point)
	Length() float64 // mm, to 1e-10 of the size of the segment
	Bounds() Rect    // exact extrema

	sector(o Point) float64 // signed area in mm² swept by the ray from o
	chords(tol float64) int // how many equal steps of the parameter keep chords within tol of the curve
	at(i, n int) Point      // the place after i of n steps; the same to the bit from either end
	transform(m Matrix) Segment
	reverse() Segment
	endingAt(p Point) Segment
}

// Line is a straight piece.
type Line struct{ From, To Point }

// Quad is a quadratic Bézier curve.
type Quad struct{ From, Control, To Point }

// Cubic is a cubic Bézier curve.
type Cubic struct{ From, Control1, Control2, To Point }

// Ends of the line.
func (l Line) Ends() (from, to Point) { return l.From, l.To }

// Ends of the curve.
func (q Quad) Ends() (from, to Point) { return q.From, q.To }

// Ends of the curve.
func (c Cubic) Ends() (from, to Point) { return c.From, c.To }

// Length in mm.
func (l Line) Length() float64 { return l.From.distance(l.To) }

// Length in mm, by quadrature of the speed.
func (q Quad) Length() float64 {
	u, v := q.Control.sub(q.From), q.To.sub(q.Control)
	speed := func(t float64) float64 { return 2 * u.times(1-t).add(v.times(t)).norm() }
	return integrate(speed, 0, 1, u.norm()+v.norm())
}

// Length in mm, by quadrature of the speed.
func (c Cubic) Length() float64 {
	u, v, w := c.Control1.sub(c.From), c.Control2.sub(c.Control1), c.To.sub(c.Control2)
	speed := func(t float64) float64 {
		s := 1 - t
		return 3 * u.times(s*s).add(v.times(2*s*t)).add(w.times(t*t)).norm()
	}
	return integrate(speed, 0, 1, u.norm()+v.norm()+w.norm())
}

// Bounds in mm.
func (l Line) Bounds() Rect { return around(l.From, l.To) }

// Bounds in mm, with the exact turning points.
func (q Quad) Bounds() Rect {
	r := around(q.From, q.To)
	a, b := q.From.sub(q.Control), q.From.sub(q.Control).add(q.To.sub(q.Control))
	for _, t := range [2]float64{ratio(a.X, b.X), ratio(a.Y, b.Y)} {
		if p := q.on(1-t, t); !(t <= 0 || t >= 1) {
			r = r.join(Rect{p, p})
		}
	}
	return r
}

// Bounds in mm, with the exact turning points.
func (c Cubic) Bounds() Rect {
	r := around(c.From, c.To)
	u, v, w := c.Control1.sub(c.From), c.Control2.sub(c.Control1), c.To.sub(c.Control2)
	x1, x2 := roots(u.X, v.X, w.X)
	y1, y2 := roots(u.Y, v.Y, w.Y)
	for _, t := range [4]float64{x1, x2, y1, y2} {
		if p := c.on(1-t, t); !(t <= 0 || t >= 1) {
			r = r.join(Rect{p, p})
		}
	}
	return r
}

// ratio is a/b, or 0, which is no turning point, over nothing.
func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// roots of u(1-t)² + 2v(1-t)t + wt² = 0 without cancellation; 0, which is no turning point, where there is none.
func roots(u, v, w float64) (t1, t2 float64) {
	a, b := u-2*v+w, u-v
	d := v*v - u*w
	if d < 0 {
		return 0, 0
	}
	q := b + math.Copysign(math.Sqrt(d), b)
	return ratio(q, a), ratio(u, q)
}

func (q Quad) on(s, t float64) Point {
	return q.From.times(s * s).add(q.To.times(t * t)).add(q.Control.times(2 * s * t))
}

func (c Cubic) on(s, t float64) Point {
	ends := c.From.times(s * s * s).add(c.To.times(t * t * t))
	return ends.add(c.Control1.times(s * s * t * 3).add(c.Control2.times(t * t * s * 3))) // so from either end
}

func (l Line) sector(o Point) float64 { return halfCross(o, l.From, l.To) }

// sector by Green's theorem: the chord's triangle and two thirds of the control triangle.
func (q Quad) sector(o Point) float64 {
	return halfCross(o, q.From, q.To) + 2./3*halfCross(q.From, q.Control, q.To)
}

// sector by Green's theorem, the integral of (x dy - y dx)/2 in closed form.
func (c Cubic) sector(o Point) float64 {
	u, v, w := c.Control1.sub(c.From), c.Control2.sub(c.From), c.To.sub(c.From)
	return halfCross(o, c.From, c.To) + (3*u.cross(v)+3*u.cross(w)+6*v.cross(w))/20
}
