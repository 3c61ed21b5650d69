package geom

import (
	"math"
	"strconv"
)

// D is the path as SVG path data: absolute commands, every digit kept, so that ParsePath gives the same
// path again where it passed Check (arcs to 1e-12 or so, since SVG writes them by radii). A half turn is where SVG's way of
// writing arcs loses digits, so arcs of nearly that and more are written as two.
func (p Path) D() string {
	w := writer{}
	for _, s := range p {
		from, _ := s.Ends()
		w.put("M", from)
		for i, g := range s.Segments {
			if l, ok := g.(Line); ok && s.Closed && i > 0 && i == len(s.Segments)-1 && l.Length() > snap {
				break // Z draws it
			}
			w.segment(g)
		}
		if s.Closed {
			w = append(w, 'Z')
		}
	}
	return string(w)
}

type writer []byte

func (w *writer) put(command string, points ...Point) {
	*w = append(*w, command...)
	for i, p := range points {
		if i > 0 {
			*w = append(*w, ' ')
		}
		w.number(p.X)
		*w = append(*w, ' ')
		w.number(p.Y)
	}
}

// number adds nought so that there is no -0.
func (w *writer) number(v float64) { *w = strconv.AppendFloat(*w, v+0, 'g', -1, 64) }

func (w *writer) segment(g Segment) {
	switch g := g.(type) {
	case Line:
		w.put("L", g.To)
	case Quad:
		w.put("Q", g.Control, g.To)
	case Cubic:
		w.put("C", g.Control1, g.Control2, g.To)
	case Arc:
		if g.Half > math.Pi/2-0.001 {
			first, second := g.halves()
			w.segment(first)
			w.segment(second)
			return
		}
		w.arc(g)
	}
}

func (w *writer) arc(a Arc) {
	long, short := a.axes()
	rx, ry, turn := long.norm(), short.norm(), math.Atan2(long.Y, long.X)*180/math.Pi
	if rx-ry < 1e-12*rx {
		turn = 0 // a circle
	}
	if turn <= -90 || turn > 90 {
		turn -= math.Copysign(180, turn)
	}
	w.put("A", Point{rx, ry})
	*w = append(*w, ' ')
	w.number(turn)
	flags := " 0 0 "
	if a.U.cross(a.V) > 0 {
		flags = " 0 1 "
	}
	w.put(flags, a.To)
}
