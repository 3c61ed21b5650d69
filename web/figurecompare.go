package web

import (
	"fmt"
	"net/url"
	"slices"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/pricing/figures"
	"foamwright/pricing/money"
	"foamwright/pricing/plot"
	"foamwright/pricing/words"
)

// besidePage are some designs side by side: a column each.
type besidePage struct {
	designsPage
	Rows []besideRow
}

// Across is how many columns there are.
func (d besidePage) Across() int { return len(d.Designs) + 1 }

// Few tells that there are jobs of some design, but too few to call it the best by them.
func (d besidePage) Few() bool {
	return slices.ContainsFunc(d.Designs, func(c figures.Compared) bool { return c.Done.Jobs > 0 && !c.Done.Enough() })
}

// Beside is an address with the designs and the days.
func (d besidePage) Beside(path string) string {
	v := url.Values{}
	for _, c := range d.Designs {
		v.Add("design", c.ID)
	}
	return d.With(path + "?" + v.Encode())
}

// besideRow is one figure of each.
type besideRow struct {
	Name  string
	Part  string // a heading before it
	Cells []besideCell
}

type besideCell struct {
	Says, Small string
	Best        bool
	of          decimal.Decimal
	there       bool
}

func (p *Pages) besideFigures(c *fiber.Ctx) error {
	ids := designsAsked(c)
	if len(ids) == 0 {
		d, err := p.figuresOf(c)
		if err != nil {
			return err
		}
		return p.render(c, d.Status(), "figures-compare", "Designs side by side", "figures", besidePage{designsPage: designsPage{figureDays: d}})
	}
	d, err := p.compared(c)
	if err != nil {
		return err
	}
	return p.render(c, d.Status(), "figures-compare", "Designs side by side", "figures", besidePage{d, besideRows(d.Designs)})
}

// besideRows are the figures; of those where more, or fewer, is better the best is marked, unless all are alike.
func besideRows(all []figures.Compared) (rows []besideRow) {
	part := ""
	add := func(name string, better int, cell func(figures.Compared) besideCell) {
		r := besideRow{Name: name, Part: part}
		part = ""
		for _, c := range all {
			r.Cells = append(r.Cells, cell(c))
		}
		markBest(r.Cells, better)
		rows = append(rows, r)
	}
	sum := func(of func(figures.Compared) money.Amount) func(figures.Compared) besideCell {
		return func(c figures.Compared) besideCell { return amountCell(of(c)) }
	}
	part = "At today's figures"
	add("Price, with tax", 0, func(c figures.Compared) besideCell {
		cell := amountCell(c.Price)
		if c.Quantity > 1 {
			cell.Small = fmt.Sprintf("%d pieces", c.Quantity)
		}
		return cell
	})
	add("Net", 0, sum(func(c figures.Compared) money.Amount { return c.Net }))
	add("Material", 0, sum(func(c figures.Compared) money.Amount { return c.Material }))
	add("Handling", 0, sum(func(c figures.Compared) money.Amount { return c.Handling }))
	add("Labour", 0, sum(func(c figures.Compared) money.Amount { return c.Labour }))
	add("Bought in", 0, sum(func(c figures.Compared) money.Amount { return c.BoughtIn }))
	add("Contingency", 0, sum(func(c figures.Compared) money.Amount { return c.Contingency }))
	add("Cost", 0, sum(func(c figures.Compared) money.Amount { return c.Cost() }))
	add("Margin", 1, sum(func(c figures.Compared) money.Amount { return c.Earned() }))
	add("Margin, % of net", 1, func(c figures.Compared) besideCell {
		return besideCell{Says: c.Margin().Percent(), of: c.Margin().Share.Round(3), there: true}
	})
	add("Hours at the bench", -1, func(c figures.Compared) besideCell {
		return besideCell{Says: c.Hours.StringFixed(2), Small: c.Low.StringFixed(1) + " to " + c.High.StringFixed(1), of: c.Hours, there: true}
	})
	add("Margin an hour", 1, sum(func(c figures.Compared) money.Amount { return c.PerHour() }))
	add("Contribution an hour", 1, sum(func(c figures.Compared) money.Amount { return c.Bottleneck() }))
	add("Contribution a former day", 1, func(c figures.Compared) besideCell { return placeCell(c.Former, c.PerFormer()) })
	add("Contribution a drying day", 1, func(c figures.Compared) besideCell { return placeCell(c.Drying, c.PerDrying()) })
	add("Material, % of cost", 0, func(c figures.Compared) besideCell {
		return besideCell{Says: figures.Margin{Share: c.MaterialShare()}.Percent()}
	})
	part = "Quoted and done"
	add("Net a piece, as quoted", 0, func(c figures.Compared) besideCell {
		if c.Quoted.Quotes == 0 {
			return besideCell{}
		}
		return besideCell{Says: words.Money(c.Quoted.Each()), Small: quotesSaid(c.Quoted.Quotes)}
	})
	add("Net a piece, today", 0, func(c figures.Compared) besideCell {
		return besideCell{Says: words.Money(c.NetEach()), Small: c.Drift()}
	})
	add("Jobs done", 0, func(c figures.Compared) besideCell { return besideCell{Says: fmt.Sprint(c.Done.Jobs)} })
	done := func(cell func(figures.Done) besideCell) func(figures.Compared) besideCell {
		return func(c figures.Compared) besideCell {
			if c.Done.Jobs == 0 {
				return besideCell{}
			}
			said := cell(c.Done)
			said.there = said.there && c.Done.Enough()
			return said
		}
	}
	add("Contribution an hour, planned", 1, done(func(d figures.Done) besideCell { return amountCell(d.Plan().Bottleneck()) }))
	add("Contribution an hour, took", 1, done(func(d figures.Done) besideCell { return amountCell(d.Took().Bottleneck()) }))
	add("Hours, planned", 0, done(func(d figures.Done) besideCell { return besideCell{Says: d.Planned.Hours.StringFixed(1)} }))
	add("Hours, took", 0, done(func(d figures.Done) besideCell {
		return besideCell{Says: d.Actual.Hours.StringFixed(1), Small: d.Longer()}
	}))
	add("Margin, planned", 1, done(func(d figures.Done) besideCell { return marginCell(d.Plan().Margin()) }))
	add("Margin, took", 1, done(func(d figures.Done) besideCell { return marginCell(d.Took().Margin()) }))
	return rows
}

