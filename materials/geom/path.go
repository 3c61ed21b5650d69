package geom

import (
	"math"
	"slices"
)

// Path is an outline or drawing of any number of subpaths.
type Path []Subpath

// Subpath is one stroke of the pen: segments, each starting where the last one ends. A closed one ends
// exactly where it starts. There is no subpath without a segment.
type Subpath struct {
	Segments []Segment
	Closed   bool
}

// Ends are the first and the last place.
func (s Subpath) Ends() (from, to Point) {
	from, _ = s.Segments[0].Ends()
	_, to = s.Segments[len(s.Segments)-1].Ends()
	return from, to
}

// area is signed, of the subpath closed by a straight line.
func (s Subpath) area() float64 {
	o, _ := s.Ends()
	sum := 0.0
	for _, g := range s.Segments {
		sum += g.sector(o)
	}
	return sum
}

// mapped is a copy with f done to every segment.
func (p Path) mapped(f func(Segment) Segment) Path {
	q := make(Path, len(p))
	for i, s := range p {
		q[i] = Subpath{make([]Segment, len(s.Segments)), s.Closed}
		for j, g := range s.Segments {
			q[i].Segments[j] = f(g)
		}
	}
	return q
}

// Transform is the path after an affine map, exactly, arcs too.
func (p Path) Transform(m Matrix) Path {
	return p.mapped(func(s Segment) Segment { return s.transform(m) })
}

// Reverse is the path drawn backwards, each subpath in its place.
func (p Path) Reverse() Path {
	q := p.mapped(Segment.reverse)
	for _, s := range q {
		slices.Reverse(s.Segments)
	}
	return q
}

// Length is the exact length of everything drawn in mm, closing lines of closed subpaths included.
func (p Path) Length() float64 {
	sum := 0.0
	for _, s := range p {
		for _, g := range s.Segments {
			sum += g.Length()
		}
	}
	return sum
}

// Area is the exact area in mm² by the even-odd rule: a subpath within an odd number of others is a hole,
// whichever way it runs. Open subpaths count as closed by a straight line. Subpaths must not cross
// themselves or each other, see Check; for those that do not, the nonzero rule differs only where a
// subpath within another runs the same way, and there a maker means a hole.
func (p Path) Area() float64 {
	if len(p) == 1 {
		return math.Abs(p[0].area())
	}
	sum := 0.0
	depth, _ := nest(p.rings(Fine))
	for i, s := range p {
		if depth[i]%2 == 0 {
			sum += math.Abs(s.area())
		} else {
			sum -= math.Abs(s.area())
		}
	}
	return sum
}

// Bounds is the smallest upright box around everything drawn, exactly; no box at all for an empty path.
func (p Path) Bounds() Rect {
	var r Rect
	for i, s := range p {
		for j, g := range s.Segments {
			if b := g.Bounds(); i+j == 0 {
				r = b
			} else {
				r = r.join(b)
			}
		}
	}
	return r
}
