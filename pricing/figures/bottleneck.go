package figures

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"
)

// Wish is what could be made: how many are wanted, what each brings besides the scarce thing, and how much of it each
// takes.
type Wish struct {
	Name         string
	Wanted       int
	Contribution decimal.Decimal // of one
	Takes        decimal.Decimal // scarce hours of one
}

// Rate is what an hour of the scarce thing brings; what takes none of it comes before everything.
func (w Wish) Rate() decimal.Decimal { return ratio(w.Contribution, w.Takes) }

// Filled is how many of a wish fit.
type Filled struct {
	Wish
	Makes int
}

// Fill gives the scarce hours to what brings most for one of them first, whole pieces only, ties as they were given.
// What brings nothing is not made. It is the rule of the textbook for one scarce thing; with piece work it may leave
// hours that a smaller wish would still fill, so those are offered to the next ones.
func Fill(hours decimal.Decimal, wishes []Wish) (filled []Filled, left decimal.Decimal) {
	order := make([]int, len(wishes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		free := func(w Wish) int {
			if w.Takes.IsZero() {
				return 0
			}
			return 1
		}
		return cmp.Or(free(wishes[a])-free(wishes[b]), wishes[b].Rate().Cmp(wishes[a].Rate()))
	})
	left = hours
	for _, i := range order {
		w, n := wishes[i], 0
		if w.Contribution.IsPositive() {
			n = w.Wanted
			if w.Takes.IsPositive() {
				n = min(n, int(decimal.Max(left, decimal.Zero).Div(w.Takes).IntPart()))
			}
		}
		left = left.Sub(w.Takes.Mul(decimal.NewFromInt(int64(n))))
		filled = append(filled, Filled{w, n})
	}
	return filled, left
}
