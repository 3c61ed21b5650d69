package artwork

import (
	"math"
	"strings"

	"foamwright/materials/geom"
)

// path draws one of SVG's shapes in mm; nil when it draws nothing, or what is wrong with it was noted.
func (r *reader) path(e *element, p place) geom.Path {
	before := r.problems.Len()
	path := r.outlineOf(e, p)
	if r.problems.Len() > before {
		return nil
	}
	if len(path) == 0 {
		r.note("What has no size was left out.", e.line)
	}
	return path
}

func (r *reader) outlineOf(e *element, p place) geom.Path {
	x := func(name string) float64 { return r.length(e, name, p, p.width) }
	y := func(name string) float64 { return r.length(e, name, p, p.height) }
	b := new(geom.Builder)
	switch e.name {
	case "path":
		d := e.attr("d")
		if d == "" || d == "none" {
			return nil
		}
		path, err := geom.ParsePathUnder(d, p.toMM)
		r.take(e.line, err)
		return path
	case "rect":
		r.rect(e, p, b, x("x"), y("y"), x("width"), y("height"))
	case "circle":
		// A percentage of the radius is of the view's diagonal over √2.
		radius := r.length(e, "r", p, math.Hypot(p.width, p.height)/math.Sqrt2)
		r.ellipse(e, b, x("cx"), y("cy"), radius, radius)
	case "ellipse":
		rx, ry := r.radii(e, p)
		r.ellipse(e, b, x("cx"), y("cy"), rx, ry)
	case "line":
		b.MoveTo(x("x1"), y("y1")).LineTo(x("x2"), y("y2"))
	case "polyline", "polygon":
		r.corners(e, b)
	}
	path := b.Path().Transform(p.toMM)
	r.take(e.line, path.Measurable())
	return path
}

// corners draws the points of a polyline or polygon.
func (r *reader) corners(e *element, b *geom.Builder) {
	v := e.attr("points")
	list, ok := numbers(v)
	if !ok || len(list)%2 == 1 {
		r.refuse(e.line, v, "The points need two plain numbers each, x and y; here a number is missing or is none.")
		return
	}
	for i := 0; i < len(list); i += 2 {
		if i == 0 {
			b.MoveTo(list[0], list[1])
		}
		b.LineTo(list[i], list[i+1])
	}
	if e.name == "polygon" {
		b.Close()
	}
}

// rect draws a rectangle clockwise on the page, with its corners rounded.
func (r *reader) rect(e *element, p place, b *geom.Builder, x, y, w, h float64) {
	rx, ry := r.radii(e, p)
	rx, ry = min(rx, w/2), min(ry, h/2)
	if rx*ry == 0 {
		rx, ry = 0, 0
	}
	if !r.positive(e, w, h, rx, ry) || w*h == 0 {
		return
	}
	corner := func(toX, toY float64) { b.ArcTo(rx, ry, 0, false, true, toX, toY) }
	b.MoveTo(x+rx, y).LineTo(x+w-rx, y)
	corner(x+w, y+ry)
	b.LineTo(x+w, y+h-ry)
	corner(x+w-rx, y+h)
	b.LineTo(x+rx, y+h)
	corner(x, y+h-ry)
	b.LineTo(x, y+ry)
	corner(x+rx, y)
	b.Close()
}

// radii are rx and ry, each the other where it is not given.
func (r *reader) radii(e *element, p place) (rx, ry float64) {
	rx, ry = r.length(e, "rx", p, p.width), r.length(e, "ry", p, p.height)
	switch given := func(name string) bool { v := e.attr(name); return v != "" && v != "auto" }; {
	case !given("rx"):
		rx = ry
	case !given("ry"):
		ry = rx
	}
	return rx, ry
}

func (r *reader) ellipse(e *element, b *geom.Builder, cx, cy, rx, ry float64) {
	if r.positive(e, rx, ry) && rx*ry != 0 {
		b.MoveTo(cx, cy-ry).ArcTo(rx, ry, 0, false, true, cx, cy+ry).ArcTo(rx, ry, 0, false, true, cx, cy-ry).Close()
	}
}

// positive refuses sizes below zero.
func (r *reader) positive(e *element, sizes ...float64) bool {
	for _, v := range sizes {
		if v < 0 {
			r.refuse(e.line, "", "A width, height or radius of this "+e.name+" is below zero. Draw it again or remove it.")
			return false
		}
	}
	return true
}

// length is an attribute in units of the place, 0 where it is not given; whole is what percentages are of.
func (r *reader) length(e *element, name string, p place, whole float64) float64 {
	v := e.attr(name)
	if v == "" || v == "auto" {
		return 0
	}
	size, unit, ok := cutNumber(v)
	unit = strings.TrimSpace(unit)
	if ok && unit == "%" && whole > 0 {
		return size * whole / 100
	}
	k, known := px(unit)
	if !ok || !known {
		r.refuse(e.line, v, name+" has to be a plain number, or one with mm, cm, in, pt, pc or px.")
		return 0
	}
	if physical(unit) && math.Abs(p.unit/mmPerPx-1) > 1e-3 {
		r.note("Within a page that is scaled, mm and inches of a shape are scaled with it, as any viewer shows it. Plain numbers are clearer.", e.line)
	}
	return size * k
}
