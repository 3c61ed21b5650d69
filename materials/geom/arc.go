package geom

import "math"

// Arc is a piece of an ellipse: the places Centre + U cos φ + V sin φ for φ from -Half to Half radians.
// U points to the middle of the arc, V is its conjugate half diameter in the direction of travel; kept so,
// every affine map of an arc is exact, and a mirrored arc is the same to the bit. Half is over 0, under π.
type Arc struct {
	From, To     Point
	Centre, U, V Point
	Half         float64
}

// arcTo is the arc of SVG's A command: radii, turn of the ellipse in degrees, and which of the four arcs
// between the ends. Radii too small for the ends grow until they reach. The ends differ, no radius is zero.
func arcTo(from Point, rx, ry, turn float64, large, sweep bool, to Point) Arc {
	rx, ry = math.Abs(rx), math.Abs(ry)
	s, c := sincos(turn)
	half := to.sub(from).times(0.5)
	// Half the chord as seen where the ellipse is a circle of radius 1.
	chord := Point{(c*half.X + s*half.Y) / rx, (c*half.Y - s*half.X) / ry}
	m := chord.norm()
	// A half turn is where rounding matters most: a hair from 1 is 1.
	if m > 1-1e-14 {
		rx, ry, chord, m = rx*m, ry*m, chord.times(1/m), 1
	}
	d := math.Sqrt((1 - m) * (1 + m))
	if large {
		d = -d
	}
	v := chord.times(1 / m)
	u := Point{v.Y, -v.X}
	if !sweep {
		u = u.times(-1)
	}
	back := func(p Point) Point { return Point{c*rx*p.X - s*ry*p.Y, s*rx*p.X + c*ry*p.Y} }
	a := Arc{From: from, To: to, U: back(u), V: back(v), Half: math.Atan2(m, d)}
	a.Centre = from.middle(to).sub(a.U.times(d))
	return a
}

// Ends of the arc.
func (a Arc) Ends() (from, to Point) { return a.From, a.To }

// Length in mm, by quadrature of the speed.
func (a Arc) Length() float64 {
	speed := func(phi float64) float64 {
		s, c := math.Sincos(phi)
		return a.V.times(c).sub(a.U.times(s)).norm()
	}
	return integrate(speed, -a.Half, a.Half, a.U.norm()+a.V.norm())
}

// Bounds in mm, with the exact turning points.
func (a Arc) Bounds() Rect {
	r := around(a.From, a.To)
	x1, x2 := extent(a.Centre.X, a.U.X, a.V.X, a.Half, r.Min.X, r.Max.X)
	y1, y2 := extent(a.Centre.Y, a.U.Y, a.V.Y, a.Half, r.Min.Y, r.Max.Y)
	return Rect{Point{x1, y1}, Point{x2, y2}}
}

// extent widens lo, hi by the turning points of c + u cos φ + v sin φ within half of 0.
func extent(c, u, v, half, lo, hi float64) (float64, float64) {
	size, phi := math.Hypot(u, v), math.Atan2(v, u)
	if !(math.Abs(phi) > half) {
		hi = max(hi, c+size)
	}
	if !(math.Pi-math.Abs(phi) > half) {
		lo = min(lo, c-size)
	}
	return lo, hi
}

// sector by Green's theorem: the integrand U×V/2 is constant about the centre.
func (a Arc) sector(o Point) float64 {
	return halfCross(o, a.From, a.To) - halfCross(a.Centre, a.From, a.To) + a.Half*a.U.cross(a.V)
}

// axes are the half axes as vectors, the longer first.
func (a Arc) axes() (long, short Point) {
	t := math.Atan2(2*a.U.dot(a.V), a.U.dot(a.U)-a.V.dot(a.V)) / 2
	s, c := math.Sincos(t)
	return a.U.times(c).add(a.V.times(s)), a.V.times(c).sub(a.U.times(s))
}

// chords are even in number, so that the middle of the arc is a place of the polygon. The chord of a step d
// on a circle of radius r strays by 2r sin²(d/4), on an ellipse by no more than with the longer half axis.
func (a Arc) chords(tol float64) int {
	long, _ := a.axes()
	step := 4 * math.Asin(math.Sqrt(min(1, tol/(2*long.norm()))))
	return 2 * steps(a.Half/step)
}

func (a Arc) at(i, n int) Point {
	switch i {
	case 0:
		return a.From
	case n:
		return a.To
	}
	s, c := math.Sincos(a.Half * float64(2*i-n) / float64(n))
	return a.Centre.add(a.U.times(c)).add(a.V.times(s))
}

func (a Arc) transform(m Matrix) Segment {
	return Arc{m.Apply(a.From), m.Apply(a.To), m.Apply(a.Centre), m.direction(a.U), m.direction(a.V), a.Half}
}

func (a Arc) reverse() Segment {
	a.From, a.To, a.V = a.To, a.From, a.V.times(-1)
	return a
}

func (a Arc) endingAt(p Point) Segment { a.To = p; return a }

// halves are the two arcs that meet in the middle.
func (a Arc) halves() (first, second Arc) {
	s, c := math.Sincos(a.Half / 2)
	mid := a.Centre.add(a.U)
	turned := func(s float64) (u, v Point) {
		return a.U.times(c).add(a.V.times(s)), a.V.times(c).sub(a.U.times(s))
	}
	u, v := turned(-s)
	x, y := turned(s)
	return Arc{a.From, mid, a.Centre, u, v, a.Half / 2}, Arc{mid, a.To, a.Centre, x, y, a.Half / 2}
}
