package pdf

import (
	"foamwright/pricing/sales"
)

// whatWidth is the room for what is charged, mm.
const whatWidth = 70.0

// price prints the entries and the sums under them. Entries may go over a page; the last stays with the sums.
func (q *quote) price(list []sales.Entry) {
	var blocks []*block
	for i, e := range list {
		if i == 0 { // the title stands in full above the drawing; here it has to stay a line
			e.What = q.short(e.What, text, whatWidth).text
		}
		b := q.entry(e)
		if i == 0 {
			named := &block{height: 5}
			named.text(0, named.height+4.9, q.set(q.tongue.Say("Price"), aside))
			named.text(0, named.height+4.9+fine.lead+0.6, q.set(q.tongue.Say("in %s", q.Estimate.Price.Gross.Currency()), fine))
			named.under(b)
			b = named
		}
		blocks = append(blocks, b)
	}
	sums := blocks[len(blocks)-1]
	var remarks []string
	for _, e := range q.Sums() {
		if e.Amount.Currency() == "" {
			remarks = append(remarks, e.What)
			continue
		}
		sums.under(q.entry(e))
	}
	sums.under(q.total())
	for _, r := range remarks {
		sums.under(q.remark(r))
	}
	q.together(blocks...)
}

// entry is a line of what, how and how much, with a hairline over it.
func (q *quote) entry(e sales.Entry) *block {
	const row, base = 6.6, 4.6
	b := &block{}
	lines := q.wrap(e.What, text, whatWidth)
	last := b.texts(inset, base, lines) - text.lead
	if e.How != "" {
		b.right(full-30, last, q.set(e.How, quiet))
	}
	b.right(full, last, q.set(q.tongue.Money(e.Amount), text))
	b.height = last - base + row
	b.rule(inset, full, 0, 0.1, hair)
	return b
}

// total is what the customer pays.
func (q *quote) total() *block {
	b := &block{height: 11}
	b.rule(inset, full, 0, 0.2, ink)
	b.rule(inset, full, 0.7, 0.2, ink)
	b.text(inset, 7.6, q.set(q.tongue.Say("Total"), title))
	b.right(full, 7.6, q.set(q.tongue.Price(q.Estimate.Price.Gross), title))
	return b
}

func (q *quote) remark(s string) *block {
	b := &block{}
	b.height = b.texts(inset, 2.5, q.wrap(s, fine, full-inset))
	return b
}

// payment is three figures side by side: deposit, balance, earliest finish; those there are none of are left out.
func (q *quote) payment() {
	p, out := q.Estimate.Price, q.Estimate.Outlook
	type fact struct{ what, value, note string }
	var facts []fact
	if p.Deposit.Sign() > 0 {
		note := q.tongue.Say("Books the bench.")
		if p.Balance.Sign() == 0 {
			note = q.tongue.Say("The whole price; books the bench.")
		}
		facts = append(facts, fact{q.tongue.Say("Deposit"), q.tongue.Price(p.Deposit), note})
	}
	if p.Balance.Sign() > 0 {
		facts = append(facts, fact{q.tongue.Say("Balance"), q.tongue.Price(p.Balance), q.tongue.Say("Due before hand-over.")})
	}
	if !out.Ready.IsZero() {
		note := q.tongue.Say("On an empty bench, begun on %s.", q.tongue.Date(out.Start))
		if by := q.Estimate.Shield.Spec.Delivery.By; !by.IsZero() && out.Ready.After(by.AddDate(0, 0, 1)) {
			note += " " + q.tongue.Say("You asked for %s.", q.tongue.Date(by))
		}
		facts = append(facts, fact{q.tongue.Say("Earliest finish"), q.tongue.Date(out.Ready), note})
	}
	b := &block{}
	const gap = 6.0
	width := (full - inset + gap) / 3
	for i, f := range facts {
		x := inset + float64(i)*width
		b.text(x, 5, q.set(f.what, fine))
		y := b.texts(x, 11, q.wrap(f.value, figure, width-gap))
		y = b.texts(x, y-0.6, q.wrap(f.note, fine, width-gap))
		b.height = max(b.height, y)
	}
	if len(facts) > 0 {
		q.add(b)
	}
}
