package geom

// Circle is a place and a radius in mm.
type Circle struct {
	Centre Point
	Radius float64
}

// Diameter in mm.
func (c Circle) Diameter() float64 { return 2 * c.Radius }

// holds allows for the rounding of a circle drawn through its own places.
func (c Circle) holds(p Point) bool { return c.Centre.distance(p) <= c.Radius*(1+1e-13) }

// EnclosingCircle is the smallest circle around places; of none, nothing. It grows from the first place by
// taking in the furthest one outside and keeping the two or three that then hold the circle (pivoting as in
// Gärtner, Fast and robust smallest enclosing balls, 1999; from memory): no chance in it, a few passes.
func EnclosingCircle(pts []Point) Circle {
	if len(pts) == 0 {
		return Circle{}
	}
	held := pts[:1:1]
	c := Circle{Centre: pts[0]}
	for {
		far := pts[0]
		for _, p := range pts {
			if c.Centre.distance(p) > c.Centre.distance(far) {
				far = p
			}
		}
		if c.holds(far) {
			return c
		}
		next, by := smallest(append(held[:len(held):len(held)], far))
		if next.Radius <= c.Radius {
			return c // only rounding is left
		}
		c, held = next, by
	}
}

// circled is how closely chords follow a curve for its enclosing circle, mm: ten times closer than Fine, for a
// millionth of any size that is made.
const circled = Fine / 10

// EnclosingCircle is the smallest circle around everything drawn, to a tenth of Fine.
func (p Path) EnclosingCircle() Circle {
	var pts []Point
	for _, chain := range p.Polylines(circled) {
		pts = append(pts, chain...)
	}
	return EnclosingCircle(pts)
}

// smallest is the smallest circle around up to four places, and the two or three of them that hold it.
func smallest(p []Point) (best Circle, held []Point) {
	try := func(c Circle, by ...Point) {
		for _, q := range p {
			if !c.holds(q) {
				return
			}
		}
		if held == nil || c.Radius < best.Radius {
			best, held = c, by
		}
	}
	for i, a := range p {
		for j, b := range p[:i] {
			m := a.middle(b)
			try(Circle{m, max(m.distance(a), m.distance(b))}, a, b)
			for _, c := range p[:j] {
				if t := through(a, b, c); t.Radius > 0 {
					try(t, a, b, c)
				}
			}
		}
	}
	return best, held
}

// through is the circle through three places; on one line there is none.
func through(a, b, c Point) Circle {
	u, v := b.sub(a), c.sub(a)
	d := 2 * u.cross(v)
	if d == 0 {
		return Circle{}
	}
	uu, vv := u.dot(u), v.dot(v)
	m := a.add(Point{(v.Y*uu - u.Y*vv) / d, (u.X*vv - v.X*uu) / d})
	return Circle{m, max(m.distance(a), m.distance(b), m.distance(c))}
}
