package pdf

import (
	"foamwright/pricing/sales"
)

// tickSide is the side of a box, mm.
const tickSide = 3.2

// options are what the customer may have besides or instead, each with a box to tick, its amount and what goes with it.
// Those of which only one can be had stand together below a line that says so. A quote without options prints nothing.
func (q *quote) options() {
	if len(q.Options) == 0 {
		return
	}
	t, regime := q.tongue, q.Estimate.Regime
	var blocks []*block
	for _, g := range sales.OptionGroups(q.Options) {
		if g.OneOf {
			b := &block{height: 6.2}
			b.text(inset, 4.6, q.set(t.Say("One of these:"), quiet))
			blocks = append(blocks, b)
		}
		for i, o := range g.Options {
			row := q.option(o, g.OneOf)
			if i == 0 && g.OneOf { // the line is never left alone at the foot of a page
				blocks[len(blocks)-1].under(row)
				continue
			}
			blocks = append(blocks, row)
		}
	}
	named := &block{height: 5}
	named.texts(0, named.height+4.9, q.wrap(t.Say("Options"), aside, inset-4))
	named.under(blocks[0])
	blocks[0] = named
	blocks[len(blocks)-1].height += 1.5
	blocks[len(blocks)-1].under(q.remark(sales.ExtraIs(t, regime) + " " + t.Say("Tick what you would like to have; it changes the price by what stands beside it.")))
	q.together(blocks...)
}

// option is one option: its box, its name, its amount, and small print below.
func (q *quote) option(o sales.PrintedOption, inGroup bool) *block {
	const base = 4.6
	left := inset
	if inGroup {
		left += 5
	}
	from := left + tickSide + 3
	const amountRoom = 34
	b := &block{}
	b.rule(left, full, 0, 0.1, hair)
	b.box(left, base-tickSide+0.5)
	y := b.texts(from, base, q.wrap(o.Name, text, full-from-amountRoom))
	b.right(full, base, q.set(sales.Extra(q.tongue, o, q.Estimate.Price.Gross.Currency()), text))
	for _, note := range sales.OptionNotes(q.tongue, q.Options, o, q.Estimate.Shield.Spec.Delivery.By) {
		y = b.texts(from, y-0.4, q.wrap(note, fine, full-from-amountRoom)) + 0.4
	}
	b.height = y - text.lead + 6.6 - base
	return b
}
