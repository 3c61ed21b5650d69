package labour

import "github.com/shopspring/decimal"

// Observed is time that was measured with a watch, and the pace it was worked at: 100 is standard, 75 a slower day's
// pace. The two are kept apart and never only their product, so that either can be looked at again.
type Observed struct{ Minutes, Rating decimal.Decimal }

// Basic is the time that the work takes at standard pace: minutes × rating ÷ 100, exactly.
func (o Observed) Basic() decimal.Decimal { return o.Minutes.Mul(o.Rating).Shift(-2) }

// Standard is basic time with allowances, each a share of the basic time: rest, delay. They add up and are not
// compounded.
func (o Observed) Standard(allowances ...decimal.Decimal) decimal.Decimal {
	basic := o.Basic()
	all := basic
	for _, a := range allowances {
		all = all.Add(basic.Mul(a))
	}
	return all
}
