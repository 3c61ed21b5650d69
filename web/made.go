package web

import (
	"cmp"
	"context"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// registerMade mounts what comes of an order beside its plan.
func (p *Pages) registerMade(r fiber.Router, owner, hands fiber.Handler) {
	r.Post("/orders/:id/measure", hands, p.measureOrder)
	r.Get("/learned/materials", owner, p.learnedMaterials)
	r.Post("/learned/materials", owner, p.takeOverMaterial)
}

// orderMade is what an order came to, beside its quote.
type orderMade struct {
	sales.Actual
	Trails             []logged
	Measured, Reckoned sales.Finished
	Before             []sales.Finished // what was measured before, the newest first
	steps              []labour.Step
}

func (p *Pages) orderMade(ctx context.Context, order string) (*orderMade, error) {
	var m orderMade
	var err error
	if m.Actual, err = p.sales.Actual(ctx, order); err != nil {
		return nil, err
	}
	measured, reckoned, err := p.sales.Measured(ctx, order)
	if err != nil {
		return nil, err
	}
	if m.Reckoned = reckoned; len(measured) > 0 {
		m.Measured, m.Before = measured[0], measured[1:]
	}
	w, err := p.sales.Workshop(ctx)
	m.Trails, m.steps = trails(m.Logs), w.Figures.Steps
	return &m, err
}

// Group is what was worked on, in words.
func (m orderMade) Group(step string) string {
	return labour.LoggedName(m.steps, step)
}

// ReckonedCost is what a material was to cost.
func (d orderPage) ReckonedCost(m sales.MaterialUse) money.Amount {
	return money.Round(m.Taking.Cost, d.Quote.Net.Currency())
}

// MeasureRows are the measures with what was reckoned, and what was typed or kept.
func (d orderPage) MeasureRows() []measureRow {
	got, want := d.Made.Measured, d.Made.Reckoned
	row := func(name, label, unit string, got, want decimal.Decimal) measureRow {
		usual := ""
		if !got.IsZero() {
			usual = got.String()
		}
		return measureRow{d.Text("measure", name, label+", "+unit, usual), label, unit, got, want}
	}
	return []measureRow{
		row("width", "Width straight across", "mm", got.Stands.Width, want.Stands.Width),
		row("depth", "Depth", "mm", got.Stands.Depth, want.Stands.Depth), row("weight", "Weight", "kg", got.Weight, want.Weight),
	}
}

type measureRow struct {
	Entry          entry
	Label, Unit    string
	Measured, Said decimal.Decimal
}

// Off is how far it is from what was said, with its sign.
func (m measureRow) Off() string {
	off := m.Measured.Sub(m.Said)
	if off.IsPositive() {
		return "+" + off.String()
	}
	return strings.Replace(off.String(), "-", "−", 1)
}

// Minutes are minutes as a person reads them, whole.
func (d orderPage) Minutes(m decimal.Decimal) string { return m.Round(0).String() }

// More is a difference in minutes, with its sign. What is still at the bench is not quicker yet.
func (d orderPage) More(m decimal.Decimal) string {
	if d.Order.Open() && m.IsNegative() {
		return ""
	}
	if m = m.Round(0); m.IsPositive() {
		return "+" + m.String()
	}
	return strings.Replace(m.String(), "-", "−", 1)
}

// Stood is one measure in words, those that were taken.
func (m orderMade) Stood(f sales.Finished) string {
	var said []string
	for _, v := range []struct {
		name, unit string
		value      decimal.Decimal
	}{{"width", "mm", f.Stands.Width}, {"depth", "mm", f.Stands.Depth}, {"weight", "kg", f.Weight}} {
		if v.value.IsPositive() {
			said = append(said, v.name+" "+v.value.String()+" "+v.unit)
		}
	}
	return strings.Join(said, ", ")
}

// measureOrder keeps what the finished piece measured.
func (p *Pages) measureOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "measure", func(t *typing, id string) error {
		f := sales.Finished{Order: id, Stands: shield.Stands{Width: t.optional("width"), Depth: t.optional("depth")}, Weight: t.optional("weight"), Note: t.v.Get("note"), By: by(c)}
		if err := t.problems.Err(); err != nil {
			return err
		}
		return p.sales.Measure(c.UserContext(), f)
	})
}

// materialsPage is what finished orders teach about springback and spread.
type materialsPage struct {
	Offers        []sales.MaterialOffer
	Lessons       []sales.MaterialLesson
	Message, Done string
	names         map[string]string
}

// Name is what a figure is of.
func (d materialsPage) Name(what string) string { return cmp.Or(d.names[what], what) }

// Scatter is how far orders lie from their middle, in percent.
func (d materialsPage) Scatter(o sales.MaterialOffer) string {
	return o.Drift.Scatter.Shift(2).Round(0).String()
}

func (p *Pages) learnedMaterials(c *fiber.Ctx) error {
	return p.showMaterials(c, fiber.StatusOK, materialsPage{Done: c.Query("done")})
}

func (p *Pages) showMaterials(c *fiber.Ctx, status int, data materialsPage) error {
	ctx := c.UserContext()
	var err error
	if data.Offers, data.Lessons, err = p.sales.LearnedMaterials(ctx); err != nil {
		return err
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	data.names = map[string]string{"release cold": "Springback, glued cold", "release heat": "Springback, set with heat"}
	for _, l := range w.Figures.Catalogue.Liquids {
		data.names[l.Code] = l.Name
	}
	return p.render(c, status, "learned-materials", "Learned figures", "workshop", data)
}

// takeOverMaterial takes over one figure as it was shown.
func (p *Pages) takeOverMaterial(c *fiber.Ctx) error {
	t := &typing{v: values(c)}
	shown := t.number("figure")
	if !t.problems.Empty() {
		return t.problems.Err()
	}
	err := p.sales.TakeOverMaterial(c.UserContext(), t.v.Get("what"), shown, by(c))
	if err != nil && fault.KindOf(err) == fault.Conflict {
		return p.showMaterials(c, problem.Status(err), materialsPage{Message: problem.Sentence(err, "")})
	}
	if err != nil {
		return err
	}
	return c.Redirect("/learned/materials?done=1", fiber.StatusSeeOther)
}
