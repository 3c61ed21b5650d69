package stock

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// ReorderPoint is the stock at which to order again: what is used until the delivery comes, and what is to be left
// then. perDay is the use a calendar day.
func ReorderPoint(perDay decimal.Decimal, leadDays int, safety decimal.Decimal) decimal.Decimal {
	return perDay.Mul(decimal.NewFromInt(int64(leadDays))).Add(safety)
}

// EconomicQuantity is Harris' square-root formula: how much to order at a time so that ordering and holding cost
// least together, √(2 × a year's use × cost of one order ÷ cost of holding a unit for a year), to four places. It is
// a hint: it knows nothing of shelf life, space or money. Zero where one of the three is not above 0.
func EconomicQuantity(yearly, perOrder, holding decimal.Decimal) (decimal.Decimal, error) {
	if !yearly.IsPositive() || !perOrder.IsPositive() || !holding.IsPositive() {
		return decimal.Zero, nil
	}
	square := yearly.Mul(perOrder).Mul(decimal.NewFromInt(2)).DivRound(holding, 16)
	root, err := square.PowWithPrecision(decimal.New(5, -1), 8)
	if err != nil {
		return decimal.Zero, fmt.Errorf("economic quantity: %w", err)
	}
	return root.Round(4), nil
}
