package web

import (
	"context"
	"fmt"

	"github.com/shopspring/decimal"

	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
)

// gradeHours are the steps behind one line of labour on the slip.
type gradeHours struct {
	labour.Graded
	Lines []labour.Line
}

// HoursOf are the steps behind a line of the slip; nil when it is not about labour.
func (b board) HoursOf(l pricing.Line) *gradeHours {
	grade, ok := l.GradeOf()
	if !ok || b.Estimate == nil {
		return nil
	}
	h := &gradeHours{}
	for _, g := range b.Estimate.Work.Grades {
		if g.Grade == grade {
			h.Graded = g
		}
	}
	for _, line := range b.Estimate.Work.Lines {
		if line.Step.Grade == grade {
			h.Lines = append(h.Lines, line)
		}
	}
	return h
}

// FirstLabour is the key of the line that the range of all hours stands on.
func (b board) FirstLabour() string {
	for _, l := range b.Estimate.Price.Lines {
		if _, ok := l.GradeOf(); ok {
			return l.Key
		}
	}
	return ""
}

// Spread says what the hours come to on the average, and how far they lie off.
func (b board) Spread() string {
	mean, deviation := b.Estimate.Work.Expected()
	return fmt.Sprintf("Likely %s h, on the average %s ± %s, %s to %s at the ends.", b.Estimate.Work.Hours, mean.StringFixed(1), deviation.StringFixed(1), b.Estimate.Work.Low.StringFixed(1), b.Estimate.Work.High.StringFixed(1))
}

// Chance says how likely the price keeps its margin; nothing before enough jobs were logged. A chance is never sold as
// a certainty.
func (b board) Chance() string {
	if !b.Odds {
		return ""
	}
	percent := b.Estimate.Keeps.Shift(2).Round(0)
	switch {
	case percent.GreaterThan(decimal.NewFromInt(98)):
		return "This price keeps its margin almost always."
	case percent.LessThan(decimal.NewFromInt(2)):
		return "This price hardly ever keeps its margin."
	}
	return fmt.Sprintf("This price keeps its margin in %s of 100 such jobs.", percent)
}

// priceBreak is a row of the table of prices by number.
type priceBreak struct {
	Quantity int
	Each     money.Amount // net
	Gross    money.Amount // of all
	Hours    string       // of one
	Why      string       // it has no price
}

// breaks prices what was typed for each number of the table.
func (p *Pages) breaks(ctx context.Context, customer string, f orderform.Form) ([]priceBreak, error) {
	all, err := p.sales.Breaks(ctx, customer, f)
	var rows []priceBreak
	for _, b := range all {
		row := priceBreak{Quantity: b.Quantity, Why: b.Why}
		if e, n := b.Estimate, decimal.NewFromInt(int64(b.Quantity)); e != nil {
			row.Each = money.Round(e.Price.Net.Decimal().Div(n), e.Price.Net.Currency())
			row.Gross, row.Hours = e.Price.Gross, e.Work.Hours.DivRound(n, 2).StringFixed(2)
		}
		rows = append(rows, row)
	}
	return rows, err
}
