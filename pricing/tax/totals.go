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

func byRate(lines []Line) (groups [][]Line) {
	for _, l := range lines {
		i := slices.IndexFunc(groups, func(g []Line) bool {
			return g[0].Rate.Code == l.Rate.Code && g[0].Rate.Percent.Equal(l.Rate.Percent)
		})
		if i < 0 {
			groups, i = append(groups, nil), len(groups)
		}
		groups[i] = append(groups[i], l)
	}
	return groups
}
