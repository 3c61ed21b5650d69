package pdf

import (
	"slices"
	"strings"

	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// The columns of the tax: net, tax and gross end here, mm.
const (
	netEnd = 112.0
	taxEnd = 138.0
)

// sums are the tax by rate, the total, and what of it is left to pay.
func (i *invoice) sums() *block {
	t := i.tongue
	all := &block{height: 5}
	if !i.free() {
		h := &block{height: 5}
		h.right(netEnd, 3.2, i.set(t.Say("without tax"), fine))
		h.right(taxEnd, 3.2, i.set(t.Say("tax"), fine))
		h.right(full, 3.2, i.set(t.Say("with tax"), fine))
		h.rule(inset, full, h.height, 0.1, hair)
		all.under(h)
		for _, s := range i.Totals.Shares {
			all.under(i.share(i.rate(s.Rate), s))
		}
		if len(i.Totals.Shares) > 1 {
			all.under(i.share(t.Say("Together"), tax.Share{Net: i.Totals.Net, Tax: i.Totals.Tax, Gross: i.Totals.Gross}))
		}
	}
	what := t.Say("Total")
	if i.credit() {
		what = t.Say("Total credited")
	}
	all.under(i.total(what, i.Totals.Gross))
	if i.Paid.Sign() == 0 && i.Rounding.Sign() == 0 {
		return all
	}
	if i.Paid.Sign() != 0 {
		all.under(i.sum(t.Say("Paid already"), i.Paid.Neg()))
	}
	if i.Rounding.Sign() != 0 {
		all.under(i.sum(t.Say("Rounded"), i.Rounding))
	}
	all.under(i.total(t.Say("To pay"), i.Payable()))
	return all
}

// rate names a rate, with the reason where none is charged and no remark says it.
func (i *invoice) rate(r tax.Rate) string {
	name := i.tongue.Wording(r.Name) + " " + i.tongue.Percent(r.Percent)
	reason := i.tongue.Wording(r.Reason)
	if reason == "" || slices.ContainsFunc(i.Remarks, func(s string) bool { return strings.Contains(s, reason) }) {
		return name
	}
	return name + ": " + reason
}

func (i *invoice) share(what string, s tax.Share) *block {
	const base = 4.4
	b := &block{}
	b.height = b.texts(inset, base, i.wrap(what, text, netEnd-inset-26)) - text.lead + 2.2
	for _, c := range []struct {
		from, end float64
		amount    money.Amount
	}{{netEnd - 26, netEnd, s.Net}, {netEnd, taxEnd, s.Tax}, {taxEnd, full, s.Gross}} {
		b.right(c.end, base, i.fit(i.tongue.Money(c.amount), text, c.end-c.from-1))
	}
	b.rule(inset, full, b.height, 0.1, hair)
	return b
}

// sum is a line between two totals.
func (i *invoice) sum(what string, a money.Amount) *block {
	b := &block{height: 6.6}
	b.text(inset, 4.4, i.set(what, text))
	b.right(full, 4.4, i.set(i.tongue.Money(a), text))
	return b
}

// total is an amount with its currency under a double rule.
func (i *invoice) total(what string, a money.Amount) *block {
	b := &block{height: 11}
	b.rule(inset, full, 0, 0.2, ink)
	b.rule(inset, full, 0.7, 0.2, ink)
	b.text(inset, 7.6, i.set(what, title))
	b.right(full, 7.6, i.fit(i.tongue.Price(a), title, full-inset-45))
	return b
}