func amountCell(a money.Amount) besideCell {
	return besideCell{Says: words.Money(a), of: a.Decimal(), there: true}
}

func marginCell(m figures.Margin) besideCell {
	return besideCell{Says: m.Percent(), of: m.Share.Round(3), there: true}
}

func placeCell(days decimal.Decimal, each money.Amount) besideCell {
	if !days.IsPositive() {
		return besideCell{Small: "takes none"}
	}
	c := amountCell(each)
	c.Small = days.String() + " days"
	return c
}

// markBest marks the largest where better is 1, the smallest where it is −1.
func markBest(cells []besideCell, better int) {
	best := -1
	alike := true
	for i, c := range cells {
		if !c.there {
			continue
		}
		if best >= 0 && !c.of.Equal(cells[best].of) {
			alike = false
		}
		if best < 0 || c.of.Cmp(cells[best].of)*better > 0 {
			best = i
		}
	}
	for i, c := range cells {
		cells[i].Best = better != 0 && !alike && c.there && c.of.Equal(cells[best].of)
	}
}

func quotesSaid(n int) string {
	if n == 1 {
		return "1 quote"
	}
	return fmt.Sprintf("%d quotes", n)
}

// mostPlotted is how many designs a plot has room for.
const mostPlotted = 16

// Plot is what an hour at the bench brings: at today's figures, and where there are jobs as planned and as they took.
func (d designsPage) Plot() plot.Chart {
	c := plot.Chart{Title: "Contribution of an hour at the bench, " + string(d.Currency), Unit: func(v decimal.Decimal) string { return v.StringFixed(2) }}
	today, planned, took := plot.Series{Name: "at today's figures"}, plot.Series{Name: "jobs done, planned"}, plot.Series{Name: "jobs done, took"}
	var without []plot.Point
	for i, w := range d.Designs {
		if i == mostPlotted {
			break
		}
		at := plot.Point{Label: w.Name, Value: w.Bottleneck().Decimal()}
		if w.Done.Jobs == 0 {
			without = append(without, at)
			continue
		}
		today.Points = append(today.Points, at)
		planned.Points = append(planned.Points, plot.Point{Label: w.Name, Value: w.Done.Plan().Bottleneck().Decimal()})
		took.Points = append(took.Points, plot.Point{Label: w.Name, Value: w.Done.Took().Bottleneck().Decimal()})
	}
	any := len(today.Points) > 0
	today.Points = append(today.Points, without...)
	c.Series = []plot.Series{today}
	if any {
		c.Series = append(c.Series, planned, took)
	}
	return c
}

// brought is what an hour brought in jobs done; nothing without any.
func brought(c figures.Compared) decimal.Decimal {
	if c.Done.Jobs == 0 {
		return decimal.New(-1, 9)
	}
	return c.Done.Took().Bottleneck().Decimal()
}
