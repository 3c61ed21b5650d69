// Package figures tells what pays: margins of designs, what a scarce hour brings, what a price rise does.
//
// Units: money is money.Amount without tax; shares are fractions, 0.25 for 25 %; hours at the bench as they are
// charged; days of a place are 24 hours from the first touch to the end of the wait. A margin is a share of the
// price, a markup a share of the cost: they are types of their own, so that one is never taken for the other.
// Limits: one currency; pure computation from estimates and documents, nothing is stored.
package figures

import (
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing"
	"foamwright/pricing/money"
)

// places is how many places a ratio keeps.
const places = 8

var (
	one     = decimal.NewFromInt(1)
	hundred = decimal.NewFromInt(100)
	sixty   = decimal.NewFromInt(60)
)

// Margin is what is earned as a share of the price.
type Margin struct{ Share decimal.Decimal }

// Markup is what is earned as a share of the cost.
type Markup struct{ Share decimal.Decimal }

// MarginOf is the margin of a price, 0 where nothing is asked.
func MarginOf(price, cost money.Amount) Margin {
	return Margin{ratio(price.Sub(cost).Decimal(), price.Decimal())}
}

// MarginIn is the margin of an order: what is earned of the net price after the payment fee.
func MarginIn(c pricing.Costing) Margin { return MarginOf(c.Net.Sub(c.Fee), c.Cost()) }

// Markup is the same as a share of the cost. A margin of the whole price or more has none: the cost would be nothing.
func (m Margin) Markup() (Markup, error) {
	if m.Share.GreaterThanOrEqual(one) {
		var l fault.List
		l.Add("margin", m.Percent(), "A margin is less than 100 % of the price. Write a smaller one.")
		return Markup{}, l.Err()
	}
	return Markup{m.Share.DivRound(one.Sub(m.Share), places)}, nil
}

// Margin is the same as a share of the price. A markup of −100 % or less leaves no price.
func (m Markup) Margin() (Margin, error) {
	if m.Share.LessThanOrEqual(one.Neg()) {
		var l fault.List
		l.Add("markup", m.Percent(), "A markup is more than −100 % of the cost. Write a larger one.")
		return Margin{}, l.Err()
	}
	return Margin{m.Share.DivRound(one.Add(m.Share), places)}, nil
}

// Price is the price that leaves a margin over a cost.
func (m Margin) Price(cost money.Amount) (money.Amount, error) {
	up, err := m.Markup()
	if err != nil {
		return cost, err
	}
	return money.Round(cost.Decimal().Mul(one.Add(up.Share)), cost.Currency()), nil
}

// Percent writes it with one place: "25.0 %".
func (m Margin) Percent() string { return percent(m.Share) }

// Percent writes it with one place: "33.3 %".
func (m Markup) Percent() string { return percent(m.Share) }

func percent(share decimal.Decimal) string {
	return signedText(share.Mul(hundred).StringFixed(1)) + "\u00a0%"
}

// ratio is a ÷ b, 0 where b is.
func ratio(a, b decimal.Decimal) decimal.Decimal {
	if b.IsZero() {
		return decimal.Zero
	}
	return a.DivRound(b, places)
}
