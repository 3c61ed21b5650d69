package sales

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// part is a sum with tax taken out of what is left of something, split into net and tax. All of it is what is left to
// the cent, so that parts sum to the whole in net, tax and gross; before that, neither net nor tax is more than is
// left of it.
func (t Terms) part(left tax.Totals, gross money.Amount) tax.Totals {
	if gross.Equal(left.Gross) {
		return left
	}
	if !t.Regime.Registered {
		return tax.Totals{Net: gross, Tax: gross.Sub(gross), Gross: gross}
	}
	_, charged := t.Regime.Inclusive(gross, t.Rate)
	charged = least(charged, left.Tax)
	if net := gross.Sub(charged); net.Cmp(left.Net) > 0 {
		charged = gross.Sub(left.Net)
	}
	net := gross.Sub(charged)
	if gross.Sign() == 0 {
		return tax.Totals{Net: gross, Tax: gross, Gross: gross}
	}
	return tax.Totals{Shares: []tax.Share{{Rate: t.Rate, Net: net, Tax: charged, Gross: gross}}, Net: net, Tax: charged, Gross: gross}
}

// within tells that nothing of a part is more than there is of the whole.
func within(part, whole tax.Totals) bool {
	return part.Net.Cmp(whole.Net) <= 0 && part.Tax.Cmp(whole.Tax) <= 0 && part.Gross.Cmp(whole.Gross) <= 0
}

// billed are the lines of an order as an invoice prints them. With tax inside the prices, every line's net is near its
// share of the whole net: the cents that rounding leaves go to the largest lines. Pieces that have no price each to the
// cent are one line of several pieces.
func (o Order) billed(in words.Tongue) []BillLine {
	c, terms, made := o.Deposit.Currency(), o.Terms, o
	made.Lines = slices.DeleteFunc(slices.Clone(o.Lines), func(l OrderLine) bool { return l.Kind == CancelLine })
	lines, net, weights := make([]BillLine, len(made.Lines)), money.Sum(c), make([]decimal.Decimal, len(made.Lines))
	for i, l := range made.Lines {
		b := BillLine{Text: l.Text, Quantity: decimal.NewFromInt(int64(l.Quantity)), Amount: l.Amount, Net: l.Amount, Rate: terms.Rate}
		if each := money.Round(l.Amount.Decimal().Div(b.Quantity), c); each.Times(l.Quantity).Equal(l.Amount) {
			b.Each = each
		} else {
			b.Text, b.Quantity, b.Each = strings.TrimPrefix(l.Text+", ", ", ")+in.Say("%d pieces", l.Quantity), decimal.NewFromInt(1), l.Amount
		}
		if terms.Regime.GrossPrices {
			b.Net, _ = terms.Regime.Inclusive(l.Amount, terms.Rate)
		}
		lines[i], net, weights[i] = b, net.Add(b.Net), l.Amount.Decimal().Abs()
	}
	sums := made.Totals()
	if over := sums.Net.Sub(net); over.Sign() != 0 {
		for i, cents := range money.Allocate(over, weights) {
			lines[i].Net = lines[i].Net.Add(cents)
		}
	}
	for _, l := range o.Lines {
		if l.Kind == CancelLine {
			made.Lines = append(made.Lines, l)
			text := l.Text
			if text == "" {
				text = in.Say("Not charged: the order was cancelled")
			}
			lines = append(lines, terms.line(text, made.Totals().Sub(sums)))
			sums = made.Totals()
		}
	}
	return lines
}

// line is a line that stands for totals, or takes them off.
func (t Terms) line(text string, sums tax.Totals) BillLine {
	b := BillLine{Text: text, Quantity: decimal.NewFromInt(1), Amount: sums.Net, Net: sums.Net, Rate: t.Rate}
	if t.Regime.GrossPrices && t.Regime.Registered {
		b.Amount = sums.Gross
	}
	b.Each = b.Amount
	return b
}

func negative(t tax.Totals) tax.Totals {
	return tax.Totals{Net: t.Net.Sub(t.Net), Tax: t.Tax.Sub(t.Tax), Gross: t.Gross.Sub(t.Gross)}.Sub(t)
}

func least(a, b money.Amount) money.Amount {
	if a.Cmp(b) < 0 {
		return a
	}
	return b
}
