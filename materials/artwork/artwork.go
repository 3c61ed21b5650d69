// Package artwork reads a drawing as a customer sends it: a whole SVG file, with layers, copies, transforms and
// units of its own, becomes shapes in mm that know what they are for.
//
// Units: mm in float64, x to the right, y down, from the outline's top centre. Where the SVG standard (SVG 2,
// from memory) says what a viewer shows, that is what is read. Limits: 2 MB, 20 000 elements with all copies,
// 64 deep, 50 000 segments and what geom.Path.Measurable allows for all shapes together; the worst file within
// them takes seconds, a usual one a few ms. Nothing is fetched, no entity is resolved, lettering and pictures are
// left out and noted. Strokes are lines without a width.
package artwork

import (
	"foamwright/materials/geom"
	"foamwright/materials/measure"
)

// Role is what a shape is for, as the name of its layer or its own says.
type Role string

// The roles. A layer or shape is marked by its label or id: "outline", "Pieces", "groove-2".
const (
	Outline  Role = "outline"
	Piece    Role = "piece"
	Groove   Role = "groove"
	Unmarked Role = ""
)

// Shape is one shape of a drawing.
type Shape struct {
	Role Role
	Name string    // its own label, title or id, or that of the group around it; empty when none tells anything
	Path geom.Path // mm; the even-odd rule fills what the drawing shows filled
	Fill string    // "#rrggbb"; empty for no fill, for gradients and for colours written as hsl or otherwise
	Line int       // of the file, from 1
}

// Drawing is what a file holds, in the order of the file.
type Drawing struct {
	Shapes []Shape
	Origin geom.Point // where the outline's top centre lies on the page, mm from its top left corner
	Notes  []string   // what was taken for granted or left out, a sentence each
}

// Options say what a file cannot.
type Options struct {
	Unit measure.Length // what one unit of the coordinates is where the file states no physical size; 0 takes 96 for an inch, as the standard does
	Half bool           // the outline is an open stroke on one side of an upright centre line through its ends
}

// Outline is every outline shape as one path, which has passed geom.Path.Check.
func (d Drawing) Outline() geom.Path {
	var whole geom.Path
	for _, s := range d.With(Outline) {
		whole = append(whole, s.Path...)
	}
	return whole
}

// With lists the shapes of a role.
func (d Drawing) With(r Role) []Shape {
	var with []Shape
	for _, s := range d.Shapes {
		if s.Role == r {
			with = append(with, s)
		}
	}
	return with
}

// Read reads an SVG file. The outline and the pieces of what it returns can be cut: closed, and nowhere crossing
// themselves. Without any mark the largest shape is the outline and the closed ones in it are pieces. What cannot
// be used is a fault.Invalid with the line in the file and what to do, as many at once as can be told; more than
// the limits is a fault.TooLarge.
func Read(file []byte, o Options) (Drawing, error) {
	doc, err := parse(file)
	if err != nil {
		return Drawing{}, err
	}
	r := &reader{document: doc}
	page, err := r.page(o.Unit)
	if err != nil {
		return Drawing{}, err
	}
	for _, e := range doc.root.inside {
		r.visit(e, page)
	}
	if err := r.err(); err != nil {
		return Drawing{}, err
	}
	return r.sort(o)
}
