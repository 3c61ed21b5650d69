package drawing

import (
	"math"
	"strconv"

	"foamwright/materials/geom"
)

// The size of text as a share of the height of what is drawn, or of its width where that gives more: a drawing
// fills a desk screen from top to foot and a telephone from side to side. A section is low, so it is all width.
const (
	shareOfHeight  = 0.027
	shareOfWidth   = 0.034
	shareOfSection = 0.046
)

// Widths of pens as shares of the text size.
const (
	outlinePen = 0.075
	detailPen  = 0.055
	tickPen    = 0.07
	finePen    = 0.042
	gridPen    = 0.026
)

// board is a drawing in the making. u is the size of its text in mm.
type board struct {
	Drawing
	Labels
	u float64
}

// newBoard takes the size of its text in mm.
func newBoard(view, title, words string, u float64) *board {
	return &board{Drawing{View: view, Title: title, Words: words, Text: u}, english(), u}
}

// textFor is the size of text beside an outline.
func textFor(box geom.Rect) float64 {
	return math.Max(shareOfHeight*box.Height(), shareOfWidth*box.Width())
}

func (b *board) add(m ...Mark) { b.Marks = append(b.Marks, m...) }

// area fills a region and inks its edge.
func (b *board) area(c Class, r geom.Region, fill Colour, pen float64) {
	if len(r) > 0 {
		b.add(Area{Class: c, Region: r, Fill: fill, Pen: pen * b.u})
	}
}

func (b *board) line(c Class, pen float64, points ...geom.Point) {
	b.add(Lines{Class: c, Chains: [][]geom.Point{points}, Pen: pen * b.u})
}

func (b *board) text(c Class, x, y float64, anchor Anchor, words string) {
	b.add(Text{Class: c, At: geom.Point{X: x, Y: y}, Size: b.u, Anchor: anchor, Words: words})
}

// squares are the sides of fine and bold squares in mm: at most a hundred and some fine ones across the sheet.
func squares(across float64) (fine, bold float64) {
	for fine = 0.1; ; fine *= 10 {
		for _, k := range [3][2]float64{{1, 10}, {2, 10}, {5, 50}} {
			if across/(fine*k[0]) <= 125 {
				return fine * k[0], fine * k[1]
			}
		}
	}
}

// finish lays paper and squares under the marks, with a margin round them, and names the measures.
func (b *board) finish() Drawing {
	all := extent(b.Marks)
	fine, bold := squares(math.Max(all.Width(), all.Height()) + 3*b.u)
	size := 0.8 * b.u
	left := Text{Class: Squares, Size: size, Anchor: Start, Words: b.Say("squares of %s", b.Number(fine))}
	right := Text{Class: Remark, Size: size, Anchor: End, Words: b.Say("measures in mm")}
	room := size
	for _, t := range [2]Text{left, right} {
		box, _ := t.box()
		room += box.Width()
	}
	// Both words side by side need their room under a slender shield too.
	if short := room - all.Width(); short > 0 {
		all.Min.X -= short / 2
		all.Max.X += short / 2
	}
	foot := all.Max.Y + 1.5*b.u
	left.At, right.At = geom.Point{X: all.Min.X, Y: foot}, geom.Point{X: all.Max.X, Y: foot}
	b.add(left, right)
	b.Sheet = grown(joined(all, extent(b.Marks), true), b.u)
	b.Marks = append(b.ground(fine, bold), b.Marks...)
	return b.Drawing
}

// ground is the paper with its squares, which start from the origin.
func (b *board) ground(fine, bold float64) []Mark {
	s := b.Sheet
	paper := geom.Region{{Outer: geom.Ring{s.Min, {X: s.Max.X, Y: s.Min.Y}, s.Max, {X: s.Min.X, Y: s.Max.Y}}}}
	thin := Lines{Class: Grid, Pen: gridPen * b.u}
	thick := Lines{Class: GridBold, Pen: 1.4 * gridPen * b.u}
	every := int(math.Round(bold / fine))
	put := func(i int, p, q geom.Point) {
		to := &thin
		if i%every == 0 {
			to = &thick
		}
		to.Chains = append(to.Chains, []geom.Point{p, q})
	}
	for i := int(math.Ceil(s.Min.X / fine)); float64(i)*fine < s.Max.X; i++ {
		put(i, geom.Point{X: float64(i) * fine, Y: s.Min.Y}, geom.Point{X: float64(i) * fine, Y: s.Max.Y})
	}
	for i := int(math.Ceil(s.Min.Y / fine)); float64(i)*fine < s.Max.Y; i++ {
		put(i, geom.Point{X: s.Min.X, Y: float64(i) * fine}, geom.Point{X: s.Max.X, Y: float64(i) * fine})
	}
	return []Mark{Area{Class: Ground, Region: paper}, thin, thick}
}

// mm is a measure to a tenth of a mm without trailing noughts.
func mm(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10+0, 'f', -1, 64)
}
