package figures

import (
	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
)

// BreakEven holds what is paid whether anything is sold or not against what was sold: units, pieces or hours, their net
// price, and what was left of that after everything that one more of them costs.
type BreakEven struct {
	Fixed             money.Amount
	Units             decimal.Decimal
	Net, Contribution money.Amount // of all units
}

// Each is the contribution of one unit.
func (b BreakEven) Each() decimal.Decimal { return ratio(b.Contribution.Decimal(), b.Units) }

// Ratio is the contribution as a share of the net price.
func (b BreakEven) Ratio() decimal.Decimal { return ratio(b.Contribution.Decimal(), b.Net.Decimal()) }

// Reachable tells that selling more brings one nearer: nothing that leaves nothing ever pays the rent.
func (b BreakEven) Reachable() bool { return b.Contribution.Sign() > 0 && b.Units.IsPositive() }

// Needed is how many units have to be sold for a profit, 0 to break even, to a hundredth and upwards.
func (b BreakEven) Needed(profit money.Amount) decimal.Decimal {
	if !b.Reachable() {
		return decimal.Zero
	}
	return b.Fixed.Add(profit).Decimal().Mul(b.Units).DivRound(b.Contribution.Decimal(), places).RoundCeil(2)
}

// NetNeeded is the net that has to be sold for a profit, to the cent and upwards.
func (b BreakEven) NetNeeded(profit money.Amount) money.Amount {
	c := b.Fixed.Currency()
	if !b.Reachable() {
		return money.Sum(c)
	}
	return money.Round(b.Fixed.Add(profit).Decimal().Mul(b.Net.Decimal()).DivRound(b.Contribution.Decimal(), places).RoundCeil(c.Digits()), c)
}

// Profit is what so many units leave after the fixed costs.
func (b BreakEven) Profit(units decimal.Decimal) money.Amount {
	c := b.Fixed.Currency()
	if b.Units.IsZero() {
		return b.Fixed.Neg()
	}
	return money.Round(b.Contribution.Decimal().Mul(units).DivRound(b.Units, places), c).Sub(b.Fixed)
}
