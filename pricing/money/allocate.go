package money

import (
	"slices"

	"github.com/shopspring/decimal"
)

// Allocate shares a total out by weight so that the parts sum to it exactly and each is within one minor unit of
// its quota, by largest remainder (Hamilton): every part gets its quota rounded down, and the units left over go
// to the largest fractions, the first part first on a tie. A zero weight gets nothing; a weight below zero (a
// credit among charges) gets a part of the other sign; when the weights sum to zero all parts weigh the same. A
// negative total is shared like its opposite. A total that is not zero needs at least one weight, else it panics.
func Allocate(total Amount, weights []decimal.Decimal) []Amount {
	if len(weights) == 0 {
		if total.Sign() != 0 {
			panic("money: nobody to share " + total.String() + " among")
		}
		return nil
	}
	whole := decimal.Sum(weights[0], weights[1:]...)
	if whole.IsZero() {
		weights, whole = slices.Repeat([]decimal.Decimal{decimal.NewFromInt(1)}, len(weights)), decimal.NewFromInt(int64(len(weights)))
	}
	digits := -total.value.Exponent() // an Amount has exactly its currency's places
	unit := decimal.New(1, -digits)
	left := total.value.Abs()
	parts, fractions, order := make([]decimal.Decimal, len(weights)), make([]decimal.Decimal, len(weights)), make([]int, len(weights))
	for i, w := range weights {
		q, r := total.value.Abs().Mul(w).QuoRem(whole, digits)
		if r.Sign()*whole.Sign() < 0 { // the quota is below zero: down is away from it
			q, r = q.Sub(unit), r.Add(whole.Shift(-digits))
		}
		parts[i], fractions[i], order[i] = q, r.Abs(), i
		left = left.Sub(q)
	}
	slices.SortStableFunc(order, func(i, j int) int { return fractions[j].Cmp(fractions[i]) })
	for _, i := range order[:left.Shift(digits).IntPart()] {
		parts[i] = parts[i].Add(unit)
	}
	amounts := make([]Amount, len(parts))
	for i, p := range parts {
		if total.Sign() < 0 {
			p = p.Neg()
		}
		amounts[i] = Amount{p, total.currency}
	}
	return amounts
}
