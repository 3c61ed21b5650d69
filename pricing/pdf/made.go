package pdf

import (
	"math"

	"foamwright/materials/shield"
	"foamwright/pricing/sales"
)

// dotsPerInch of the drawing's picture: fine enough for print, few enough to mail.
const dotsPerInch = 300

// made is the title, the dimensioned drawing, and beside it in words what will be made and how it meets the rule.
// frame is the side of the square the drawing has to fit, mm.
func (q *quote) made(frame float64) {
	b := &block{}
	y := b.texts(0, 6, q.wrap(q.Title, title, full)) - 1
	left, height, end := 0.0, 0.0, y+96
	if !q.Estimate.Shield.Shapeless() {
		sheet := q.drawing.Sheet
		scale := math.Min(frame/sheet.Width(), frame/sheet.Height())
		width := sheet.Width() * scale
		left, height = width+9, sheet.Height()*scale
		q.pixels = int(math.Max(width, height) / 25.4 * dotsPerInch)
		b.picture(0, y, width, height, &q.png)
	}
	at := y + 3
	b.text(left, at, q.set(q.tongue.Say("What will be made"), aside))
	at += 6
	said := q.Made
	if n := q.Estimate.Price.Quantity; n > 1 {
		said = append([]string{q.tongue.Say("%d pieces, all alike. Each of them:", n)}, said...)
	}
	for len(said) > 0 {
		lines := q.wrap(said[0], text, full-left)
		if at+float64(len(lines))*text.lead > end {
			break
		}
		at, said = b.texts(left, at, lines)+1.1, said[1:]
	}
	b.height = max(y+height, at) + 2
	q.add(b)
	for _, s := range said {
		q.add(q.paragraph(0, s, text, 1.1)...)
	}
	q.verdict()
}

// verdict is the answer to the size rule, marked by the accent where the shield fits.
func (q *quote) verdict() {
	b := &block{}
	b.height = b.texts(4, 5.2, q.wrap(sales.Judged(q.tongue, q.Estimate.Verdict), text, full-4))
	mark := ink
	if q.Estimate.Verdict.Answer == shield.Fits {
		mark = accent
	}
	b.bar(0.4, 2, b.height-text.lead+1.2, 0.8, mark)
	q.add(b)
}
