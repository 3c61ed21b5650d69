package pattern

import (
	"bytes"
	"fmt"
	"time"

	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/phpdave11/gofpdf"
)

// Head is what the file says of itself.
type Head struct {
	Title, Author string
	Made          time.Time // the file's date
}

// PDF writes pages at their true size: 1 mm of a page is 1 mm on paper, lines are lines. The same pages and head give
// the same bytes. It asks viewers not to scale when they print.
func PDF(h Head, pages []Page) ([]byte, error) {
	if len(pages) == 0 {
		return nil, fmt.Errorf("pattern: no pages to print")
	}
	l, err := newLetters()
	if err != nil {
		return nil, err
	}
	f := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "mm", Size: gofpdf.SizeType{Wd: pages[0].Width, Ht: pages[0].Height}})
	f.SetCatalogSort(true)
	f.SetCreationDate(h.Made.UTC())
	f.SetModificationDate(h.Made.UTC())
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetTitle(l.shown(clean(h.Title)), true)
	f.SetAuthor(l.shown(clean(h.Author)), true)
	f.SetCreator("foamwright", false)
	f.SetProducer("foamwright", false)
	f.AddUTF8FontFromBytes("sans", "", bytes.Clone(liberationsansregular.TTF)) // the library writes into what it is given
	f.SetLineJoinStyle("round")
	f.SetLineCapStyle("butt")
	for _, p := range pages {
		f.AddPageFormat("P", gofpdf.SizeType{Wd: p.Width, Ht: p.Height})
		w := printer{f, l}
		w.page(p)
	}
	var out bytes.Buffer
	if err := f.Output(&out); err != nil {
		return nil, fmt.Errorf("pattern: %w", err)
	}
	return finish(out.Bytes())
}

// printer writes marks on the current page.
type printer struct {
	*gofpdf.Fpdf
	*letters
}

func (w printer) page(p Page) {
	for _, a := range p.Areas {
		w.SetFillColor(a.Grey, a.Grey, a.Grey)
		points := make([]gofpdf.PointType, len(a.Ring))
		for i, q := range a.Ring {
			points[i] = gofpdf.PointType{X: q.X, Y: q.Y}
		}
		w.Polygon(points, "F")
	}
	// Quiet lines first, so that a cut line is never broken by a frame.
	for _, quiet := range [2]bool{true, false} {
		for _, s := range p.Strokes {
			if c := s.Class; quiet != (c == Cut || c == Trim || c == Fold) {
				w.stroke(s)
			}
		}
	}
	for _, t := range p.Texts {
		w.text(t)
	}
}

func (w printer) stroke(s Stroke) {
	width, dash, grey := s.Class.pen()
	w.SetLineWidth(width)
	w.SetDrawColor(grey, grey, grey)
	w.SetDashPattern(dash, s.Phase)
	w.MoveTo(s.Chain[0].X, s.Chain[0].Y)
	last := len(s.Chain) - 1
	for i, q := range s.Chain[1:] {
		if i+1 == last && last > 1 && q == s.Chain[0] {
			w.ClosePath()
		} else {
			w.LineTo(q.X, q.Y)
		}
	}
	w.DrawPath("D")
}

func (w printer) text(t Text) {
	w.SetFont("sans", "", 0)
	w.SetFontUnitSize(t.Size)
	w.SetTextColor(t.Grey, t.Grey, t.Grey)
	words := w.shown(t.Words)
	x := t.At.X - w.width(words, t.Size)*float64(t.Anchor)/2
	if t.Turn != 0 {
		w.TransformBegin()
		w.TransformRotate(-t.Turn, t.At.X, t.At.Y)
		defer w.TransformEnd()
	}
	w.Text(x, t.At.Y, words)
}

// finish writes into the file what the library cannot: its language, that its title is shown, and that printing is not
// to scale it. The catalogue is the last object, so nothing that the cross-reference table points to moves; only the
// table itself does (ISO 32000-1, 7.5.4 and 12.2, from memory).
func finish(doc []byte) ([]byte, error) {
	const (
		root    = "/Type /Catalog\n"
		entries = "/Lang (en)\n/ViewerPreferences <</DisplayDocTitle true /PrintScaling /None>>\n"
		table   = "\nstartxref\n"
	)
	catalog, start := bytes.LastIndex(doc, []byte(root)), bytes.LastIndex(doc, []byte(table))
	xref := bytes.LastIndex(doc, []byte("\nxref\n")) + 1
	if catalog < 0 || xref < catalog || start < xref {
		return nil, fmt.Errorf("pattern: a document of %d bytes without a catalogue at its end", len(doc))
	}
	var out bytes.Buffer
	out.Grow(len(doc) + len(entries) + 8)
	out.Write(doc[:catalog+len(root)])
	out.WriteString(entries)
	out.Write(doc[catalog+len(root) : start])
	fmt.Fprintf(&out, "%s%d\n%%%%EOF\n", table, xref+len(entries))
	return out.Bytes(), nil
}
