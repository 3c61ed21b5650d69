package api

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"
	"foamwright/pricing/people"

	"github.com/shopspring/decimal"
)

// MonthFigures is a month by the clock of the workshop; the sums are as known now.
type MonthFigures struct {
	Month     string          `json:"month" doc:"2026-11"`
	Currency  string          `json:"currency"`
	Quotes    int             `json:"quotes" doc:"numbers, each once, by its first version"`
	Quoted    string          `json:"quoted" doc:"net, of the newest version of each"`
	Orders    int             `json:"orders"`
	Ordered   string          `json:"ordered" doc:"net, by the day of acceptance, less what was cancelled"`
	Cancelled string          `json:"cancelled" doc:"net that cancellations took off, by their day"`
	Invoiced  string          `json:"invoiced" doc:"net, credit notes off"`
	Paid      string          `json:"paid" doc:"with tax"`
	Owed      string          `json:"owed" doc:"with tax, at the end"`
	Stock     string          `json:"stock" doc:"at the end"`
	Bought    string          `json:"bought"`
	Taken     string          `json:"taken" doc:"for orders, less what they brought back"`
	Lost      string          `json:"lost" doc:"left the shelf without an order"`
	Sold      decimal.Decimal `json:"hours_sold"`
	Worked    decimal.Decimal `json:"hours_worked"`
	There     decimal.Decimal `json:"hours_there"`
	Jobs      MonthEarned     `json:"jobs" doc:"that were done or cancelled in it"`
}

// MonthEarned is what the jobs that ended in a month left after everything.
type MonthEarned struct {
	Done      int             `json:"done"`
	Cancelled int             `json:"cancelled"`
	Net       string          `json:"net"`
	Fees      string          `json:"fees"`
	BoughtIn  string          `json:"bought_in"`
	Material  string          `json:"material" doc:"as it left the shelf"`
	Lost      string          `json:"lost"`
	Fixed     string          `json:"fixed_costs"`
	Left      string          `json:"left"`
	Hours     decimal.Decimal `json:"hours" doc:"logged on them"`
	Hour      string          `json:"earned_an_hour,omitempty"`
	Reckoned  string          `json:"reckoned_an_hour"`
}

// MonthFlow is what lay somewhere, came in and went out.
type MonthFlow struct {
	Begin string `json:"begin"`
	In    string `json:"in"`
	Out   string `json:"out"`
	End   string `json:"end"`
}

// TaxPeriod is tax of a month, a quarter or a year.
type TaxPeriod struct {
	Name  string     `json:"name"`
	From  string     `json:"from" format:"date"`
	To    string     `json:"to" format:"date"`
	Rates []RateSums `json:"rates"`
}

// RateSums is what was invoiced under a rate and treatment, credit notes off.
type RateSums struct {
	Code      string          `json:"code" doc:"empty where no tax stood on the document"`
	Percent   decimal.Decimal `json:"percent"`
	Category  string          `json:"category,omitempty" doc:"of EN 16931"`
	Documents int             `json:"documents"`
	Net       string          `json:"net"`
	Tax       string          `json:"tax"`
	Gross     string          `json:"gross"`
}

// OneMonth is a month with its shelf, its bench, its tax and what it needs to break even.
type OneMonth struct {
	Month    MonthFigures    `json:"month"`
	Shelf    MonthFlow       `json:"shelf" doc:"out is taken and lost"`
	Bench    MonthFlow       `json:"bench" doc:"unfinished orders at cost"`
	Taxes    []TaxPeriod     `json:"taxes" doc:"of the month, its quarter and its year"`
	Each     string          `json:"contribution_an_hour" doc:"of jobs done in the twelve months until then"`
	Ratio    decimal.Decimal `json:"contribution_ratio"`
	Even     decimal.Decimal `json:"hours_to_break_even"`
	EvenNet  string          `json:"net_to_break_even"`
	Overhead decimal.Decimal `json:"overhead_rate" doc:"fixed costs an hour that was there"`
	Applied  string          `json:"overhead_applied" doc:"by hours worked"`
	Words    []string        `json:"words"`
}

// FigureDocument is a document with its share of a figure.
type FigureDocument struct {
	Day    string `json:"day,omitempty" format:"date"`
	What   string `json:"what" enum:"quote,order,invoice,item"`
	ID     string `json:"id" doc:"of the quote, order or invoice, or the item's code"`
	Kind   string `json:"kind,omitempty"`
	Number string `json:"number,omitempty"`
	Title  string `json:"title,omitempty"`
	Who    string `json:"who,omitempty"`
	Amount string `json:"amount"`
}

// FigureDocuments are what a figure sums, 500 a page.
type FigureDocuments struct {
	Figure    string           `json:"figure"`
	From      string           `json:"from" format:"date"`
	To        string           `json:"to" format:"date"`
	Unit      string           `json:"unit" doc:"a currency, hours or minutes"`
	Documents []FigureDocument `json:"documents"`
	Rows      int              `json:"rows" doc:"in all"`
	Sum       string           `json:"sum" doc:"of all"`
}

type monthList struct {
	Months []MonthFigures `json:"months" doc:"oldest first"`
}

type monthsAsked struct {
	From string `query:"from" doc:"the first month, 2026-01; the last twelve where both are left out"`
	To   string `query:"to" doc:"the last month"`
}

type oneMonthAsked struct {
	Month string `path:"month" doc:"2026-11"`
}

