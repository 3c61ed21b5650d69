package pattern

import (
	"cmp"
	"fmt"
	"strings"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Paper is a size of paper by the name of its standard; width and height as it lies upright, mm.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers are those that templates are tiled on: ISO 216 A4 and A3, and letter, 8.5 × 11 in.
func Papers() []Paper { return []Paper{{"a4", 210, 297}, {"a3", 297, 420}, {"letter", 215.9, 279.4}} }

// Layout is the paper and how templates lie on it, mm. Zero values are A4, a margin of 10 mm and an overlap of 10 mm.
type Layout struct {
	Paper           string
	Margin, Overlap float64
}

// The usual layout, and what it may be. A margin is what a printer cannot print; an overlap is where pages are glued.
const (
	usual         = 10.0
	least         = 5.0
	mostMargin    = 40.0
	mostOverlap   = 50.0
	mostPages     = 500
	mostPoints    = 50_000 // of all lines
	footHeight    = 23.0   // below the window: check bar, name and map
	checkBar      = 100.0
	aroundPattern = 3.0 // kept free round a template's lines
)

// sheet is a layout made definite.
type sheet struct {
	paper           Paper
	margin, overlap float64
}

func (l Layout) sheet() (sheet, error) {
	var problems fault.List
	s := sheet{margin: l.Margin, overlap: l.Overlap}
	s.margin = cmp.Or(s.margin, usual)
	s.overlap = cmp.Or(s.overlap, usual)
	var names []string
	for _, p := range Papers() {
		names = append(names, p.Name)
		if strings.EqualFold(p.Name, l.Paper) || l.Paper == "" && len(names) == 1 {
			s.paper = p
		}
	}
	if s.paper.Name == "" {
		problems.Add("paper", clean(l.Paper), "This paper is not known. Choose "+strings.Join(names, ", ")+".")
	}
	if !(s.margin >= least && s.margin <= mostMargin) {
		problems.Add("margin", mm(s.margin)+" mm", fmt.Sprintf("A margin is from %.0f to %.0f mm.", least, mostMargin))
	}
	if !(s.overlap >= least && s.overlap <= mostOverlap) {
		problems.Add("overlap", mm(s.overlap)+" mm", fmt.Sprintf("Pages overlap by %.0f to %.0f mm: there they are glued.", least, mostOverlap))
	}
	return s, problems.Err()
}

// turned is the sheet lying on its long side.
func (s sheet) turned() sheet {
	s.paper.Width, s.paper.Height = s.paper.Height, s.paper.Width
	return s
}

// window is where templates are drawn on a page.
func (s sheet) window() geom.Rect {
	return geom.Rect{Min: geom.Point{X: s.margin, Y: s.margin}, Max: geom.Point{X: s.paper.Width - s.margin, Y: s.paper.Height - s.margin - footHeight}}
}

// Page is one sheet of paper with what is drawn on it, mm from its upper left corner.
type Page struct {
	Width, Height float64
	Label         string // "B3"; pages of small templates have a plain number, the overview none
	Shows         string // the names of what is on it
	Window        geom.Rect
	Laid          []Laid
	Strokes       []Stroke
	Areas         []Area
	Texts         []Text
}

// Laid tells which template lies where: a place of it is on the page at the place plus By.
type Laid struct {
	Pattern int // its number in what was tiled, from 0
	By      geom.Point
}

// Classes of what is drawn beside templates.
const (
	frame    Class = "frame"    // the window's edge, where a page is cut
	seam     Class = "seam"     // how far the next page reaches
	register Class = "register" // marks that are laid on each other
	thin     Class = "thin"     // templates in the overview
)

// Stroke is a line as it lies on a page. Phase is where its dashes start.
type Stroke struct {
	Class Class
	Chain []geom.Point
	Phase float64
}

// Area is filled, in a grey from 0, black, to 255.
type Area struct {
	Ring geom.Ring
	Grey int
}

// Text is one line of words, its place on the base line at its start, middle or end.
type Text struct {
	At     geom.Point
	Size   float64 // mm
	Turn   float64 // degrees, clockwise
	Anchor Anchor
	Grey   int
	Words  string
}

// Anchor is which end of a text its place is.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// pen is how a class is drawn: width and dashes in mm, grey.
func (c Class) pen() (width float64, dash []float64, grey int) {
	switch c {
	case Cut:
		return 0.3, nil, 0
	case Trim:
		return 0.3, []float64{5, 2.5}, 0
	case Fold:
		return 0.3, []float64{9, 2, 1, 2}, 0
	case Mark:
		return 0.3, nil, 140
	case seam:
		return 0.15, []float64{0.6, 1.8}, 130
	case register:
		return 0.15, nil, 0
	case thin:
		return 0.2, nil, 60
	}
	return 0.1, nil, 150
}

func (p *Page) stroke(c Class, points ...geom.Point) {
	p.Strokes = append(p.Strokes, Stroke{Class: c, Chain: points})
}

func (p *Page) fill(grey int, left, top, width, height float64) {
	p.Areas = append(p.Areas, Area{geom.Ring{{X: left, Y: top}, {X: left + width, Y: top}, {X: left + width, Y: top + height}, {X: left, Y: top + height}}, grey})
}

func (p *Page) box(c Class, r geom.Rect) {
	p.stroke(c, r.Min, geom.Point{X: r.Max.X, Y: r.Min.Y}, r.Max, geom.Point{X: r.Min.X, Y: r.Max.Y}, r.Min)
}

func (p *Page) text(x, y, size float64, a Anchor, grey int, words string) {
	if words != "" {
		p.Texts = append(p.Texts, Text{At: geom.Point{X: x, Y: y}, Size: size, Anchor: a, Grey: grey, Words: words})
	}
}
