package pdf

import (
	"fmt"
	"slices"

	"foamwright/materials/drawing"
	"foamwright/pricing/sales"
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
	*setter
	drawing drawing.Drawing
	pixels  int // on the longer side of its picture
	png     []byte
	blocks  []*block
}

// compose lays everything out. The drawing is as large as leaves all on one page; or, where that is not to be had,
// the offer, with the small print on the next.
func (q *quote) compose() (err error) {
	q.drawing = drawing.Face(q.Estimate.Shield, q.Workshop.Figures.Catalogue.Swatches()).Plain()
	q.section("Please note", slices.Concat(q.Cautions, []string{"Local codes, product data sheets and the event's own check come before anything said here."}))
	q.section("Terms", q.Workshop.Terms)
	small := q.blocks
	if !q.fit(room-height(small)) && !q.fit(room) {
		q.offer(largest)
	}
	q.add(small...)
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
	q.price(q.entries())
	q.payment()
}

func height(blocks []*block) (mm float64) {
	for _, b := range blocks {
		mm += b.height
	}
	return mm
}

func (q *quote) add(blocks ...*block) { q.blocks = append(q.blocks, blocks...) }

// together is the blocks as one, where that is no great part of a page; else they may be parted.
func (q *quote) together(blocks ...*block) {
	const most = 80
	if height(blocks) > most {
		q.add(blocks...)
		return
	}
	var all block
	for _, b := range blocks {
		all.under(b)
	}
	q.add(&all)
}

// section is a name in the margin with paragraphs beside it; without paragraphs there is none.
func (q *quote) section(name string, paragraphs []string) {
	var blocks []*block
	for i, p := range paragraphs {
		list := q.paragraph(inset, p, terms, 1.3)
		if i == 0 {
			named := &block{height: 5}
			named.texts(0, named.height+3.1, q.wrap(name, aside, inset-4))
			named.under(list[0])
			list[0] = named
		}
		blocks = append(blocks, list...)
	}
	q.together(blocks...)
}

// paragraph is a text from x to the right edge and a gap below it, in blocks that are no great part of a page.
func (q *quote) paragraph(x float64, s string, st style, gap float64) (blocks []*block) {
	for lines := range slices.Chunk(q.wrap(s, st, full-x), 12) {
		b := &block{}
		b.height = b.texts(x, st.size*point, lines) - st.size*point
		blocks = append(blocks, b)
	}
	blocks[len(blocks)-1].height += gap
	return blocks
}
