package pdf

import (
	"fmt"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// whatWidth is the room for what is charged, mm.
const whatWidth = 70.0

// entry is one line of the price as a customer reads it. What the workshop's costs are stays inside.
type entry struct {
	what, how string
	amount    money.Amount
}

// entries lead from the pieces to the net price and add up to it by eye.
func (q *quote) entries() []entry {
	p := q.Estimate.Price
	// The rush surcharge is inside UnitNet; here it has its own line.
	pieces := p.UnitNet.Times(p.Quantity).Sub(p.Rush)
	each := money.Round(pieces.Decimal().Div(decimal.NewFromInt(int64(p.Quantity))), pieces.Currency())
	// The title stands in full above the drawing; here it has to stay a line.
	list := []entry{{q.short(q.Title, text, whatWidth).text, fmt.Sprintf("%d × %s", p.Quantity, words.Money(each)), pieces}}
	for _, l := range p.Lines {
		switch l.Key {
		case "rush", "minimum", "discount", "fee", "rounding":
			e := entry{l.Label, "", l.Amount}
			if by := q.Estimate.Shield.Spec.Delivery.By; l.Key == "rush" && !by.IsZero() {
				e.how = "by " + words.Date(by)
			}
			list = append(list, e)
		}
	}
	return list
}

// price prints the entries and the sums under them. Entries may go over a page; the last stays with the sums.
func (q *quote) price(list []entry) {
	p := q.Estimate.Price
	var blocks []*block
	for i, e := range list {
		b := q.entry(e)
		if i == 0 {
			named := &block{height: 5}
			named.text(0, named.height+4.9, q.set("Price", aside))
			named.text(0, named.height+4.9+fine.lead+0.6, q.set("in "+string(p.Gross.Currency()), fine))
			named.under(b)
			b = named
		}
		blocks = append(blocks, b)
	}
	sums := blocks[len(blocks)-1]
	if !q.Workshop.Figures.Tax.Registered {
		sums.under(q.total())
		sums.under(q.remark("No tax is charged: the workshop is not registered for it."))
	} else {
		sums.under(q.entry(entry{"Net", "", p.Net}))
		sums.under(q.entry(entry{fmt.Sprintf("%s %s %%", p.Rate.Name, p.Rate.Percent), "", p.Tax}))
		sums.under(q.total())
	}
	q.together(blocks...)
}

// entry is a line of what, how and how much, with a hairline over it.
func (q *quote) entry(e entry) *block {
	const row, base = 6.6, 4.6
	b := &block{}
	lines := q.wrap(e.what, text, whatWidth)
	last := b.texts(inset, base, lines) - text.lead
	if e.how != "" {
		b.right(full-30, last, q.set(e.how, quiet))
	}
	b.right(full, last, q.set(words.Money(e.amount), text))
	b.height = last - base + row
	b.rule(inset, full, 0, 0.1, hair)
	return b
}

// total is what the customer pays.
func (q *quote) total() *block {
	b := &block{height: 11}
	b.rule(inset, full, 0, 0.2, ink)
	b.rule(inset, full, 0.7, 0.2, ink)
	b.text(inset, 7.6, q.set("Total", title))
	b.right(full, 7.6, q.set(words.Price(q.Estimate.Price.Gross), title))
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
		note := "Books the bench."
		if p.Balance.Sign() == 0 {
			note = "The whole price; books the bench."
		}
		facts = append(facts, fact{"Deposit", words.Price(p.Deposit), note})
	}
	if p.Balance.Sign() > 0 {
		facts = append(facts, fact{"Balance", words.Price(p.Balance), "Due before hand-over."})
	}
	if !out.Ready.IsZero() {
		note := "On an empty bench, begun on " + words.Date(out.Start) + "."
		if by := q.Estimate.Shield.Spec.Delivery.By; !by.IsZero() && out.Ready.After(by.AddDate(0, 0, 1)) {
			note += " You asked for " + words.Date(by) + "."
		}
		facts = append(facts, fact{"Earliest finish", words.Date(out.Ready), note})
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
