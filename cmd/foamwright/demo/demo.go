// Package demo is the invented workshop Kestrel Yard Propworks of Harrowmouth: its catalogue, prices, rates, size
// rules, designs and customers. `foamwright demo` loads it, `foamwright estimate` prices with it, and a new
// workshop starts from its catalogue.
//
// Every name and price here is invented for the demo. Usages and times are the trade's common practice.
package demo

import (
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
	"foamwright/pricing/tax"
	"foamwright/pricing/workshop"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// Snapshot is the workshop's figures at a moment.
func Snapshot(now time.Time) (pricing.Snapshot, error) {
	steps, err := labour.Seed()
	if err != nil {
		return pricing.Snapshot{}, err
	}
	catalogue, prices := workshop.Stocked(Stock(now), now)
	return pricing.Snapshot{
		Version: pricing.SnapshotVersion, Catalogue: catalogue, Prices: prices, Rates: rates(),
		Bench: bench(), Usage: takeoff.UsualUsage(), Steps: steps, Rules: rules(), Calendar: calendar(),
		Tax: tax.Regime{
			Registered: true, GrossPrices: true, Mode: money.HalfUp,
			Rates: []tax.Rate{{Code: "standard", Name: "Tax", Percent: d("20")}},
		},
		TaxCode: "standard", Now: now, Seed: 1,
	}, nil
}

// rates follow the worked shop rate of the trade: 36 000 a year over 1 196 billable hours is 30.10, so 30.00.
func rates() pricing.Rates {
	return pricing.Rates{
		Currency: "EUR", Hour: d("30.00"), Allowance: d("0.15"), Handling: d("0.10"), Contingency: d("0.08"), ContingencyFirst: d("0.15"),
		Margin: d("0.20"), Learning: labour.Learning{Curve: d("0.92"), Floor: d("0.70")},
		LeadDays: 28, Rush: []pricing.Rush{{Within: 7, Share: d("0.50")}, {Within: 14, Share: d("0.25")}},
		Minimum: d("80.00"), Step: d("1.00"), OffcutShare: d("0.50"), Deposit: d("0.40"), DepositHeavy: d("0.50"), ValidDays: 30,
	}
}

// bench has the formers that stand in the yard.
func bench() shield.Bench {
	mm, b := measure.Millimetre, shield.UsualBench()
	b.Formers = []shield.Former{{Name: "Standard 500", Radius: 500 * mm}, {Name: "Narrow 280", Radius: 280 * mm}, {Name: "Wide 700", Radius: 700 * mm}}
	return b
}

func calendar() schedule.Calendar {
	full := 8 * time.Hour
	return schedule.Calendar{Opens: 9 * time.Hour, Hours: [7]time.Duration{time.Monday: full, time.Tuesday: full, time.Wednesday: full, time.Thursday: full, time.Friday: full}}
}

func rules() []shield.Rule {
	mm := measure.Millimetre
	return []shield.Rule{
		{Code: "marsh-small", Name: "Marshlight small", Edition: "3rd edition", Measured: shield.StraightAcross, Width: 500 * mm, Height: 600 * mm, Thickness: 20 * mm},
		{Code: "marsh-medium", Name: "Marshlight medium", Edition: "3rd edition", Measured: shield.StraightAcross, Width: 600 * mm, Height: 900 * mm, Circle: 700 * mm, Either: true, Thickness: 20 * mm},
		{Code: "marsh-large", Name: "Marshlight large", Edition: "3rd edition", Measured: shield.StraightAcross, Width: 700 * mm, Height: 1200 * mm, Thickness: 20 * mm},
		{Code: "fen-round", Name: "Fen League round", Edition: "2026", Measured: shield.Flat, Circle: 769 * mm, Thickness: 25 * mm},
	}
}
