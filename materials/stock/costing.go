package stock

import (
	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
)

// Costing is how the books value what goes out.
type Costing string

// The ways of costing. Average is the moving average: what is on hand is one pool, and an issue takes its share of
// the pool's value. First in takes the oldest lot at its own cost. An issue's cost is rounded to the cent once, and
// the last of a lot or pool takes what is left of its value, so that nothing is lost.
const (
	Average Costing = "average"
	FirstIn Costing = "first in"
)

// Draw is what is taken from one lot, with positive figures.
type Draw struct {
	Lot           string
	Quantity      decimal.Decimal
	Cost, LotCost money.Amount
}

// Draw takes a quantity from lots, in their order, which together must hold it. pool is what is on hand of the
// item and its value.
func (c Costing) Draw(lots []Lot, quantity, pool decimal.Decimal, value money.Amount) []Draw {
	var draws []Draw
	var weights []decimal.Decimal
	left := quantity
	for _, l := range lots {
		q := decimal.Min(left, l.Left)
		if !q.IsPositive() {
			continue
		}
		draws = append(draws, Draw{Lot: l.ID, Quantity: q, LotCost: part(l.Value, q, l.Left)})
		weights = append(weights, q)
		left = left.Sub(q)
	}
	if c == FirstIn || len(draws) == 0 {
		for i := range draws {
			draws[i].Cost = draws[i].LotCost
		}
		return draws
	}
	for i, cost := range money.Allocate(part(value, quantity, pool), weights) {
		draws[i].Cost = cost
	}
	return draws
}

// part is the share of a value that a quantity of a whole has, to the cent; the whole has all of it.
func part(value money.Amount, quantity, whole decimal.Decimal) money.Amount {
	if quantity.Equal(whole) {
		return value
	}
	return money.Round(value.Decimal().Mul(quantity).DivRound(whole, 16), value.Currency())
}

// PeriodAverage is the average cost of a unit over a period: the value it opened with and everything received,
// by the quantity of both; zero where there was none. Exact to 16 places. Books that round a unit's cost to the
// cent before multiplying come to other sums; ours never do.
func PeriodAverage(opening, received decimal.Decimal, openingValue, receivedValue money.Amount) decimal.Decimal {
	quantity := opening.Add(received)
	if !quantity.IsPositive() {
		return decimal.Zero
	}
	return openingValue.Add(receivedValue).Decimal().DivRound(quantity, 16)
}
