package web

import (
	"html/template"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials/drawing"
	"foamwright/materials/fault"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// registerCutting mounts the offcuts and what is cut for orders: for whoever works at the bench. It comes before the
// pages of the shelf, where an item's code may stand in place of "offcuts".
func (p *Pages) registerCutting(r fiber.Router) {
	hands := p.guard.Require(people.Helper)
	r.Get("/stock/offcuts", p.offcuts)
	r.Post("/stock/offcuts", hands, p.wasteOffcut)
	r.Get("/orders/:id/cutting", hands, p.cutting)
	r.Post("/orders/:id/cutting", hands, p.cut)
	r.Get("/orders/:id/cutting.pdf", hands, p.cuttingPDF)
}

// cuttingPage is what an order is cut from, foam by foam.
type cuttingPage struct {
	Order   sales.Order
	Foams   []cutFoam
	Message string // why the last cut was not done
}

// cutFoam is how one foam was cut, or would be cut now.
type cutFoam struct {
	sales.Layout
	Plan   template.HTML // made by package drawing, which escapes every text
	Sheets []cutSheet
	Keep   []string // what is written on the offcuts that are kept
	Wrong  string   // why it cannot be cut now
}

// cutSheet is the sheets that are laid out in one way.
type cutSheet struct {
	Name, From string
	Map        template.HTML
}

func (p *Pages) cutting(c *fiber.Ctx) error { return p.showCutting(c, fiber.StatusOK, "") }

func (p *Pages) showCutting(c *fiber.Ctx, status int, message string) error {
	l, err := p.sales.Layout(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	data := cuttingPage{Order: l.Order, Message: message}
	for _, f := range l.Foams {
		one, err := cutFoamOf(f, l.Order)
		if err != nil {
			return err
		}
		data.Foams = append(data.Foams, one)
	}
	return p.render(c, status, "cutting", "Cutting of order "+l.Order.Number.String(), "orders", data)
}

func cutFoamOf(l sales.Layout, o sales.Order) (cutFoam, error) {
	f := cutFoam{Layout: l}
	if l.Short != nil {
		f.Wrong = l.Short.Error()
		return f, nil
	}
	draw := func(d drawing.Drawing) template.HTML { return template.HTML(drawing.SVG(d)) }
	cut := cutOf(l)
	f.Plan = draw(drawing.Overview(o.Title, cut))
	for _, alike := range cut.Alike() {
		d, err := cut.Sheet(alike[0])
		if err != nil {
			return f, err
		}
		from := ""
		if kind := l.Cutting.Plan.Sheets[alike[0]].Sheet; l.Cutting.Lots[kind] != "" {
			from = l.Cutting.Job.Sheets[kind].Label
		}
		f.Sheets = append(f.Sheets, cutSheet{cut.SheetTitle(alike[0]), from, draw(d)})
	}
	written := l.Cutting
	if !l.Done() {
		written.At = time.Now()
	}
	for _, kept := range written.Plan.Offcuts {
		f.Keep = append(f.Keep, written.Label(kept, l.Foam.Name, o.Number.String()))
	}
	return f, nil
}

func cutOf(l sales.Layout) drawing.Cut {
	return drawing.Cut{Foam: l.Foam.Name, Job: l.Cutting.Job, Plan: l.Cutting.Plan}
}

// Opened is how many whole sheets come off the shelf, in words; empty for none.
func (f cutFoam) Opened() string {
	_, n := f.Cutting.Used()
	if n == 0 {
		return ""
	}
	return number(n, "whole "+string(f.Foam.Form))
}

// cut takes a foam off the shelf as the plan on the page says.
func (p *Pages) cut(c *fiber.Ctx) error {
	v := values(c)
	_, err := p.sales.Cut(c.UserContext(), c.Params("id"), v.Get("foam"), v.Get("digest"), by(c))
	switch fault.KindOf(err) {
	case fault.Conflict, fault.State, fault.Shortage:
		return p.showCutting(c, problem.Status(err), fault.ProblemsOf(err)[0].Remedy)
	}
	if err != nil {
		return err
	}
	return c.Redirect("/orders/"+c.Params("id")+"/cutting", fiber.StatusSeeOther)
}

// cuttingPDF answers with the plans of all foams, a sheet a page on A4.
func (p *Pages) cuttingPDF(c *fiber.Ctx) error {
	l, err := p.sales.Layout(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	var cuts []drawing.Cut
	made := time.Now()
	for _, f := range l.Foams {
		if f.Short == nil {
			cuts = append(cuts, cutOf(f))
		}
		if f.Done() {
			made = f.Cutting.At
		}
	}
	if len(cuts) == 0 {
		return fault.New(fault.State, "Nothing of order %s can be cut now, so there is no plan to print.", l.Order.Number)
	}
	return p.printCuts(c, l.Order.Title, made, cuts)
}
