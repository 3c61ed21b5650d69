package geom

import "slices"

const (
	// snap is what counts as the same place when a subpath closes: a nanometre.
	snap = 1e-6
	// speck is the radius or chord in mm under which an arc is a line.
	speck = 1e-9
)

// Builder draws a Path with a pen that starts at the origin. The zero value is ready to use; places and
// radii are in mm, absolute.
type Builder struct {
	path       Path
	drawn      []Segment
	start, pen Point
}

// MoveTo lifts the pen and starts a new subpath.
func (b *Builder) MoveTo(x, y float64) *Builder {
	b.lift(false)
	b.start = Point{x, y}
	b.pen = b.start
	return b
}

// LineTo draws a straight line; a line to where the pen is draws nothing.
func (b *Builder) LineTo(x, y float64) *Builder {
	if to := (Point{x, y}); to != b.pen {
		b.draw(Line{b.pen, to})
	}
	return b
}

// QuadTo draws a quadratic Bézier curve with one control point.
func (b *Builder) QuadTo(cx, cy, x, y float64) *Builder {
	return b.draw(Quad{b.pen, Point{cx, cy}, Point{x, y}})
}

// CubicTo draws a cubic Bézier curve with two control points.
func (b *Builder) CubicTo(ax, ay, bx, by, x, y float64) *Builder {
	return b.draw(Cubic{b.pen, Point{ax, ay}, Point{bx, by}, Point{x, y}})
}

// ArcTo draws an elliptical arc as SVG's A does: radii (their sign is ignored, they grow when too small to
// reach), turn of the ellipse in degrees, the large arc or the small one, and sweep for clockwise on the
// page. An arc without a radius is a line.
func (b *Builder) ArcTo(rx, ry, turn float64, large, sweep bool, x, y float64) *Builder {
	to := Point{x, y}
	if max(rx, -rx) < speck || max(ry, -ry) < speck || b.pen.distance(to) < speck {
		return b.LineTo(x, y)
	}
	return b.draw(arcTo(b.pen, rx, ry, turn, large, sweep, to))
}

// Close draws a straight line to the start of the subpath where there is a gap, and ends the subpath there.
func (b *Builder) Close() *Builder {
	if n := len(b.drawn); n > 0 && b.pen != b.start {
		switch last := b.drawn[n-1].endingAt(b.start); {
		case b.pen.distance(b.start) > snap:
			b.draw(Line{b.pen, b.start})
		case last == Segment(Line{b.start, b.start}):
			b.drawn = b.drawn[:n-1]
		default:
			b.drawn[n-1] = last
		}
	}
	b.pen = b.start
	b.lift(true)
	return b
}

// Path is what has been drawn so far.
func (b *Builder) Path() Path {
	b.lift(false)
	return slices.Clone(b.path)
}

func (b *Builder) draw(s Segment) *Builder {
	b.drawn = append(b.drawn, s)
	_, b.pen = s.Ends()
	return b
}

// lift ends the subpath that is being drawn, if anything of it was.
func (b *Builder) lift(closed bool) {
	if len(b.drawn) > 0 {
		b.path = append(b.path, Subpath{b.drawn, closed})
	}
	b.drawn = nil
	b.start = b.pen
}
