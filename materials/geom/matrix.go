package geom

import "math"

// Matrix is an affine map, named as in SVG's matrix(a b c d e f): x' = Ax + Cy + E, y' = Bx + Dy + F, mm.
type Matrix struct{ A, B, C, D, E, F float64 }

// Translate moves by dx, dy mm.
func Translate(dx, dy float64) Matrix { return Matrix{1, 0, 0, 1, dx, dy} }

// Rotate turns about the origin by degrees, clockwise on the page; exact for quarter turns.
func Rotate(turn float64) Matrix {
	s, c := sincos(turn)
	return Matrix{c, s, -s, c, 0, 0}
}

// Scale stretches from the origin.
func Scale(sx, sy float64) Matrix { return Matrix{sx, 0, 0, sy, 0, 0} }

// MirrorX turns left into right about the centre line x = 0.
func MirrorX() Matrix { return Scale(-1, 1) }

// Then is the map that does m first and n after it.
func (m Matrix) Then(n Matrix) Matrix {
	u, v, o := n.direction(Point{m.A, m.B}), n.direction(Point{m.C, m.D}), n.Apply(Point{m.E, m.F})
	return Matrix{u.X, u.Y, v.X, v.Y, o.X, o.Y}
}

// Apply maps a place.
func (m Matrix) Apply(p Point) Point { return m.direction(p).add(Point{m.E, m.F}) }

// direction maps a vector: no shift.
func (m Matrix) direction(p Point) Point { return Point{m.A*p.X + m.C*p.Y, m.B*p.X + m.D*p.Y} }

// flips tells whether the map turns things over, so that rings run the other way.
func (m Matrix) flips() bool { return m.A*m.D-m.B*m.C < 0 }

// sincos of degrees, exact for whole quarter turns, so that a turned rectangle stays upright.
func sincos(turn float64) (sin, cos float64) {
	t := math.Mod(turn, 360)
	quarter := math.Round(t / 90)
	s, c := math.Sincos((t - 90*quarter) * math.Pi / 180)
	switch int(quarter) & 3 {
	case 1:
		return c, -s
	case 2:
		return -s, -c
	case 3:
		return -c, s
	}
	return s, c
}
