// Package pattern makes what the workshop cuts from: templates at their true size, tiled on paper with marks to
// join them by, as a PDF to print and as one SVG for each.
//
// Of finds the distinct outlines of a shield, Tile lays them on pages, PDF and SVG write them. Units: mm, y pointing
// down, the origin of a core template at the top of its centre line. Curves are followed within 0.05 mm, places in
// the PDF are rounded to 0.002 mm. Words are English; letters that the typeface lacks are printed as an empty box.
// Limits: 500 pages, 50 000 corners, overlaps of 5 to 50 mm, margins of 5 to 40 mm.
package pattern

import (
	"fmt"
	"strings"

	"foamwright/materials/geom"
)

// Class says what a line is for.
type Class string

// The classes of a template's lines.
const (
	Cut  Class = "cut"  // the finished edge; the knife's way where no trim line is outside it
	Trim Class = "trim" // where layers are cut larger, to be levelled after gluing
	Fold Class = "fold" // the centre line of a half
	Mark Class = "mark" // drawn on the foam, not cut: rim, planks, grooves, centre
)

// Line is one stroke of a template; a closed one ends where it starts.
type Line struct {
	Class Class
	Words string // written along it; may be empty
	Chain []geom.Point
}

// Pattern is one template. One without lines is measured out by its notes: strips and blocks need no drawing.
type Pattern struct {
	Set      string // what all of them make together: the shield's name
	Name     string
	Count    int  // how many are cut for one shield
	Mirrored bool // and as many of its mirror image
	Foam     string
	Lines    []Line
	Notes    []string
}

// Options say which templates are wanted.
type Options struct {
	Whole bool // no half templates, even where both sides are alike
	Rim   bool // the rim as a template of its own; its inner line is on the core's anyhow
}

// Bounds is the box of all lines in mm; no box at all without lines.
func (p Pattern) Bounds() geom.Rect {
	var all geom.Ring
	for _, l := range p.Lines {
		all = append(all, l.Chain...)
	}
	return all.Bounds()
}

// Size is the width and height of what is cut in words, "300 × 896 mm".
func (p Pattern) Size() string {
	b := p.Bounds()
	return mm(b.Width()) + " × " + mm(b.Height()) + " mm"
}

// Cutting is what to cut in words, "cut 2 and 2 mirrored, Sheet 5 mm".
func (p Pattern) Cutting() string {
	var parts []string
	switch {
	case p.Count == 0:
	case p.Mirrored && p.Count == 1:
		parts = append(parts, "cut 1 and its mirror image")
	case p.Mirrored:
		parts = append(parts, fmt.Sprintf("cut %d and %d of its mirror image", p.Count, p.Count))
	default:
		parts = append(parts, fmt.Sprintf("cut %d", p.Count))
	}
	if p.Foam != "" {
		parts = append(parts, p.Foam)
	}
	return strings.Join(parts, ", ")
}
