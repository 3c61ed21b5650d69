package web

import (
	"fmt"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/people"
)

// designsPage compares designs at today's figures, and with what was quoted and done.
type designsPage struct {
	figureDays
	figures.Comparison
	By string // what it is sorted by
}

// columns are what designs can be sorted by, the first as it is without a word; whichever pays most comes first.
func columns() []column {
	return []column{
		{"hour", "Contribution an hour", func(a, b figures.Compared) int { return b.Bottleneck().Cmp(a.Bottleneck()) }},
		{"name", "Name", func(a, b figures.Compared) int {
			return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
		}},
		{"price", "Price", func(a, b figures.Compared) int { return b.Price.Cmp(a.Price) }},
		{"margin", "Margin", func(a, b figures.Compared) int { return b.Margin().Share.Cmp(a.Margin().Share) }},
		{"earned", "Margin in money", func(a, b figures.Compared) int { return b.Earned().Cmp(a.Earned()) }},
		{"hours", "Hours", func(a, b figures.Compared) int { return b.Hours.Cmp(a.Hours) }},
		{"material", "Material share", func(a, b figures.Compared) int { return b.MaterialShare().Cmp(a.MaterialShare()) }},
		{"former", "Contribution a former day", func(a, b figures.Compared) int { return b.PerFormer().Cmp(a.PerFormer()) }},
		{"drying", "Contribution a drying day", func(a, b figures.Compared) int { return b.PerDrying().Cmp(a.PerDrying()) }},
		{"jobs", "Jobs done", func(a, b figures.Compared) int { return b.Done.Jobs - a.Done.Jobs }},
		{"took", "What an hour brought", func(a, b figures.Compared) int { return brought(b).Cmp(brought(a)) }},
	}
}

type column struct {
	Key, Name string
	order     func(a, b figures.Compared) int
}

// Columns are what can be sorted by.
func (d designsPage) Columns() []column { return columns() }

// Share is how much of the largest contribution an hour a design brings, of 100.
func (d designsPage) Share(w figures.Compared) int {
	best := w.Bottleneck()
	for _, other := range d.Designs {
		if other.Bottleneck().Cmp(best) > 0 {
			best = other.Bottleneck()
		}
	}
	if best.Sign() <= 0 || w.Bottleneck().Sign() <= 0 {
		return 0
	}
	return int(w.Bottleneck().Decimal().Shift(2).DivRound(best.Decimal(), 0).IntPart())
}

// Untold are jobs whose plan was not kept.
func (d designsPage) Untold() int {
	n := d.Loose.Untold
	for _, c := range d.Designs {
		n += c.Done.Untold
	}
	return n
}

func (p *Pages) registerFigures(r fiber.Router) {
	books := p.guard.Require(people.Bookkeeper)
	r.Get("/figures", books, p.designFigures)
	r.Get("/figures/designs.csv", books, p.designFiguresCSV)
	r.Get("/figures/compare", books, p.besideFigures)
	r.Get("/figures/designs/:id", books, p.oneDesign)
	r.Get("/figures/designs/:id/jobs.csv", books, p.jobsCSV)
	r.Get("/figures/designs/:id/quotes.csv", books, p.quotesMadeCSV)
	r.Get("/figures/designs/:id/versions.csv", books, p.versionsCSV)
	r.Get("/figures/designs/:id/sensitivity.csv", books, p.sensitivityCSV)
	r.Get("/figures/designs/:id/batch", books, p.batch)
	r.Get("/figures/designs/:id/batch.csv", books, p.batchCSV)
	p.registerWhatIf(r)
	p.registerTake(r)
	p.registerOutcomes(r)
	p.registerMonths(r)
}

// designsAsked are those that an address names.
func designsAsked(c *fiber.Ctx) (ids []string) {
	for _, id := range c.Context().QueryArgs().PeekMulti("design") {
		ids = append(ids, visible(id))
	}
	return ids
}

func (p *Pages) compared(c *fiber.Ctx) (d designsPage, err error) {
	if d.figureDays, err = p.figuresOf(c); err != nil {
		return d, err
	}
	if ids := designsAsked(c); len(ids) > 0 {
		d.Comparison, err = p.figures.Beside(c.UserContext(), d.In, ids)
		return d, err
	}
	d.Comparison, err = p.figures.Compare(c.UserContext(), d.In)
	d.By = columns()[0].Key
	for _, col := range columns() {
		if col.Key == c.Query("by") {
			d.By = col.Key
		}
	}
	for _, col := range columns() {
		if col.Key == d.By {
			slices.SortStableFunc(d.Designs, col.order)
		}
	}
	return d, err
}

func (p *Pages) designFigures(c *fiber.Ctx) error {
	d, err := p.compared(c)
	if err != nil {
		return err
	}
	return p.render(c, d.Status(), "figures", "Figures", "figures", d)
}

// designFiguresCSV is the same for a spreadsheet: every figure of every design, or of those that are named.
func (p *Pages) designFiguresCSV(c *fiber.Ctx) error {
	d, err := p.compared(c)
	if err == nil {
		err = d.Refused()
	}
	if err != nil {
		return err
	}
	head := slices.Concat([]string{"design", "version", "pieces", "price"}, costingHead(""), []string{"quotes", "quoted_net_each", "net_each", "jobs"}, costingHead("planned_"), costingHead("took_"), []string{"rework_hours"})
	var rows [][]string
	for _, f := range d.Designs {
		quoted := []string{fmt.Sprint(f.Quoted.Quotes), "", f.NetEach().String()}
		if f.Quoted.Quotes > 0 {
			quoted[1] = f.Quoted.Each().String()
		}
		rows = append(rows, slices.Concat([]string{stock.Guarded(f.Name), fmt.Sprint(f.Version), fmt.Sprint(f.Quantity), f.Price.String()}, costingCells(f.Weighed), quoted, doneCells(f.Done)))
	}
	return sendTable(c, "designs.csv", head, rows)
}

// costingHead are the columns of costingCells.
func costingHead(prefix string) []string {
	all := []string{"net", "fee", "material", "handling", "labour", "bought_in", "contingency", "other", "cost", "earned", "margin", "material_share", "hours", "hours_low", "hours_high",
		"former_days", "drying_days", "contribution", "contribution_an_hour", "contribution_a_former_day", "contribution_a_drying_day", "margin_an_hour"}
	for i := range all {
		all[i] = prefix + all[i]
	}
	return all
}

func costingCells(f figures.Weighed) []string {
	return []string{f.Net.String(), f.Fee.String(), f.Material.String(), f.Handling.String(), f.Labour.String(), f.BoughtIn.String(), f.Contingency.String(), f.Other().String(), f.Cost().String(),
		f.Earned().String(), f.Margin().Share.StringFixed(4), f.MaterialShare().StringFixed(4), f.Hours.StringFixed(2), f.Low.StringFixed(2), f.High.StringFixed(2),
		f.Former.String(), f.Drying.String(), f.Contribution().String(), f.Bottleneck().String(), f.PerFormer().String(), f.PerDrying().String(), f.PerHour().String()}
}

// doneCells are how many jobs, what was planned, what it took and the rework in it; without jobs nothing.
func doneCells(d figures.Done) []string {
	if d.Jobs == 0 {
		return append([]string{"0"}, make([]string, 2*len(costingHead(""))+1)...)
	}
	return slices.Concat([]string{fmt.Sprint(d.Jobs)}, costingCells(d.Plan()), costingCells(d.Took()), []string{d.Rework.StringFixed(2)})
}
