package web

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/plot"
)

// pricedDesignPage is all there is to say about one design.
type pricedDesignPage struct {
	figureDays
	figures.DesignFigures
	Hangs *figures.Sensitivity // nil where it cannot be priced
	Page  int
}

// Newer and Older are the pages of jobs beside this one; empty where there is none.
func (d pricedDesignPage) Newer() string { return d.at(d.Page - 1) }

// Older is the next page.
func (d pricedDesignPage) Older() string { return d.at(d.Page + 1) }

func (d pricedDesignPage) at(page int) string {
	if page < 1 || page > d.Pages() {
		return ""
	}
	return d.With("/figures/designs/"+d.Design.ID+"?page="+strconv.Itoa(page)) + "#jobs"
}

// Little are inputs that move the margin by less than a plot can show.
func (d pricedDesignPage) Little() (n int) {
	for _, i := range d.Hangs.Inputs {
		if i.By.Round(3).IsZero() {
			n++
		}
	}
	return n
}

// Plot are the inputs, how many points of margin each moves.
func (d pricedDesignPage) Plot() plot.Chart {
	c := plot.Chart{Title: "Points of margin for 10 % more, with the price kept", Words: d.Hangs.Words(), Unit: func(v decimal.Decimal) string {
		return figures.Input{By: v.Shift(-2)}.Points()
	}}
	var s plot.Series
	for _, i := range d.Hangs.Inputs {
		if !i.By.Round(3).IsZero() {
			s.Points = append(s.Points, plot.Point{Label: i.Name, Value: i.By.Shift(2)})
		}
	}
	c.Series = []plot.Series{s}
	return c
}

func (p *Pages) oneDesign(c *fiber.Ctx) error {
	days, err := p.figuresOf(c)
	if err != nil {
		return err
	}
	d := pricedDesignPage{figureDays: days, Page: max(1, c.QueryInt("page", 1))}
	if d.DesignFigures, err = p.figures.Design(c.UserContext(), days.In, c.Params("id"), d.Page); err != nil {
		return err
	}
	if d.Today != nil {
		s, err := p.figures.Sensitivity(c.UserContext(), d.Design.ID)
		if err != nil && fault.KindOf(err) != fault.Invalid {
			return err
		}
		if err == nil {
			d.Hangs = &s
		}
	}
	return p.render(c, d.Status(), "figures-design", d.Design.Name, "figures", d)
}

// fileOf are the days of a file about a design, which has no place to say what is wrong with them.
func (p *Pages) fileOf(c *fiber.Ctx) (figures.Span, error) {
	days, err := p.figuresOf(c)
	if err == nil {
		err = days.Refused()
	}
	return days.In, err
}

func (p *Pages) jobsCSV(c *fiber.Ctx) error {
	in, err := p.fileOf(c)
	if err != nil {
		return err
	}
	jobs, err := p.figures.JobsOf(c.UserContext(), in, c.Params("id"))
	if err != nil {
		return err
	}
	var rows [][]string
	for _, j := range jobs {
		rows = append(rows, slices.Concat([]string{j.Number.String(), stock.Guarded(j.Title), stock.Guarded(j.Customer), strconv.Itoa(j.Design.Version), j.Ended.Format(time.DateOnly), strconv.Itoa(j.Planned.Quantity)}, doneCells(j.Done)[1:]))
	}
	return sendTable(c, "jobs.csv", slices.Concat([]string{"order", "title", "customer", "version", "done", "pieces"}, costingHead("planned_"), costingHead("took_"), []string{"rework_hours"}), rows)
}

func (p *Pages) quotesMadeCSV(c *fiber.Ctx) error {
	in, err := p.fileOf(c)
	if err != nil {
		return err
	}
	list, err := p.figures.QuotesMade(c.UserContext(), in, c.Params("id"))
	if err != nil {
		return err
	}
	var rows [][]string
	for _, q := range list {
		rows = append(rows, []string{q.Number.String(), strconv.Itoa(q.Quote.Version), stock.Guarded(q.Title), stock.Guarded(q.Customer), strconv.Itoa(q.Quote.Design.Version), string(q.Standing(time.Now())),
			q.IssuedAt.Format(time.DateOnly), strconv.Itoa(q.Pieces), q.Net.String(), q.NetEach().String(), q.Gross.String(), q.Hours.StringFixed(2)})
	}
	return sendTable(c, "quotes.csv", []string{"quote", "version", "title", "customer", "design_version", "standing", "issued", "pieces", "net", "net_each", "price", "hours"}, rows)
}

func (p *Pages) versionsCSV(c *fiber.Ctx) error {
	in, err := p.fileOf(c)
	if err != nil {
		return err
	}
	d, err := p.figures.Design(c.UserContext(), in, c.Params("id"), 1)
	if err != nil {
		return err
	}
	var rows [][]string
	for _, v := range d.Versions {
		each := ""
		if v.Quoted.Quotes > 0 {
			each = v.Quoted.Each().String()
		}
		rows = append(rows, slices.Concat([]string{strconv.Itoa(v.Version), stock.Guarded(v.Name), v.Since.Format(time.DateOnly), strconv.Itoa(len(v.Changes)), strconv.Itoa(v.Quoted.Quotes), each}, doneCells(v.Done)))
	}
	return sendTable(c, "versions.csv", slices.Concat([]string{"version", "name", "since", "changes", "quotes", "quoted_net_each", "jobs"}, costingHead("planned_"), costingHead("took_"), []string{"rework_hours"}), rows)
}

func (p *Pages) sensitivityCSV(c *fiber.Ctx) error {
	s, err := p.figures.Sensitivity(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	rows := [][]string{{"as it is", s.Base.Cost().String(), s.Base.Margin().Share.StringFixed(4), "0.0"}}
	for _, i := range append([]figures.Input{s.Price}, s.Inputs...) {
		rows = append(rows, []string{stock.Guarded(i.Name), i.Cost.String(), i.Margin.Share.StringFixed(4), fmt.Sprint(i.By.Shift(2).Round(2))})
	}
	return sendTable(c, "sensitivity.csv", []string{"ten_percent_more_of", "cost", "margin", "points"}, rows)
}
