// Package tax adds sales tax to net amounts or finds it inside gross ones, by rates that hold from day to day.
//
// Units: a percentage is written as people write it, 20 for 20 %; amounts are money.Amount. What the law of a
// place decides (which prices people see, per line or per total, what becomes of half a cent) is data in a
// Regime. Limits: one tax per line; no tax on tax; categories and their legal wording are only a code and a name.
package tax

import (
	"fmt"
	"math"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
)

// Rate is a percentage and the days on which it holds. A day is read as the calendar date that its time shows.
type Rate struct {
	Code    string          // short and lasting, "standard"; the same code may come again for other days
	Name    string          // as printed on documents
	Percent decimal.Decimal // 0 to 100, at most 4 places
	From    time.Time       // the first day; the zero time means always
	Until   time.Time       // the first day on which it no longer holds; the zero time means no end
	// Category is the code of EN 16931 (UNCL 5305): S, Z, E, AE, G, O; empty for what the percentage says.
	Category string
	Reason   string // the wording on documents for why none is charged
}

// days are the first day and the day after the last, as numbers that sort.
func (r Rate) days() (from, until int) {
	until = math.MaxInt
	if !r.From.IsZero() {
		from = date(r.From)
	}
	if !r.Until.IsZero() {
		until = date(r.Until)
	}
	return from, until
}

func date(t time.Time) int {
	y, m, d := t.Date()
	return (y*100+int(m))*100 + d
}

// On is the rate of a code on a day, or a fault when there is none. Who is not registered charges no tax and gets
// the zero Rate.
func (g Regime) On(code string, day time.Time) (Rate, error) {
	if !g.Registered {
		return Rate{}, nil
	}
	for _, r := range g.Rates {
		if from, until := r.days(); r.Code == code && from <= date(day) && date(day) < until {
			return r, nil
		}
	}
	var l fault.List
	l.Add("", code, fmt.Sprintf("There is no tax rate %q on %s. Add one for that day to the tax rates.", fault.Shorten(code), day.Format(time.DateOnly)))
	return Rate{}, l.Err()
}

// checkRates notes what is wrong with each rate, under rates.0, rates.1 and so on.
func (g Regime) checkRates(l *fault.List) {
	for i, r := range g.Rates {
		at := fmt.Sprintf("rates.%d.", i)
		from, until := r.days()
		if r.Code == "" {
			l.Add(at+"code", "", "Give the rate a short code, for example standard.")
		}
		if r.Percent.Exponent() < -4 || r.Percent.IsNegative() || r.Percent.GreaterThan(hundred) {
			l.Add(at+"percent", r.Percent.ScientificNotationString(), "Write a percentage from 0 to 100 with at most 4 places, for example 20.")
		}
		if from >= until {
			l.Add(at+"until", r.Until.Format(time.DateOnly), "The rate would end before it begins. Write a later day.")
		}
		for _, other := range g.Rates[:i] {
			if f, u := other.days(); other.Code == r.Code && f < until && from < u {
				l.Add(at+"from", r.Code, "Two rates of this code would hold on the same day. End the one before the other begins.")
				break
			}
		}
	}
}
