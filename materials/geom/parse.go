package geom

import (
	"fmt"
	"math"
)

// What one path may hold.
const (
	mostBytes    = 1_000_000
	mostSegments = 50_000
	mostSubpaths = 2_000
	mostPoints   = 200_000 // of the polygons with chords within Fine
)

// ParsePath reads SVG path data, the whole grammar of SVG 2 (9.3.9, from memory), numbers as mm. Unlike a browser
// it draws nothing of data with an error in it: half an outline would be half a price. Every error is a
// fault.Invalid that tells the character and what to write instead. Limits: 1 MB, 50 000 segments, 2 000
// subpaths, 200 000 points when flattened to Fine, and 100 000 mm either way.
func ParsePath(d string) (Path, error) {
	path, err := readPath(d, 1)
	switch {
	case err != nil:
		return nil, err
	case len(path) == 0:
		return nil, refuse(d, "Nothing is drawn. After M add a line or a curve, for example M0 0 L100 0.")
	}
	return path, path.checkSize()
}

// ParsePathUnder reads path data drawn in units of its own, as inside a vector file, and gives what m makes of
// it in mm, exactly. Errors and limits are those of ParsePath, with how far it reaches judged in mm; but data that
// only moves the pen, a stray point of a drawing, is an empty path.
func ParsePathUnder(d string, m Matrix) (Path, error) {
	path, err := readPath(d, math.Sqrt(math.Abs(m.A*m.D-m.B*m.C)))
	if err != nil {
		return nil, err
	}
	path = path.Transform(m)
	return path, path.Measurable()
}

// readPath reads path data whose unit is so many mm.
func readPath(d string, unit float64) (Path, error) {
	if len(d) > mostBytes {
		return nil, refuse("", fmt.Sprintf("The path data is %d characters long; at most %d can be read. Simplify the drawing.", len(d), mostBytes))
	}
	p := pathReader{scanner: scanner{d: d, unit: unit}}
	p.wsp()
	if p.ended() {
		return nil, refuse("", "There is no path data. Write an outline such as M0 0 H400 V250 L200 600 L0 250 Z.")
	}
	for !p.ended() && p.err == nil {
		p.command()
		p.wsp()
	}
	return p.Path(), p.err
}

// pathReader draws what a scanner reads.
type pathReader struct {
	scanner
	Builder
	last     byte  // the command before, in capitals
	control  Point // its last control point
	segments int
}

func (p *pathReader) command() {
	at := p.at
	c := p.next()
	relative := c >= 'a'
	if relative {
		c -= 'a' - 'A'
	}
	switch {
	case p.last == 0 && c != 'M':
		p.fail(at, "path data starts with M and a place, for example M0 0")
		return
	case c == 'Z':
		p.Close()
		p.last = c
		return
	}
	p.fresh = true
	for more := true; more; more = p.another() {
		p.draw1(c, relative, at)
		if p.err != nil {
			return
		}
		if p.segments++; p.segments > mostSegments {
			p.fail(at, fmt.Sprintf("there are more than %d segments; simplify the drawing", mostSegments))
			return
		}
		p.last = c
		if c == 'M' {
			c = 'L' // pairs after the first are lines
		}
	}
}

// draw1 reads the numbers of one segment and draws it, unless one of them was wrong.
func (p *pathReader) draw1(c byte, relative bool, at int) {
	var o Point
	if relative {
		o = p.pen
	}
	switch c {
	case 'M':
		if to := p.pair(o); p.err == nil {
			p.MoveTo(to.X, to.Y)
		}
	case 'L':
		p.line(p.pair(o))
	case 'H':
		p.line(Point{p.coordinate(o.X, "x"), p.pen.Y})
	case 'V':
		p.line(Point{p.pen.X, p.coordinate(o.Y, "y")})
	case 'Q':
		p.quad(p.pair(o), p.pair(o))
	case 'T':
		p.quad(p.reflected(at, 'Q', 'T'), p.pair(o))
	case 'C':
		p.cubic(p.pair(o), p.pair(o), p.pair(o))
	case 'S':
		p.cubic(p.reflected(at, 'C', 'S'), p.pair(o), p.pair(o))
	case 'A':
		p.arc(o, at)
	default:
		p.fail(at, "this is no path command; the commands are M L H V C S Q T A and Z")
	}
}

func (p *pathReader) line(to Point) {
	if p.err == nil {
		p.LineTo(to.X, to.Y)
	}
}

func (p *pathReader) quad(control, to Point) {
	if p.err == nil {
		p.QuadTo(control.X, control.Y, to.X, to.Y)
		p.control = control
	}
}

func (p *pathReader) cubic(a, b, to Point) {
	if p.err == nil {
		p.CubicTo(a.X, a.Y, b.X, b.Y, to.X, to.Y)
		p.control = b
	}
}

func (p *pathReader) arc(o Point, at int) {
	rx, ry, turn := p.number("the x radius"), p.number("the y radius"), p.number("the turn in degrees")
	large, sweep := p.flag("large-arc"), p.flag("sweep")
	to := p.pair(o)
	if p.err != nil {
		return
	}
	p.ArcTo(rx, ry, turn, large, sweep, to.X, to.Y)
	if n := len(p.drawn); n > 0 && !measurable(p.drawn[n-1].transform(Scale(p.unit, p.unit))) {
		p.fail(at, "this arc needs a radius of 100 000 mm or more, or reaches further; check its radii and the unit")
	}
}

// reflected is the control point of a smooth curve: the last one mirrored at the pen when the command
// before was of the same kind, else the pen.
func (p *pathReader) reflected(at int, kind, smooth byte) Point {
	if p.last != kind && p.last != smooth {
		return p.pen
	}
	r := p.pen.times(2).sub(p.control)
	if far := r.times(p.unit); !(Rect{far, far}).within() {
		p.fail(at, "the control point reflected here is further out than 100 000 mm; write it with Q or C")
	}
	return r
}
