package web

import (
	"html/template"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"
	"foamwright/pricing/people"
	"foamwright/pricing/plot"
)

func (p *Pages) registerMonths(r fiber.Router) {
	books := p.guard.Require(people.Bookkeeper)
	r.Get("/figures/months", books, p.monthFigures)
	r.Get("/figures/months.csv", books, p.monthFiguresCSV)
	r.Get("/figures/months/:month", books, p.monthFigure)
	r.Get("/figures/months/:month/month.pdf", books, p.monthPDF)
	r.Get("/figures/months/:month/tax.csv", books, p.monthTaxCSV)
	r.Get("/figures/documents", books, p.figureDocuments)
	r.Get("/figures/documents.csv", books, p.figureDocumentsCSV)
}

// monthWords are what templates of months need.
func monthWords() template.FuncMap {
	return template.FuncMap{"opens": opens, "hours": func(d decimal.Decimal) string { return signedHours(d) }}
}

// signedHours writes hours with one place.
func signedHours(d decimal.Decimal) string {
	s := d.StringFixed(1)
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		return "−" + rest
	}
	return s
}

// opens is the address of the documents that a month's figure sums.
func opens(m figures.Month, what string) string {
	return "/figures/documents?" + url.Values{"what": {what}, "from": {iso(m.First)}, "to": {iso(m.Last())}}.Encode()
}

// monthsPage is months beside each other.
type monthsPage struct {
	All      []figures.Month // newest first
	Sum      figures.Month
	Now      time.Time
	From, To string
	Problems map[string]string
	Fixed    bool // there are fixed costs in the settings
}

// Money and Hours are plots, the oldest month first.
func (d monthsPage) Money() plot.Chart { return figures.MoneyChart(d.old()) }

// Hours is the plot of hours.
func (d monthsPage) Hours() plot.Chart { return figures.HoursChart(d.old()) }

func (d monthsPage) old() []figures.Month {
	all := slices.Clone(d.All)
	slices.Reverse(all)
	return all
}

// Query is what was asked for, for the file.
func (d monthsPage) Query() string { return url.Values{"from": {d.From}, "to": {d.To}}.Encode() }

// month reads a month of the address; one that was left out is none.
func (p *Pages) month(problems *fault.List, field, typed string) time.Time {
	if strings.TrimSpace(typed) == "" {
		return time.Time{}
	}
	first, err := figures.ParseMonth(field, strings.TrimSpace(typed), p.figures.Now().Location())
	if err != nil {
		problems.Add(field, typed, "Write a month as year and number, for example 2026-11.")
		return time.Time{}
	}
	return first
}

func (p *Pages) months(c *fiber.Ctx) (d monthsPage, err error) {
	var l fault.List
	d = monthsPage{Now: p.figures.Now(), From: c.Query("from"), To: c.Query("to"), Problems: map[string]string{}}
	from, to := p.month(&l, "from", d.From), p.month(&l, "to", d.To)
	if err := l.Err(); err != nil {
		return d, err
	}
	all, err := p.figures.Months(c.UserContext(), from, to)
	if err != nil {
		return d, err
	}
	d.From, d.To, d.Sum = all[0].Key(), all[len(all)-1].Key(), figures.Total(all)
	d.Fixed = d.Sum.Fixed.Sign() > 0
	slices.Reverse(all)
	d.All = all
	return d, nil
}

func (p *Pages) monthFigures(c *fiber.Ctx) error {
	d, err := p.months(c)
	status := fiber.StatusOK
	if fault.KindOf(err) == fault.Invalid {
		status = fiber.StatusUnprocessableEntity
		d.Problems, err = problemsOf(err)
	}
	if err != nil {
		return err
	}
	return p.render(c, status, "figures-months", "Months", "figures", d)
}

func (p *Pages) monthFiguresCSV(c *fiber.Ctx) error {
	d, err := p.months(c)
	if err != nil {
		return err
	}
	return sendCSV(c, "months.csv", figures.MonthsCSV(d.old()))
}

// monthPage is one month.
type monthPage struct {
	figures.MonthPage
	Typed    string // profit that is wanted
	Problems map[string]string
}

// Wanted is the entry of what is wanted.
func (d monthPage) Wanted() entry {
	return entry{Name: "profit", Label: "Profit wanted", Value: d.Typed, Problem: d.Problems["profit"], ID: "profit"}
}

// TaxOf is the address of the documents behind a rate.
func (d monthPage) TaxOf(t figures.Taxes, r figures.TaxRow, what string) string {
	return "/figures/documents?" + url.Values{"what": {what}, "from": {iso(t.First)}, "to": {iso(t.Last)}, "code": {r.Code}, "percent": {r.Percent.String()}, "category": {r.Category}}.Encode()
}

// After is the month that follows.
func (d monthPage) After() figures.Month { return figures.Month{First: d.Next} }

// Before is the day before the month begins, at whose end its beginning stands.
func (d monthPage) Before() figures.Month {
	m := d.Month
	m.First, m.Next = m.First.AddDate(0, -1, 0), m.First
	return m
}

func (p *Pages) monthOf(c *fiber.Ctx) (time.Time, error) {
	first, err := figures.ParseMonth("month", c.Params("month"), p.figures.Now().Location())
	if err != nil {
		return first, fault.New(fault.NotFound, "There is no such month. Write it as year and number, for example 2026-11.")
	}
	return first, nil
}

func (p *Pages) monthFigure(c *fiber.Ctx) error {
	first, err := p.monthOf(c)
	if err != nil {
		return err
	}
	t := typing{v: url.Values{"profit": {c.Query("profit")}}}
	d := monthPage{Typed: c.Query("profit")}
	profit := t.optional("profit")
	if profit.IsNegative() || profit.GreaterThan(decimal.NewFromInt(10_000_000)) {
		t.problems.Add("profit", d.Typed, "Write an amount from 0 to 10000000.")
		profit = decimal.Zero
	}
	d.Problems = t.byField()
	if d.MonthPage, err = p.figures.Month(c.UserContext(), first, profit); err != nil {
		return err
	}
	return p.render(c, statusOf(d.Problems), "figures-month", d.Words(), "figures", d)
}

func (p *Pages) monthPDF(c *fiber.Ctx) error {
	first, err := p.monthOf(c)
	if err != nil {
		return err
	}
	doc, err := p.figures.MonthDocument(c.UserContext(), first)
	if err != nil {
		return err
	}
	return sendDocument(c, doc)
}

// monthTaxCSV is the tax of the month, its quarter and its year, or of one of them.
func (p *Pages) monthTaxCSV(c *fiber.Ctx) error {
	first, err := p.monthOf(c)
	if err != nil {
		return err
	}
	list, err := p.figures.Taxes(c.UserContext(), first)
	if err != nil {
		return err
	}
	for i, period := range figures.TaxPeriods() {
		if c.Query("period") == string(period) {
			list = list[i : i+1]
			break
		}
	}
	return sendCSV(c, "tax-"+first.Format("2006-01")+".csv", figures.TaxesCSV(list))
}
