package drawing

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/phpdave11/gofpdf"
	"golang.org/x/image/font/sfnt"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Print is how drawings are put on paper.
type Print struct {
	Title, Author string
	Made          time.Time // the file's date
	True          bool      // pages as large as their drawings, 1 mm for 1 mm, for a plotter; else A4
}

// A4 is ISO 216's sheet, and the margin printers need with the foot under it, mm.
const a4Short, a4Long, a4Margin, a4Foot = 210.0, 297.0, 10.0, 6.0

// largestPage is the longest side a page may have: 14 400 points (ISO 32000-1, annex C, from memory), in mm.
const largestPage = 5080.0

// PDF writes drawings in lines and letters, each on a page of its own: on A4, upright or lying, as large as it fits,
// with its scale in the foot; or at true size. The same drawings give the same bytes. A fault names a drawing that is
// too large for a page.
func PDF(p Print, drawings ...Drawing) ([]byte, error) {
	if len(drawings) == 0 {
		return nil, fault.New(fault.Invalid, "There is nothing to print.")
	}
	letters, err := sfnt.Parse(liberationsansregular.TTF)
	if err != nil {
		return nil, err
	}
	w := &pdf{Fpdf: gofpdf.New("P", "mm", "A4", ""), letters: letters}
	w.SetCatalogSort(true)
	w.SetCreationDate(p.Made.UTC())
	w.SetModificationDate(p.Made.UTC())
	w.SetMargins(0, 0, 0)
	w.SetAutoPageBreak(false, 0)
	w.SetTitle(w.shown(p.Title), true)
	w.SetAuthor(w.shown(p.Author), true)
	w.SetCreator("foamwright", false)
	w.SetProducer("foamwright", false)
	w.AddUTF8FontFromBytes("sans", "", bytes.Clone(liberationsansregular.TTF)) // the library writes into what it is given
	w.SetLineJoinStyle("round")
	for i, d := range drawings {
		if p.True {
			if long := math.Max(d.Sheet.Width(), d.Sheet.Height()); long > largestPage {
				return nil, fault.New(fault.Invalid, "“%s” is %s mm long; a page of true size is %s mm at most. Print it on A4.", d.Title, mm(long), mm(largestPage))
			}
			w.trueSize(d)
		} else {
			w.onA4(d, fmt.Sprintf("%d of %d", i+1, len(drawings)))
		}
	}
	var out bytes.Buffer
	if err := w.Output(&out); err != nil {
		return nil, err
	}
	return inEnglish(out.Bytes())
}

// pdf writes one drawing after another, each scaled and moved on its page.
type pdf struct {
	*gofpdf.Fpdf
	letters *sfnt.Font
	buffer  sfnt.Buffer
	scale   float64
	from    geom.Point // of the page, mm
	corner  geom.Point // of the drawing, which lies there
}

func (w *pdf) trueSize(d Drawing) {
	w.AddPageFormat("P", gofpdf.SizeType{Wd: d.Sheet.Width(), Ht: d.Sheet.Height()})
	w.scale, w.from, w.corner = 1, geom.Point{}, d.Sheet.Min
	w.marks(d)
}

func (w *pdf) onA4(d Drawing, page string) {
	fits := func(wide, high float64) float64 {
		return math.Min((wide-2*a4Margin)/d.Sheet.Width(), (high-2*a4Margin-a4Foot)/d.Sheet.Height())
	}
	wide, high := a4Short, a4Long
	if fits(a4Long, a4Short) > fits(a4Short, a4Long) {
		wide, high = high, wide
	}
	w.AddPageFormat("P", gofpdf.SizeType{Wd: wide, Ht: high})
	w.scale = fits(wide, high)
	w.from = geom.Point{X: (wide - w.scale*d.Sheet.Width()) / 2, Y: a4Margin}
	w.corner = d.Sheet.Min
	w.marks(d.Plain())
	foot := fmt.Sprintf("%s · scale 1 : %s · page %s", d.Title, mm(1/w.scale), page)
	w.scale, w.from, w.corner = 1, geom.Point{}, geom.Point{}
	w.text(Text{Class: Remark, At: geom.Point{X: wide / 2, Y: high - a4Margin}, Size: 2.8, Anchor: Middle, Words: foot})
}

func (w *pdf) at(p geom.Point) (x, y float64) {
	return w.from.X + (p.X-w.corner.X)*w.scale, w.from.Y + (p.Y-w.corner.Y)*w.scale
}

