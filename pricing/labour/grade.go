package labour

import (
	"slices"

	"github.com/shopspring/decimal"
)

// Graded is the time of an order at one grade of labour.
type Graded struct {
	Grade    string // empty for the shop rate
	Minutes  decimal.Decimal
	Hours    decimal.Decimal // with the allowance, two places
	Expected decimal.Decimal // hours by low, likely and high, four places
	Variance decimal.Decimal // hours squared, six places
}

// grade adds the lines up by their grades. Every grade's hours are rounded once, and the hours that are charged are
// their sum, so that the lines of a slip add up by eye; with one grade they are what they would be without any.
func (w *Work) grade() {
	var mean, variance []decimal.Decimal
	for _, l := range w.Lines {
		i := slices.IndexFunc(w.Grades, func(g Graded) bool { return g.Grade == l.Step.Grade })
		if i < 0 {
			i = len(w.Grades)
			w.Grades = append(w.Grades, Graded{Grade: l.Step.Grade})
			mean, variance = append(mean, decimal.Zero), append(variance, decimal.Zero)
		}
		w.Grades[i].Minutes = w.Grades[i].Minutes.Add(l.Minutes)
		mean[i], variance[i] = mean[i].Add(l.Spread().Mean()), variance[i].Add(l.Spread().Variance())
	}
	rested, hour := w.Allowance.Add(decimal.NewFromInt(1)), decimal.NewFromInt(60)
	for i := range w.Grades {
		g := &w.Grades[i]
		g.Hours = w.hours(g.Minutes)
		g.Expected = mean[i].Mul(rested).DivRound(hour, 4)
		g.Variance = variance[i].Mul(rested).Mul(rested).DivRound(hour.Mul(hour), 6)
		w.Hours = w.Hours.Add(g.Hours)
	}
}

// Expected is the time that the job takes on the average, in hours, and how far it usually lies off: the root of the
// variances of its steps, added, as if none knew of the others. Two places.
func (w Work) Expected() (mean, deviation decimal.Decimal) {
	variance := decimal.Zero
	for _, g := range w.Grades {
		mean, variance = mean.Add(g.Expected), variance.Add(g.Variance)
	}
	deviation, err := variance.SqrtRound(2)
	if err != nil { // no sum of squares is below nothing
		deviation = decimal.Zero
	}
	return mean.Round(2), deviation
}

// Deviation is how far a line usually lies off its mean, in minutes: a sixth of the way from low to high.
func (l Line) Deviation() decimal.Decimal {
	return l.High.Sub(l.Low).DivRound(decimal.NewFromInt(6), 2)
}
