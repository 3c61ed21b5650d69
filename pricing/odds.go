package pricing

import (
	"github.com/shopspring/decimal"

	"foamwright/pricing/labour"
	"foamwright/pricing/money"
)

// keeps is the chance that a price leaves the margin it was made with: that the hours, which scatter, cost no more than
// what is left of the net price after fee, margin and everything that is no labour. The contingency is there to be used.
// Hours are taken as normal, with mean and variance of their steps (low, likely, high), the steps as independent: a day
// on which everything goes slowly is rarer so than in life. Four places, 0 to 1.
func keeps(b BuildUp, work labour.Work, r Rates) decimal.Decimal {
	room := b.Net.Sub(b.Fee).Decimal().Mul(one.Sub(r.Margin)).Sub(money.Sum(r.Currency, b.Material, b.Handling, b.BoughtIn).Decimal())
	mean, variance := decimal.Zero, decimal.Zero
	for _, g := range work.Grades {
		rate := r.hour(g.Grade)
		mean = mean.Add(rate.Mul(g.Expected))
		variance = variance.Add(rate.Mul(rate).Mul(g.Variance))
	}
	deviation, err := variance.SqrtRound(oddsPlaces)
	if err != nil || !deviation.IsPositive() {
		if room.LessThan(mean) {
			return decimal.Zero
		}
		return one
	}
	return normal(room.Sub(mean).DivRound(deviation, oddsPlaces)).Round(4)
}

// oddsPlaces are far finer than any chance that is shown.
const oddsPlaces = 12

// normal is the share of a standard normal distribution below z: 1/2 + φ(z) (z + z³/3 + z⁵/(3·5) + …), which gets
// there for every z; beyond 6 nothing is left.
func normal(z decimal.Decimal) decimal.Decimal {
	far := decimal.NewFromInt(6)
	switch {
	case z.GreaterThan(far):
		return one
	case z.LessThan(far.Neg()):
		return decimal.Zero
	}
	square := z.Mul(z).Round(oddsPlaces)
	sum, term := z, z
	for odd := int64(3); !term.IsZero(); odd += 2 {
		term = term.Mul(square).DivRound(decimal.NewFromInt(odd), 2*oddsPlaces)
		sum = sum.Add(term)
	}
	density, err := square.DivRound(decimal.NewFromInt(-2), oddsPlaces).ExpTaylor(2 * oddsPlaces)
	if err != nil { // an exponent between -18 and 0 has a power
		return one
	}
	const rootTwoPi = 3989422804014326779 // of 1/√(2π), 19 places
	return decimal.New(5, -1).Add(density.Mul(decimal.New(rootTwoPi, -19)).Mul(sum)).Round(oddsPlaces)
}
