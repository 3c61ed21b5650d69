package geom

import "math"

// mostSteps bounds the steps of one segment, so that nothing unchecked can ask for endless points.
const mostSteps = 1 << 16

// steps is a step count as a whole number from 1 to mostSteps.
func steps(n float64) int {
	if !(n < mostSteps) {
		return mostSteps
	}
	return max(1, int(math.Ceil(n)))
}

func (l Line) chords(float64) int { return 1 }

// chords: a step of 1/n strays from its chord by at most |second derivative| / 8n².
func (q Quad) chords(tol float64) int {
	return steps(math.Sqrt(q.From.add(q.To).sub(q.Control.times(2)).norm() / (4 * tol)))
}

func (c Cubic) chords(tol float64) int {
	u := c.From.add(c.Control2).sub(c.Control1.times(2)).norm()
	v := c.Control1.add(c.To).sub(c.Control2.times(2)).norm()
	return steps(math.Sqrt(0.75 * max(u, v) / tol))
}

func (l Line) at(i, n int) Point {
	if i == 0 {
		return l.From
	}
	return l.To
}

func (q Quad) at(i, n int) Point {
	switch i {
	case 0:
		return q.From
	case n:
		return q.To
	}
	return q.on(float64(n-i)/float64(n), float64(i)/float64(n))
}

func (c Cubic) at(i, n int) Point {
	switch i {
	case 0:
		return c.From
	case n:
		return c.To
	}
	return c.on(float64(n-i)/float64(n), float64(i)/float64(n))
}

func (l Line) transform(m Matrix) Segment { return Line{m.Apply(l.From), m.Apply(l.To)} }
func (q Quad) transform(m Matrix) Segment {
	return Quad{m.Apply(q.From), m.Apply(q.Control), m.Apply(q.To)}
}
func (c Cubic) transform(m Matrix) Segment {
	return Cubic{m.Apply(c.From), m.Apply(c.Control1), m.Apply(c.Control2), m.Apply(c.To)}
}

func (l Line) reverse() Segment  { return Line{l.To, l.From} }
func (q Quad) reverse() Segment  { return Quad{q.To, q.Control, q.From} }
func (c Cubic) reverse() Segment { return Cubic{c.To, c.Control2, c.Control1, c.From} }

func (l Line) endingAt(p Point) Segment  { l.To = p; return l }
func (q Quad) endingAt(p Point) Segment  { q.To = p; return q }
func (c Cubic) endingAt(p Point) Segment { c.To = p; return c }
