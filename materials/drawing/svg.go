package drawing

import (
	"encoding/xml"
	"fmt"
	"math"
	"strings"
)

// SVG writes the drawing for a page: mm in its view box, classes and presentation attributes and nothing else, so
// that it needs no style of its own and still looks right without a page. Pens keep their width on the screen at
// any size; what has a true width scales with the work. Places are rounded to 0.1 mm, or a hundredth of that
// under 200 mm. A page gives its colours to the classes ground, grid, grid-bold, ink, dimension, remark, squares, centre and
// former: fill for ground and text, stroke for the others.
func SVG(d Drawing) string {
	large := math.Max(d.Sheet.Width(), d.Sheet.Height())
	w := &svg{d: d, places: 1, close: large / 20000}
	if large < 200 {
		w.places = 3
	}
	s := d.Sheet
	w.put(`<svg xmlns="http://www.w3.org/2000/svg" class="drawing `, d.View, `" viewBox="`,
		w.num(s.Min.X), " ", w.num(s.Min.Y), " ", w.num(s.Width()), " ", w.num(s.Height()),
		`" role="img" aria-label="`, escaped(d.Title), `" fill="none" fill-rule="evenodd" stroke-linejoin="round" font-family="Liberation Sans, Arial, Helvetica, sans-serif"><title>`,
		escaped(d.Title), `</title><desc>`, escaped(d.Words), `</desc>`)
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
	w.put("</svg>")
	return w.String()
}

type svg struct {
	strings.Builder
	d      Drawing
	places int
	close  float64 // how closely chains are followed, mm
}

func (w *svg) put(parts ...string) {
	for _, p := range parts {
		w.WriteString(p)
	}
}

// pixels is the width of a pen on the screen: a text of the usual size counts as 19 pixels, as it is when a
// drawing fills a desk screen.
func (w *svg) pixels(pen float64) string { return trimmed(math.Max(pen/w.d.Text*19, 0.4), 2) }

func (w *svg) area(a Area) {
	class := string(a.Class)
	if a.Pen > 0 {
		class += " " + string(Ink)
	}
	w.put(`<path class="`, class, `"`, paint("fill", a.Fill.or(a.Class.own())))
	if a.Pen > 0 {
		w.put(paint("stroke", Ink.own()), ` stroke-width="`, w.pixels(a.Pen), `" vector-effect="non-scaling-stroke"`)
	}
	w.put(` d="`)
	for _, s := range a.Region {
		w.chain(s.Outer, true)
		for _, hole := range s.Holes {
			w.chain(hole, true)
		}
	}
	w.put(`"/>`)
}

func (w *svg) lines(l Lines) {
	w.put(`<path class="`, string(l.Class), `"`, paint("stroke", l.Colour.or(l.Class.own())))
	unit := 1.0
	if l.True {
		w.put(` stroke-width="`, w.num(l.Pen), `" stroke-linecap="round"`)
	} else {
		w.put(` stroke-width="`, w.pixels(l.Pen), `" vector-effect="non-scaling-stroke"`)
		unit = 19 / w.d.Text
	}
	if len(l.Dash) > 0 {
		lengths := make([]string, len(l.Dash))
		for i, v := range l.Dash {
			lengths[i] = trimmed(v*unit, 1)
		}
		w.put(` stroke-dasharray="`, strings.Join(lengths, " "), `"`)
	}
	w.put(` d="`)
	for _, c := range l.Chains {
		w.chain(c, false)
	}
	w.put(`"/>`)
}

// dots are lines without a length and with round ends: the shortest way to write many.
func (w *svg) dots(d Dots) {
	w.put(`<path class="`, string(d.Class), `"`, paint("stroke", d.Fill.or(d.Class.own())), ` stroke-width="`, w.num(d.Diameter), `" stroke-linecap="round" d="`)
	for _, p := range d.At {
		w.put("M", w.num(p.X), " ", w.num(p.Y), "h0")
	}
	w.put(`"/>`)
}

func (w *svg) text(t Text) {
	x, y := w.num(t.At.X), w.num(t.At.Y)
	w.put(`<text class="`, string(t.Class), `"`, paint("fill", t.Class.own()), ` font-size="`, w.num(t.Size), `" text-anchor="`, string(t.Anchor), `" x="`, x, `" y="`, y, `"`)
	if t.Turn != 0 {
		w.put(` transform="rotate(`, trimmed(t.Turn, 1), " ", x, " ", y, `)"`)
	}
	w.put(">", escaped(t.Words), "</text>")
}

// paint is a colour as presentation attributes.
func paint(what string, c Colour) string {
	s := fmt.Sprintf(` %s="#%06x"`, what, uint32(c>>8))
	if a := c & 0xff; a < 0xff {
		s += fmt.Sprintf(` %s-opacity="%s"`, what, trimmed(float64(a)/255, 2))
	}
	return s
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder does not fail
	return b.String()
}
