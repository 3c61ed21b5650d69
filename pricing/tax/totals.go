package tax

import (
	"slices"

	"foamwright/pricing/money"
)

// Line is one printed line: its amount is net, or gross in a regime of gross prices. A discount is a line below zero.
type Line struct {
	Amount money.Amount
	Rate   Rate
}

// Share is what stands under one rate. Net + Tax = Gross.
type Share struct {
	Rate            Rate
	Net, Tax, Gross money.Amount
}

// Totals is the foot of a document. The shares sum to it and come in the order in which their rates first appear;
// there are none when the workshop is not registered.
type Totals struct {
	Shares          []Share
	Net, Tax, Gross money.Amount
}

// Totals sums the printed lines per rate (code and percentage) and works out the tax on each sum, or on each line
// where the regime says so. Sums of rounded amounts are not rounded again (EN 16931).
func (g Regime) Totals(c money.Currency, lines []Line) Totals {
	nothing := money.Sum(c)
	total := Totals{Net: nothing, Tax: nothing, Gross: nothing}
	for _, group := range byRate(lines) {
		rate, share := group[0].Rate, Share{group[0].Rate, nothing, nothing, nothing}
		amounts := make([]money.Amount, len(group))
		for i, l := range group {
			amounts[i] = l.Amount
		}
		if !g.PerLine {
			amounts = []money.Amount{money.Sum(c, amounts...)}
		}
		for _, a := range amounts {
			net, tax := a, g.Exclusive(a, rate)
			if g.GrossPrices {
				net, tax = g.Inclusive(a, rate)
			}
			share.Net, share.Tax = share.Net.Add(net), share.Tax.Add(tax)
		}
		share.Gross = share.Net.Add(share.Tax)
		total.Net, total.Tax, total.Gross = total.Net.Add(share.Net), total.Tax.Add(share.Tax), total.Gross.Add(share.Gross)
		if g.Registered {
			total.Shares = append(total.Shares, share)
		}
	}
	return total
}

// Add is both together, share by share.
func (t Totals) Add(u Totals) Totals { return t.and(u, money.Amount.Add) }

// Sub is what is left of t without u, share by share; a share of which nothing is left is left out.
func (t Totals) Sub(u Totals) Totals { return t.and(u, money.Amount.Sub) }

func (t Totals) and(u Totals, do func(a, b money.Amount) money.Amount) Totals {
	sum := Totals{Net: do(t.Net, u.Net), Tax: do(t.Tax, u.Tax), Gross: do(t.Gross, u.Gross), Shares: slices.Clone(t.Shares)}
	for _, s := range u.Shares {
		i := slices.IndexFunc(sum.Shares, func(o Share) bool { return same(o.Rate, s.Rate) })
		if i < 0 {
			nothing := s.Net.Sub(s.Net)
			i, sum.Shares = len(sum.Shares), append(sum.Shares, Share{s.Rate, nothing, nothing, nothing})
		}
		o := &sum.Shares[i]
		o.Net, o.Tax, o.Gross = do(o.Net, s.Net), do(o.Tax, s.Tax), do(o.Gross, s.Gross)
	}
	sum.Shares = slices.DeleteFunc(sum.Shares, func(s Share) bool { return s.Net.Sign() == 0 && s.Tax.Sign() == 0 })
	return sum
}

func same(a, b Rate) bool { return a.Code == b.Code && a.Percent.Equal(b.Percent) }

func byRate(lines []Line) (groups [][]Line) {
	for _, l := range lines {
		i := slices.IndexFunc(groups, func(g []Line) bool {
			return same(g[0].Rate, l.Rate)
		})
		if i < 0 {
			groups, i = append(groups, nil), len(groups)
		}
		groups[i] = append(groups[i], l)
	}
	return groups
}
