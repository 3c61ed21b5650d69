package pdf

import (
	"fmt"

	"foamwright/materials/drawing"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// Ink, a quieter ink, hairlines, and the one accent.
const (
	ink    shade = 0x24272c
	soft   shade = 0x6a6d70
	hair   shade = 0xcfc6b4
	accent shade = 0x2e6b5f
)

// The styles of type.
var (
	heading = style{serif, 23, 9, ink}
	title   = style{serif, 16, 7, ink}
	figure  = style{serif, 13, 5.6, ink}
	aside   = style{serif, 11.5, 5, ink}
	text    = style{sans, 9, 4.5, ink}
	quiet   = style{sans, 9, 4.5, soft}
	fine    = style{sans, 8, 3.9, soft}
	terms   = style{sans, 8.5, 4.1, ink}
)

// inset is where the texts of a section begin; its name stands to the left of it.
const inset = 38.0

// The largest and the least frame for the drawing, mm.
const largest, least = 86.0, 62.0

// quote is a sheet while it is laid out, block under block.
type quote struct {
	sales.Sheet
	paper
	tongue  words.Tongue
	drawing drawing.Drawing
	pixels  int // on the longer side of its picture
	png     []byte
}

// print puts it on pages.
func (q *quote) print() ([]byte, error) {
	foot := q.name()
	if q.Version > 1 {
		foot = q.tongue.Say("%s, version %d", foot, q.Version)
	}
	return q.bind(about{
		title: q.name() + ": " + q.Title, subject: q.tongue.Say("%s for %s", q.name(), q.Customer.Name), author: q.Workshop.Head.Name,
		foot: foot + "  ·  " + q.Workshop.Head.Name, date: q.Date, tongue: q.tongue,
	})
}

// compose lays everything out. The drawing is as large as leaves all on one page; or, where that is not to be had,
// the offer, with the small print on the next.
func (q *quote) compose() (err error) {
	q.drawing = face(q.Sheet).Plain()
	q.section(q.tongue.Say("Please note"), q.Cautions)
	q.section(q.tongue.Say("Terms"), q.Workshop.TermsIn(q.tongue.Code()))
	small := q.blocks
	if !q.fit(room-height(small)) && !q.fit(room) {
		q.offer(largest)
	}
	q.add(small...)
	if q.Estimate.Shield.Shapeless() {
		return nil
	}
	if q.png, err = drawing.PNG(q.drawing, q.pixels); err != nil {
		return fmt.Errorf("drawing of quote %s: %w", q.Number, err)
	}
	return nil
}

// fit lays the offer out with the largest drawing that keeps it within a height, if there is one.
func (q *quote) fit(within float64) bool {
	for frame := largest; frame >= least; frame -= 4 {
		if q.offer(frame); height(q.blocks) <= within {
			return true
		}
	}
	return false
}

func (q *quote) offer(frame float64) {
	q.blocks = nil
	q.head()
	q.facts()
	q.made(frame)
	q.price(q.Entries())
	q.options()
	q.payment()
}
