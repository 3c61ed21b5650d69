package web

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/money"
	"foamwright/pricing/people"
	"foamwright/pricing/plot"
	"foamwright/pricing/words"
)

// takePage is what to take in a month.
type takePage struct {
	figures.Taking
	Month    time.Time // its first day
	typed    string
	Problem  string
	currency money.Currency
}

// mostBars is how many quotes are plotted.
const mostBars = 12

// Entry is the month as it was typed.
func (d takePage) Entry() entry {
	return entry{Name: "month", Label: "Month", Value: d.typed, Problem: d.Problem, ID: "t-month"}
}

// Near is the month so many months on.
func (d takePage) Near(months int) string { return d.Month.AddDate(0, months, 0).Format("2006-01") }

// Called is the month in words.
func (d takePage) Called() string { return d.Month.Format("January 2006") }

// Room is what there is of everything scarce, the bench first.
func (d takePage) Room() (all []figures.Capacity) {
	for _, s := range figures.Scarces() {
		all = append(all, d.Capacity[s])
	}
	return all
}

// Open tells that the month is not over: of one that is nothing can be taken any more.
func (d takePage) Open() bool { return d.From.Before(d.To) || !d.Opens.IsZero() }

// Chosen is what there is of what the list goes by.
func (d takePage) Chosen() figures.Capacity { return d.Capacity[d.Scarce] }

// Fits and FitNot are the quotes above and below the line where it is full.
func (d takePage) Fits() []figures.Candidate   { return d.some(true) }
func (d takePage) FitNot() []figures.Candidate { return d.some(false) }

func (d takePage) some(fit bool) (some []figures.Candidate) {
	for _, q := range d.Quotes {
		if (q.Fits > 0) == fit {
			some = append(some, q)
		}
	}
	return some
}

// Brings is what all that fits brings.
func (d takePage) Brings() string {
	n, sum := d.Taken(d.currency)
	quotes := fmt.Sprintf("%d quotes fit and bring ", n)
	switch n {
	case 0:
		return "none of them fits"
	case 1:
		quotes = "1 quote fits and brings "
	}
	return quotes + words.Price(sum) + " besides the hours"
}

// scarceName is a scarce thing in words: what it is, and one unit of it.
func scarceName(s figures.Scarce) (name, unit string) {
	switch s {
	case figures.FormerDays:
		return "Formers", "day"
	case figures.DryingDays:
		return "Drying places", "day"
	}
	return "Bench", "hour"
}

// Name and Unit are of a scarce thing.
func (takePage) Name(s figures.Scarce) string { name, _ := scarceName(s); return name }
func (takePage) Unit(s figures.Scarce) string { _, unit := scarceName(s); return unit }

// Chart is what the quotes bring, the first dozen.
func (d takePage) Chart() plot.Chart {
	_, unit := scarceName(d.Scarce)
	var fit, not plot.Series
	fit.Name, not.Name = "fits", "does not fit"
	for _, q := range d.Quotes[:min(len(d.Quotes), mostBars)] {
		name := q.Was.Name
		if q.Quote.Customer != "" {
			name += ", " + q.Quote.Customer
		}
		yes, no := plot.Point{Label: name}, plot.Point{Label: name}
		if q.Fits > 0 {
			yes.Value = q.Rate.Decimal()
			fit.Points = append(fit.Points, yes)
		} else {
			no.Value = q.Rate.Decimal()
			not.Points = append(not.Points, no)
		}
	}
	c := plot.Chart{
		Title: "Contribution " + article(unit) + ", " + string(d.currency) + ", the best first",
		Unit:  func(v decimal.Decimal) string { return words.Money(money.Round(v, d.currency)) },
	}
	if len(fit.Points) == 0 {
		c.Title += "; none of them fits"
	}
	for _, s := range []plot.Series{fit, not} {
		if len(s.Points) > 0 {
			c.Series = append(c.Series, s)
		}
	}
	return c
}

func article(unit string) string {
	if unit == "hour" {
		return "an hour"
	}
	return "a " + unit
}

func (p *Pages) registerTake(r fiber.Router) {
	books := p.guard.Require(people.Bookkeeper)
	r.Get("/figures/take", books, p.take)
	r.Get("/figures/take.csv", books, p.takeCSV)
}

// taken reads the month, the one it is where none is named, and what the list goes by.
func (p *Pages) taken(c *fiber.Ctx) (d takePage, err error) {
	now := p.sales.Now()
	d.typed = visible([]byte(c.Query("month")))
	if d.typed == "" {
		d.typed = now.Format("2006-01")
	}
	if d.Month, err = time.Parse("2006-01", strings.TrimSpace(d.typed)); err != nil || d.Month.Year() < 2000 || d.Month.Year() > 2200 {
		d.Problem = "Write a month, for example 2026-12."
		var l fault.List
		l.Add("month", d.typed, d.Problem)
		return d, l.Err()
	}
	scarce := figures.BenchHours
	for _, s := range figures.Scarces() {
		if string(s) == c.Query("by") {
			scarce = s
		}
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return d, err
	}
	d.currency = w.Figures.Rates.Currency
	d.Taking, err = p.figures.Take(c.UserContext(), d.Month, scarce)
	return d, err
}

func (p *Pages) take(c *fiber.Ctx) error {
	d, err := p.taken(c)
	status := fiber.StatusOK
	if d.Problem != "" {
		status = fiber.StatusUnprocessableEntity
	} else if err != nil {
		return err
	}
	return p.render(c, status, "figures-take", "What to take", "figures", d)
}

// takeCSV is the same for a spreadsheet.
func (p *Pages) takeCSV(c *fiber.Ctx) error {
	d, err := p.taken(c)
	if err != nil {
		return err
	}
	head := []string{"kind", "number", "version", "name", "customer", "net", "contribution", "hours", "former_days", "drying_days", "scarce", "takes", "contribution_of_one", "fits"}
	var rows [][]string
	for _, o := range append(d.Quotes, d.Designs...) {
		number, version := "", o.Was.Version
		if o.Kind != figures.ADesign {
			version = o.Quote.Version
		}
		if o.Quote.Number.No != 0 {
			number = o.Quote.Number.String()
		}
		rows = append(rows, []string{string(o.Kind), number, strconv.Itoa(version), stock.Guarded(o.Was.Name), stock.Guarded(o.Quote.Customer), o.Was.Net.String(), o.Was.Contribution().String(), o.Was.Hours.StringFixed(2),
			o.Was.Former.String(), o.Was.Drying.String(), string(d.Scarce), o.Takes.StringFixed(2), o.Rate.String(), strconv.Itoa(o.Fits)})
	}
	return sendTable(c, "what-to-take.csv", head, rows)
}
