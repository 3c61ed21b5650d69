// Package drawing draws a shield as its maker would: face, back, section, the parts pulled apart, and cut plan,
// dimensioned and true to proportion.
//
// There is one model, a Drawing, and a writer for each medium: SVG for the page, PNG for the quote, PDF for the
// bench. Views put every mark where it goes; a writer only writes. Units: mm with y pointing down, the origin at the
// outline's top centre (in a section: at the front of its middle; on a sheet of foam: at the sheet's own); text sizes
// and pen widths in mm of the drawing, so that a buckler of 50 mm and a pavise of 3 m look alike. Limits: words are
// English; a section is cut at the widest line; grips are pictures of what there is, not a placing plan.
package drawing

import "foamwright/materials/geom"

// Drawing is a sheet with marks on it, to be laid down in order.
type Drawing struct {
	View  string    // "face", "back", "section", "exploded", "plan" or "plot"
	Title string    // what it shows, with the shield's name
	Words string    // the same in words, for who cannot see it
	Sheet geom.Rect // the paper, mm
	Text  float64   // size of its usual text in mm, the measure for pens too
	Marks []Mark
}

// Class says what a mark stands for.
type Class string

// Classes whose colours belong to the page (paper, ink and chalk): a mark of one has no colour of its own. The names
// of all classes keep clear of what pages call their parts (note, bar).
const (
	Ground    Class = "ground"    // the paper
	Grid      Class = "grid"      // fine squares
	GridBold  Class = "grid-bold" // every tenth line (fifth, where squares are 2, 20 …)
	Squares   Class = "squares"   // the words how large the squares are
	Ink       Class = "ink"       // the outline of a part
	Dimension Class = "dimension" // dimension lines, leaders and their figures
	Remark    Class = "remark"    // the quieter words beside them
	Centre    Class = "centre"    // the centre line beyond the shield
	Former    Class = "former"    // the former in a section
)

// Classes of what is told in a plot: up to four series, the first as strong as ink, each in a tone of its own.
const (
	Series1 Class = "series-1"
	Series2 Class = "series-2"
	Series3 Class = "series-3"
	Series4 Class = "series-4"
	Axis    Class = "axis" // the line that is nought
	Halo    Class = "halo" // the paper round a thin line that crosses something filled
)

// Classes of what is made; their colours are those of the material or paint.
const (
	Edge   Class = "edge"
	Field  Class = "field"
	Rim    Class = "rim"
	Stud   Class = "stud"
	Piece  Class = "piece"
	Gem    Class = "gem"
	Groove Class = "groove"
	Plank  Class = "plank"
	Grain  Class = "grain"
	Cover  Class = "cover"
	Strap  Class = "strap"
	Block  Class = "block"
	Handle Class = "handle"
	Rope   Class = "rope"
	Layer  Class = "layer"
	Shade  Class = "shade" // the shadow of what is raised
	Guide  Class = "guide" // thin lines drawn upon the work: its centre, the width of its rim
)

// Mark is one thing drawn: an Area, Lines, Dots or a Text.
type Mark interface{ box() (geom.Rect, bool) }

// Area is a filled region.
type Area struct {
	Class  Class
	Region geom.Region
	Fill   Colour  // the class's own where it is clear
	Pen    float64 // width of the ink round it in mm; 0 for none
}

// Lines are strokes of one pen.
type Lines struct {
	Class  Class
	Chains [][]geom.Point
	Colour Colour    // the class's own where it is clear
	Pen    float64   // width in mm
	True   bool      // the width is that of the thing (a groove, a rope), not of a pen
	Dash   []float64 // lengths drawn and left out in turn, mm; whole when empty
}

// Dots are round and alike.
type Dots struct {
	Class    Class
	At       []geom.Point
	Diameter float64
	Fill     Colour // the class's own where it is clear
}

// Anchor is which end of a text its place is.
type Anchor string

// The anchors, as SVG names them.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Text is one line of words; its place is on its base line.
type Text struct {
	Class  Class
	At     geom.Point
	Size   float64 // mm
	Turn   float64 // degrees, clockwise: 0, or -90 for words read from the right
	Anchor Anchor
	Words  string
}

// Plain is the drawing without paper and squares, for a page that is white already.
func (d Drawing) Plain() Drawing {
	marks := d.Marks
	d.Marks = nil
	for _, m := range marks {
		switch classOf(m) {
		case Ground, Grid, GridBold, Squares:
		default:
			d.Marks = append(d.Marks, m)
		}
	}
	return d
}

func classOf(m Mark) Class {
	switch m := m.(type) {
	case Area:
		return m.Class
	case Lines:
		return m.Class
	case Dots:
		return m.Class
	}
	return m.(Text).Class
}