func (w *pdf) marks(d Drawing) {
	for _, m := range d.Marks {
		switch m := m.(type) {
		case Area:
			w.area(m)
		case Lines:
			w.lines(m)
		case Dots:
			w.dots(m)
		case Text:
			w.text(m)
		}
	}
}

// chain is a path of the page, to be drawn.
func (w *pdf) chain(points []geom.Point, closed bool) {
	for i, p := range points {
		x, y := w.at(p)
		if i == 0 {
			w.MoveTo(x, y)
		} else {
			w.LineTo(x, y)
		}
	}
	if closed {
		w.ClosePath()
	}
}

// veiled sets how much a colour covers.
func (w *pdf) veiled(c Colour) { w.SetAlpha(float64(c&0xff)/255, "Normal") }

func (w *pdf) pen(c Colour, width float64, dash []float64) {
	v := c.NRGBA()
	w.veiled(c)
	w.SetDrawColor(int(v.R), int(v.G), int(v.B))
	w.SetLineWidth(width)
	lengths := make([]float64, len(dash))
	for i, d := range dash {
		lengths[i] = d * w.scale
	}
	w.SetDashPattern(lengths, 0)
}

func (w *pdf) area(a Area) {
	if len(a.Region) == 0 {
		return
	}
	c := a.Fill.or(a.Class.own())
	v := c.NRGBA()
	w.SetFillColor(int(v.R), int(v.G), int(v.B))
	style := "f*"
	w.veiled(c)
	if a.Pen > 0 {
		w.pen(Ink.own(), a.Pen*w.scale, nil)
		w.veiled(c)
		style = "b*"
	}
	for _, ring := range rings(a.Region) {
		w.chain(ring, true)
	}
	w.DrawPath(style)
}

func (w *pdf) lines(l Lines) {
	w.SetLineCapStyle("butt")
	if l.True {
		w.SetLineCapStyle("round")
	}
	w.pen(l.Colour.or(l.Class.own()), l.Pen*w.scale, l.Dash)
	for _, c := range l.Chains {
		if len(c) > 1 {
			w.chain(c, false)
		}
	}
	w.DrawPath("D")
}

func (w *pdf) dots(d Dots) {
	c := d.Fill.or(d.Class.own())
	v := c.NRGBA()
	w.veiled(c)
	w.SetFillColor(int(v.R), int(v.G), int(v.B))
	for _, p := range d.At {
		x, y := w.at(p)
		w.Circle(x, y, d.Diameter*w.scale/2, "F")
	}
}

func (w *pdf) text(t Text) {
	c := t.Class.own()
	v := c.NRGBA()
	w.veiled(c)
	w.SetTextColor(int(v.R), int(v.G), int(v.B))
	w.SetFont("sans", "", 0)
	w.SetFontUnitSize(t.Size * w.scale)
	words := w.shown(t.Words)
	x, y := w.at(t.At)
	along := x
	switch t.Anchor {
	case Middle:
		along -= w.GetStringWidth(words) / 2
	case End:
		along -= w.GetStringWidth(words)
	}
	if t.Turn != 0 {
		w.TransformBegin()
		w.TransformRotate(-t.Turn, x, y)
		defer w.TransformEnd()
	}
	w.Text(along, y, words)
}

// shown is a text with boxes for letters that the typeface lacks, or that the library does not know.
func (w *pdf) shown(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		if glyph, err := w.letters.GlyphIndex(&w.buffer, r); err != nil || glyph == 0 || r > 0xffff {
			return '□'
		}
		return r
	}, s)
}

// inEnglish writes into a file what the library cannot: its language, and that its title is shown. The catalogue is
// the last object, so that of all places only that of the table of places moves (ISO 32000-1, 7.5.4, from memory).
func inEnglish(doc []byte) ([]byte, error) {
	const root, more, table = "/Type /Catalog\n", "/Lang (en)\n/ViewerPreferences <</DisplayDocTitle true>>\n", "\nstartxref\n"
	catalogue, end := bytes.LastIndex(doc, []byte(root)), bytes.LastIndex(doc, []byte(table))
	places := bytes.LastIndex(doc, []byte("\nxref\n")) + 1
	if catalogue < 0 || places < catalogue || end < places {
		return nil, fmt.Errorf("drawing: a document of %d bytes without a catalogue at its end", len(doc))
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, "%s%s%s%s%d\n%%%%EOF\n", doc[:catalogue+len(root)], more, doc[catalogue+len(root):end], table, places+len(more))
	return out.Bytes(), nil
}
