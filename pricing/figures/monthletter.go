package figures

import (
	"context"
	"fmt"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/plot"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// MonthDocument is a month on paper, with plots of the twelve months that end with it. It is made anew each time and not
// kept.
func (s *Service) MonthDocument(ctx context.Context, first time.Time) (sales.Document, error) {
	p, err := s.Month(ctx, first, decimal.Zero)
	if err != nil {
		return sales.Document{}, err
	}
	w, err := s.sales.Workshop(ctx)
	if err != nil {
		return sales.Document{}, err
	}
	l := sales.Letter{Head: w.Head, Name: p.Words(), File: "month-" + p.Key(), Date: p.Now, Title: "Figures of the month", Parts: p.parts(w.Figures.Rates.Currency)}
	for _, c := range []plot.Chart{MoneyChart(p.Year), HoursChart(p.Year)} {
		png, err := plot.Paper(plot.Columns(c, plot.Letter))
		if err != nil {
			return sales.Document{}, err
		}
		l.Parts = append(l.Parts, sales.LetterPart{Name: c.Title, Picture: &sales.LetterPicture{PNG: png, Words: c.Words}})
	}
	data, err := s.render.Letter(ctx, l)
	if err != nil {
		return sales.Document{}, fmt.Errorf("page of a month: %w", err)
	}
	return sales.Document{Name: l.File + ".pdf", Bytes: data}, nil
}

// parts are the month in tables.
func (p MonthPage) parts(c money.Currency) []sales.LetterPart {
	row := func(what, how string, a money.Amount) sales.LetterRow {
		return sales.LetterRow{What: what, How: how, Amount: words.Money(a)}
	}
	of := func(n int, what string) string {
		if n == 1 {
			return "1 " + what
		}
		return fmt.Sprintf("%d %ss", n, what)
	}
	sum := func(what, how string, a money.Amount) sales.LetterRow {
		r := row(what, how, a)
		r.Total = true
		return r
	}
	e, shelf := p.Earnings(), p.Shelf()
	left := []sales.LetterRow{
		row("Net of jobs done or cancelled", of(p.Ended.Done+p.Ended.Dropped, "job"), e.Net), row("Payment fees", "as reckoned", e.Fee.Neg()), row("Bought in", "as reckoned", e.BoughtIn.Neg()),
		row("Their material", "as it left the shelf", e.Material.Neg()), row("Lost on the shelf", "", e.Lost.Neg()), row("Fixed costs", "", e.Fixed.Neg()), sum("Left", "", e.Left()),
	}
	if e.Known() {
		left = append(left, row("An hour at the bench", "by "+hours(e.Hours())+" on these jobs", e.PerHour()))
		if p.Ended.Done > 0 {
			left = append(left, row("An hour, as planned", "for those that are done", p.Reckoned()))
		}
	}
	parts := []sales.LetterPart{
		{Name: "Money, " + string(c), Rows: []sales.LetterRow{
			row("Quoted, net", of(p.Quoted.N, "quote"), p.Quoted.Amount), row("Ordered, net", of(p.Ordered.N, "order"), p.Ordered.Amount), row("Invoiced, net", of(p.Invoiced.N, "document"), p.Invoiced.Amount),
			row("Paid, with tax", of(p.Paid.N, "payment"), p.Paid.Amount), row("Owed at the end, with tax", "", p.Owed),
		}},
		{Name: "Hours", Rows: []sales.LetterRow{
			{What: "There", How: "by the calendar, times people", Amount: hours(p.There)}, {What: "Sold", How: "planned, of orders accepted", Amount: hours(p.Sold)}, {What: "Worked", How: "logged", Amount: hours(p.Worked())},
		}},
		{Name: "Earned", Rows: left},
		{Name: "Breaking even", Words: append(p.EvenWords(), p.OverheadWords()...)},
		{Name: "Material", Rows: []sales.LetterRow{
			row("On the shelf at the beginning", "", shelf.Begin), row("Bought", "", p.Bought), row("Taken for orders", "", p.Taken.Neg()), row("Lost", "", p.Lost.Neg()), row("On the shelf at the end", "", shelf.End()),
		}},
		{Name: "Work at cost", Rows: []sales.LetterRow{
			row("Unfinished at the beginning", "", p.Bench.Begin), row("Material put in", "", p.Bench.Material), row("Hours put in", "", p.Bench.Labour), row("Finished", "", p.Bench.Finished.Neg()),
			row("Unfinished at the end", "", p.Bench.Flow().End()),
		}},
	}
	return append(parts, p.taxPart())
}

// taxPart is the tax of the month, its quarter and its year: a row for each rate, and their sum where there are several.
func (p MonthPage) taxPart() sales.LetterPart {
	part := sales.LetterPart{Name: "Tax by rate"}
	row := func(what string, r TaxRow) sales.LetterRow {
		return sales.LetterRow{What: what, How: "net " + words.Money(r.Net) + ", tax " + words.Money(r.Tax), Amount: words.Money(r.Gross())}
	}
	for _, t := range p.Taxes {
		for _, r := range t.Rows {
			part.Rows = append(part.Rows, row(t.Name+", "+r.Name(), r))
		}
		switch len(t.Rows) {
		case 0:
			part.Rows = append(part.Rows, row(t.Name+", nothing invoiced", t.Sum))
		case 1:
		default:
			part.Rows = append(part.Rows, row(t.Name+", in all", t.Sum))
		}
	}
	return part
}
