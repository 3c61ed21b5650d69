package web

import (
	"fmt"
	"net/url"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"
	"foamwright/pricing/people"
	"foamwright/pricing/plot"
)

// mostQuotes is how many quotes of a row a page lists; the file has all.
const mostQuotes = 200

// outcomesPage is how the quotes of some days ended.
type outcomesPage struct {
	figures.Outcomes
	First, Last string // the days as they were typed
	Problems    map[string]string
	Chart       plot.Chart
}

// Opens is the address of a row's quotes.
func (d outcomesPage) Opens(group, key string, outcome figures.Outcome) string {
	v := url.Values{"from": {iso(d.From)}, "to": {iso(d.To)}}
	for name, value := range map[string]string{"by": group, "row": key, "outcome": string(outcome)} {
		if value != "" {
			v.Set(name, value)
		}
	}
	return "/figures/answers/quotes?" + v.Encode()
}

// Days are the days that are looked at, for an address.
func (d outcomesPage) Days() string {
	return url.Values{"from": {iso(d.From)}, "to": {iso(d.To)}}.Encode()
}

// Cells are the counts of a row, each with the address of its quotes.
func (d outcomesPage) Cells(group, key string, t figures.Tally) (cells []outcomeCell) {
	for _, e := range figures.Endings() {
		cells = append(cells, outcomeCell{e, t.Of(e), d.Opens(group, key, e)})
	}
	return cells
}

type outcomeCell struct {
	Outcome figures.Outcome
	N       int
	At      string
}

// Median is the usual wait for an answer in words; empty without one.
func (d outcomesPage) Median() string {
	days, of := d.Wait()
	switch {
	case of == 0:
		return ""
	case days.Equal(decimal.NewFromInt(1)):
		return "1 day"
	}
	return days.String() + " days"
}

func (p *Pages) registerOutcomes(r fiber.Router) {
	books := p.guard.Require(people.Bookkeeper)
	r.Get("/figures/answers", books, p.outcomes)
	r.Get("/figures/answers.csv", books, p.outcomesCSV)
	r.Get("/figures/answers/quotes", books, p.outcomeQuotes)
	r.Get("/figures/answers/quotes.csv", books, p.outcomeQuotesCSV)
}

// outcomesOf reads the days and counts; what cannot be read is said beside its entry, and the usual days are counted.
func (p *Pages) outcomesOf(c *fiber.Ctx) (d outcomesPage, err error) {
	t := &typing{v: url.Values{"from": {visible([]byte(c.Query("from")))}, "to": {visible([]byte(c.Query("to")))}}}
	from, to := t.day("from"), t.day("to")
	if t.problems.Err() == nil {
		d.Outcomes, err = p.figures.Outcomes(c.UserContext(), from, to)
		if err := t.under("to", err); err != nil {
			return d, err
		}
	}
	if d.Problems = t.byField(); len(d.Problems) > 0 {
		if d.Outcomes, err = p.figures.Outcomes(c.UserContext(), time.Time{}, time.Time{}); err != nil {
			return d, err
		}
		d.First, d.Last = t.v.Get("from"), t.v.Get("to")
		return d, nil
	}
	d.First, d.Last = iso(d.From), iso(d.To)
	return d, err
}

func (p *Pages) outcomes(c *fiber.Ctx) error {
	d, err := p.outcomesOf(c)
	if err != nil {
		return err
	}
	d.Chart = d.rates()
	return p.render(c, statusOf(d.Problems), "figures-answers", "Won and lost", "figures", d)
}

// rates are the rates that can be told, each with its interval.
func (d outcomesPage) rates() plot.Chart {
	percent := func(v decimal.Decimal) string { return v.StringFixed(0) + "\u00a0%" }
	var points []plot.Point
	var said []string
	add := func(name string, t figures.Tally) {
		if !t.Enough() {
			return
		}
		r := t.Rate()
		points = append(points, plot.Point{Label: name, Value: r.Share.Shift(2), Low: decimal.NewNullDecimal(r.Low.Shift(2)), High: decimal.NewNullDecimal(r.High.Shift(2))})
		said = append(said, name+" "+t.Says())
	}
	add("All", d.All)
	for _, g := range d.Groups {
		if len(g.Rows) < 2 {
			continue
		}
		for _, row := range g.Rows {
			add(row.Name, row.Tally)
		}
	}
	return plot.Chart{
		Title: "Accepted of those that ended; the line is the interval that the rate lies in", Words: strings.Join(said, "; ") + ".", Unit: percent,
		Series: []plot.Series{{Name: "accepted", Points: points}},
	}
}

// outcomeQuotesPage are the quotes of one row.
type outcomeQuotesPage struct {
	outcomesPage
	Row  figures.Row
	Name string
	List []figures.Offered // the newest of them
	Of   int
}

// File is the same as a file.
func (d outcomeQuotesPage) File() string {
	at := d.Opens(d.Row.Group, d.Row.Key, figures.Outcome(d.Row.Outcome))
	return strings.Replace(at, "/quotes?", "/quotes.csv?", 1)
}

func (p *Pages) outcomeRow(c *fiber.Ctx) (d outcomeQuotesPage, err error) {
	if d.outcomesPage, err = p.outcomesOf(c); err != nil {
		return d, err
	}
	if err := inOne(d.Problems); err != nil {
		return d, err
	}
	d.Row = figures.Row{Outcome: c.Query("outcome"), Group: c.Query("by"), Key: c.Query("row")}
	found := false
	if d.List, d.Name, found = d.Quotes(d.Row); !found {
		return d, fault.New(fault.NotFound, "There is no such row of these days any more. Open it from the page of figures.")
	}
	d.Of = len(d.List)
	return d, nil
}

func (p *Pages) outcomeQuotes(c *fiber.Ctx) error {
	d, err := p.outcomeRow(c)
	if err != nil {
		return err
	}
	if d.Of > mostQuotes {
		d.List = d.List[:mostQuotes]
	}
	return p.render(c, fiber.StatusOK, "figures-answers-quotes", "Won and lost: quotes", "figures", d)
}

// outcomesCSV is every row for a spreadsheet. Rates of few quotes are given too: their interval says what they are worth.
func (p *Pages) outcomesCSV(c *fiber.Ctx) error {
	d, err := p.outcomesOf(c)
	if err == nil {
		err = inOne(d.Problems)
	}
	if err != nil {
		return err
	}
	return sendCSV(c, "answers.csv", d.CSV())
}

func (p *Pages) outcomeQuotesCSV(c *fiber.Ctx) error {
	d, err := p.outcomeRow(c)
	if err != nil {
		return err
	}
	return sendCSV(c, fmt.Sprintf("answers-%s.csv", iso(d.To)), figures.OfferedCSV(d.List))
}
