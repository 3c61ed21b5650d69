package workshop

import (
	"fmt"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
)

// YearCost is what the workshop pays in a year for one thing: the own pay, insurance, the rent.
type YearCost struct {
	Name   string
	Amount decimal.Decimal
}

// ShopRate is what an hour at the bench has to bring in, worked out from a year. Profit is no part of it: that is the
// margin of the price.
type ShopRate struct {
	Costs    []YearCost
	Weeks    decimal.Decimal // that are worked in the year
	Hours    decimal.Decimal // in a week
	Billable decimal.Decimal // share of the hours that customers pay for, 0.55 to 0.70
}

// usualShopRate is common practice, no source.
func usualShopRate() ShopRate {
	return ShopRate{
		Costs: []YearCost{
			{"Own pay", decimal.NewFromInt(24_000)}, {"Health and pension", decimal.NewFromInt(4_800)},
			{"Rent, power, insurance, tools, waste, books", decimal.NewFromInt(7_200)},
		},
		Weeks: decimal.NewFromInt(46), Hours: decimal.NewFromInt(40), Billable: decimal.New(65, -2),
	}
}

// Year is all costs of a year.
func (r ShopRate) Year() decimal.Decimal {
	sum := decimal.Zero
	for _, c := range r.Costs {
		sum = sum.Add(c.Amount)
	}
	return sum
}

// Paid are the hours at work in a year, and Sold those that customers pay for.
func (r ShopRate) Paid() decimal.Decimal { return r.Weeks.Mul(r.Hours) }

// Sold are the hours that customers pay for.
func (r ShopRate) Sold() decimal.Decimal { return r.Paid().Mul(r.Billable) }

// Hour is the rate: the year's costs by the hours that are sold, to the cent; 0 where none are.
func (r ShopRate) Hour() decimal.Decimal {
	if !r.Sold().IsPositive() {
		return decimal.Zero
	}
	return r.Year().DivRound(r.Sold(), 2)
}

// mostCosts is how many lines the sum may have.
const mostCosts = 20

// check adds what is wrong with the sum.
func (r ShopRate) check(l *fault.List) {
	if len(r.Costs) > mostCosts {
		l.Add("shop_rate.costs", fmt.Sprint(len(r.Costs)), fmt.Sprintf("These are too many lines. Keep at most %d.", mostCosts))
	}
	for i, c := range r.Costs {
		field := fmt.Sprintf("shop_rate.costs.%d.", i)
		if n := utf8.RuneCountInString(c.Name); n == 0 || n > 80 {
			l.Add(field+"name", c.Name, "Write what is paid for, in up to 80 letters.")
		}
		if c.Amount.IsNegative() || c.Amount.GreaterThan(decimal.NewFromInt(10_000_000)) || !c.Amount.Equal(c.Amount.Round(2)) {
			l.Add(field+"amount", c.Amount.String(), "Write what it costs in a year, 0 or more, to the cent.")
		}
	}
	for _, f := range []struct {
		field string
		value decimal.Decimal
		most  int64
		says  string
	}{
		{"weeks", r.Weeks, 53, "Write how many weeks of the year are worked, above 0 and up to 53."},
		{"hours", r.Hours, 100, "Write how many hours a week are worked, above 0 and up to 100."},
		{"billable", r.Billable, 1, "Write what share of the hours customers pay for, above 0 and up to 100 %."},
	} {
		if !f.value.IsPositive() || f.value.GreaterThan(decimal.NewFromInt(f.most)) || !f.value.Equal(f.value.Round(4)) {
			l.Add("shop_rate."+f.field, f.value.String(), f.says)
		}
	}
}
