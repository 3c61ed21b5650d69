package geom

import "slices"

// Area is signed, in mm²: positive for a ring that runs clockwise on the page, as outer rings do.
func (r Ring) Area() float64 {
	sum := 0.0
	for i := range r {
		sum += halfCross(r[0], r[i], r[(i+1)%len(r)])
	}
	return sum
}

// Length in mm, all the way round.
func (r Ring) Length() float64 {
	sum := 0.0
	for i, p := range r {
		sum += p.distance(r[(i+1)%len(r)])
	}
	return sum
}

// Bounds is the smallest upright box around the ring.
func (r Ring) Bounds() Rect {
	if len(r) == 0 {
		return Rect{}
	}
	b := Rect{r[0], r[0]}
	for _, p := range r {
		b = b.join(Rect{p, p})
	}
	return b
}

// running is the ring in the direction whose area has the given sign.
func (r Ring) running(sign float64) Ring {
	if r.Area()*sign >= 0 {
		return r
	}
	q := slices.Clone(r)
	slices.Reverse(q)
	return q
}

// contains tells whether a place is inside; on the border it may say either.
func (r Ring) contains(p Point) bool {
	inside := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if (a.Y > p.Y) != (b.Y > p.Y) && (orient(a, b, p) > 0) == (b.Y > a.Y) {
			inside = !inside
		}
	}
	return inside
}

// rings are all rings, the holes after their outer one.
func (r Region) rings() []Ring {
	var all []Ring
	for _, s := range r {
		all = append(append(all, s.Outer), s.Holes...)
	}
	return all
}

// Area in mm², holes taken off.
func (r Region) Area() float64 {
	sum := 0.0
	for _, g := range r.rings() {
		sum += g.Area()
	}
	return sum
}

// Length in mm of all borders, those of holes too: what a knife travels to cut it out.
func (r Region) Length() float64 {
	sum := 0.0
	for _, g := range r.rings() {
		sum += g.Length()
	}
	return sum
}

// Bounds is the smallest upright box around everything; no box at all for an empty region.
func (r Region) Bounds() Rect {
	var b Rect
	for i, s := range r {
		if i == 0 {
			b = s.Outer.Bounds()
		}
		b = b.join(s.Outer.Bounds())
	}
	return b
}

// Points are the vertices of the outer rings, for Hull, EnclosingCircle, Extent and FitsRectangle.
func (r Region) Points() []Point {
	var all []Point
	for _, s := range r {
		all = append(all, s.Outer...)
	}
	return all
}

// Transform is the region after an affine map, its rings still running the right way.
func (r Region) Transform(m Matrix) Region {
	moved := func(g Ring) Ring {
		q := make(Ring, len(g))
		for i, p := range g {
			q[i] = m.Apply(p)
		}
		if m.flips() {
			slices.Reverse(q)
		}
		return q
	}
	out := make(Region, len(r))
	for i, s := range r {
		out[i].Outer = moved(s.Outer)
		for _, h := range s.Holes {
			out[i].Holes = append(out[i].Holes, moved(h))
		}
	}
	return out
}

// ContainsPoint tells whether a place is in the region; on a border it may say either.
func (r Region) ContainsPoint(p Point) bool {
	inside := false
	for _, g := range r.rings() {
		if g.contains(p) {
			inside = !inside
		}
	}
	return inside
}
