package web

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/people"
)

// designsPage compares designs at today's figures.
type designsPage struct {
	All     []figures.Weighed
	Skipped []figures.Skipped
	By      string // what it is sorted by
}

// columns are what designs can be sorted by, the first as it is without a word; whichever pays most comes first.
func columns() []column {
	return []column{
		{"hour", "Contribution an hour", func(a, b figures.Weighed) int { return b.Bottleneck().Cmp(a.Bottleneck()) }},
		{"name", "Name", func(a, b figures.Weighed) int {
			return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
		}},
		{"price", "Price", func(a, b figures.Weighed) int { return b.Price.Cmp(a.Price) }},
		{"margin", "Margin", func(a, b figures.Weighed) int { return b.Margin().Share.Cmp(a.Margin().Share) }},
		{"earned", "Margin in money", func(a, b figures.Weighed) int { return b.Earned().Cmp(a.Earned()) }},
		{"hours", "Hours", func(a, b figures.Weighed) int { return b.Hours.Cmp(a.Hours) }},
		{"material", "Material share", func(a, b figures.Weighed) int { return b.MaterialShare().Cmp(a.MaterialShare()) }},
		{"drying", "Contribution a drying day", func(a, b figures.Weighed) int { return b.PerDrying().Cmp(a.PerDrying()) }},
	}
}

type column struct {
	Key, Name string
	order     func(a, b figures.Weighed) int
}

// Columns are what can be sorted by.
func (d designsPage) Columns() []column { return columns() }

// Best is the largest contribution an hour, which the bars are drawn against.
func (d designsPage) Share(w figures.Weighed) int {
	best := w.Bottleneck()
	for _, other := range d.All {
		if other.Bottleneck().Cmp(best) > 0 {
			best = other.Bottleneck()
		}
	}
	if best.Sign() <= 0 || w.Bottleneck().Sign() <= 0 {
		return 0
	}
	return int(w.Bottleneck().Decimal().Shift(2).DivRound(best.Decimal(), 0).IntPart())
}

func (p *Pages) registerFigures(r fiber.Router) {
	books := p.guard.Require(people.Bookkeeper)
	r.Get("/figures", books, p.designFigures)
	r.Get("/figures/designs.csv", books, p.designFiguresCSV)
	p.registerWhatIf(r)
	p.registerTake(r)
}

func (p *Pages) compared(c *fiber.Ctx) (d designsPage, err error) {
	d.All, d.Skipped, err = p.figures.Designs(c.UserContext())
	d.By = columns()[0].Key
	for _, col := range columns() {
		if col.Key == c.Query("by") {
			d.By = col.Key
		}
	}
	for _, col := range columns() {
		if col.Key == d.By {
			slices.SortStableFunc(d.All, col.order)
		}
	}
	return d, err
}

func (p *Pages) designFigures(c *fiber.Ctx) error {
	d, err := p.compared(c)
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "figures", "Figures", "figures", d)
}

// designFiguresCSV is the same for a spreadsheet: every figure of every design.
func (p *Pages) designFiguresCSV(c *fiber.Ctx) error {
	d, err := p.compared(c)
	if err != nil {
		return err
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	rows := [][]string{{"design", "pieces", "price", "net", "material", "labour", "other", "cost", "earned", "margin", "material_share", "hours", "hours_low", "hours_high",
		"former_days", "drying_days", "contribution", "contribution_an_hour", "contribution_a_former_day", "contribution_a_drying_day", "margin_an_hour"}}
	for _, f := range d.All {
		rows = append(rows, []string{stock.Guarded(f.Name), fmt.Sprint(f.Quantity), f.Price.String(), f.Net.String(), f.Material.String(), f.Labour.String(), f.Other().String(), f.Cost().String(),
			f.Earned().String(), f.Margin().Share.StringFixed(4), f.MaterialShare().StringFixed(4), f.Hours.StringFixed(2), f.Low.StringFixed(2), f.High.StringFixed(2),
			f.Former.String(), f.Drying.String(), f.Contribution().String(), f.Bottleneck().String(), f.PerFormer().String(), f.PerDrying().String(), f.PerHour().String()})
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	return sendCSV(c, "designs.csv", []byte(b.String()))
}
