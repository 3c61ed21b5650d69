package web

import (
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/drawing"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// CutPlan is where the cut plan of what is kept is printed; empty while nothing is.
func (b board) CutPlan() string {
	kept, ok := strings.CutSuffix(b.Live, "/live")
	if !ok || kept == "/designs/new" {
		return ""
	}
	return kept + "/cutplan.pdf"
}

// cuts are the foams of an estimate, to be drawn.
func cuts(e pricing.Estimate) (all []drawing.Cut) {
	for _, f := range e.Foam {
		all = append(all, drawing.Cut{Foam: f.Foam.Name, Job: f.Job, Plan: f.Plan})
	}
	return all
}

func (p *Pages) quoteCutPlan(c *fiber.Ctx) error {
	q, err := p.sales.Quote(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return p.printCutPlan(c, q.Form, q.Changed)
}

func (p *Pages) designCutPlan(c *fiber.Ctx) error {
	d, err := p.sales.Design(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return p.printCutPlan(c, d.Form, d.Changed)
}

// printCutPlan answers with the plan that the price of a kept spec rests on, a sheet a page on A4.
func (p *Pages) printCutPlan(c *fiber.Ctx, f orderform.Form, changed time.Time) error {
	e, err := p.sales.Estimate(c.UserContext(), "", f)
	if err != nil {
		return err
	}
	return p.printCuts(c, e.Shield.Spec.Name, changed, cuts(e))
}

// printCuts answers with plans as they are printed for the bench.
func (p *Pages) printCuts(c *fiber.Ctx, name string, made time.Time, cuts []drawing.Cut) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	doc, err := drawing.PDF(drawing.Print{Title: name + ": cut plan", Author: w.Head.Name, Made: made}, drawing.Pages(name, cuts...)...)
	if err != nil {
		return err
	}
	c.Set(fiber.HeaderCacheControl, "no-store")
	c.Set(fiber.HeaderContentType, "application/pdf")
	c.Set(fiber.HeaderContentDisposition, `inline; filename="cutplan.pdf"`)
	return c.Send(doc)
}