type figureAsked struct {
	What     string `query:"what" doc:"ordered, invoiced, paid and so on, as the page of a month links them"`
	From     string `query:"from" doc:"the first day"`
	To       string `query:"to" doc:"the last day"`
	Page     int    `query:"page" doc:"from 1"`
	Code     string `query:"code" doc:"of tax"`
	Percent  string `query:"percent" doc:"of tax"`
	Category string `query:"category" doc:"of tax"`
}

func monthRow(m figures.Month) MonthFigures {
	e := m.Earnings()
	jobs := MonthEarned{
		Done: m.Ended.Done, Cancelled: m.Ended.Dropped, Net: e.Net.String(), Fees: e.Fee.String(), BoughtIn: e.BoughtIn.String(), Material: e.Material.String(), Lost: e.Lost.String(),
		Fixed: e.Fixed.String(), Left: e.Left().String(), Hours: e.Hours(), Reckoned: m.Reckoned().String(),
	}
	if e.Known() {
		jobs.Hour = e.PerHour().String()
	}
	return MonthFigures{
		Month: m.Key(), Currency: string(m.Fixed.Currency()), Quotes: m.Quoted.N, Quoted: m.Quoted.Amount.String(), Orders: m.Ordered.N, Ordered: m.Ordered.Amount.String(),
		Cancelled: m.Cancelled.Amount.String(), Invoiced: m.Invoiced.Amount.String(), Paid: m.Paid.Amount.String(), Owed: m.Owed.String(), Stock: m.Stock.String(),
		Bought: m.Bought.String(), Taken: m.Taken.String(), Lost: m.Lost.String(), Sold: m.Sold, Worked: m.Worked(), There: m.There, Jobs: jobs,
	}
}

func flowOf(f figures.Flow) MonthFlow {
	return MonthFlow{f.Begin.String(), f.In.String(), f.Out.String(), f.End().String()}
}

func taxPeriodOf(t figures.Taxes) TaxPeriod {
	return TaxPeriod{t.Name, dateOf(t.First), dateOf(t.Last), each(t.Rows, func(r figures.TaxRow) RateSums {
		return RateSums{r.Code, r.Percent, r.Category, r.N, r.Net.String(), r.Tax.String(), r.Gross().String()}
	})}
}

func oneMonthOf(p figures.MonthPage) OneMonth {
	no := p.Fixed.Sub(p.Fixed)
	o := p.Overhead()
	return OneMonth{
		Month: monthRow(p.Month), Shelf: flowOf(p.Shelf()), Bench: flowOf(p.Bench.Flow()), Taxes: each(p.Taxes, taxPeriodOf),
		Each: p.Even.Each().StringFixed(p.Fixed.Currency().Digits()), Ratio: p.Even.Ratio().Round(4), Even: p.Even.Needed(no), EvenNet: p.Even.NetNeeded(no).String(),
		Overhead: o.Rate().Round(4), Applied: o.Applied(p.Worked()).String(), Words: append(p.EvenWords(), p.OverheadWords()...),
	}
}

func figureDocumentsOf(d figures.Documents) FigureDocuments {
	unit := string(d.Unit)
	if d.Unit == figures.InMoney {
		unit = string(d.Currency)
	}
	return FigureDocuments{d.Key, dateOf(d.From), dateOf(d.To), unit, each(d.Rows, func(r figures.DocumentRow) FigureDocument {
		out := FigureDocument{Day: dateOf(r.Day), What: r.Link, ID: r.ID, Kind: r.Kind, Title: r.Title, Who: r.Who, Amount: d.Write(r.Amount)}
		if r.Number.No > 0 {
			out.Number = r.Number.String()
		}
		return out
	}), d.N, d.Write(d.Sum)}
}

func (f *face) figuresMonths() {
	operation(f, op("GET /figures/months", "months", "Months: quoted, ordered, invoiced, paid, owed, and what an hour earned", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *monthsAsked) (*answer[monthList], error) {
			var from, to time.Time
			for _, m := range []struct {
				field, text string
				month       *time.Time
			}{{"from", in.From, &from}, {"to", in.To, &to}} {
				if m.text == "" {
					continue
				}
				var err error
				if *m.month, err = figures.ParseMonth(m.field, m.text, f.Figures.Now().Location()); err != nil {
					return nil, err
				}
			}
			all, err := f.Figures.Months(ctx, from, to)
			return &answer[monthList]{monthList{each(all, monthRow)}}, err
		})
	operation(f, op("GET /figures/months/{month}", "month", "A month with its shelf, its bench, its tax and what it needs to break even", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *oneMonthAsked) (*answer[OneMonth], error) {
			first, err := figures.ParseMonth("month", in.Month, f.Figures.Now().Location())
			if err != nil {
				return nil, err
			}
			p, err := f.Figures.Month(ctx, first, decimal.Zero)
			if err != nil {
				return nil, err
			}
			return &answer[OneMonth]{oneMonthOf(p)}, nil
		})
	operation(f, op("GET /figures/documents", "figure-documents", "The documents that a figure sums", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *figureAsked) (*answer[FigureDocuments], error) {
			a := figures.Asked{What: in.What, Page: in.Page, By: map[string]string{}}
			var l fault.List
			a.From, a.To = day(&l, "from", in.From), day(&l, "to", in.To)
			if err := l.Err(); err != nil {
				return nil, err
			}
			for key, value := range map[string]string{"code": in.Code, "percent": in.Percent, "category": in.Category} {
				if value != "" {
					a.By[key] = value
				}
			}
			d, err := f.Figures.Documents(ctx, a)
			if err != nil {
				return nil, err
			}
			return &answer[FigureDocuments]{figureDocumentsOf(d)}, nil
		})
}
