package web

import (
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/orderform"
	"foamwright/materials/pattern"
	"foamwright/materials/shield"
)

// Templates is where the templates of what is kept are printed; empty while nothing is.
func (b board) Templates() string {
	kept, ok := strings.CutSuffix(b.Live, "/live")
	if !ok || kept == "/designs/new" {
		return ""
	}
	return kept + "/templates.pdf"
}

func (p *Pages) quoteTemplates(c *fiber.Ctx) error {
	q, err := p.sales.Quote(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return p.printTemplates(c, q.Form, q.Changed)
}

func (p *Pages) designTemplates(c *fiber.Ctx) error {
	d, err := p.sales.Design(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return p.printTemplates(c, d.Form, d.Changed)
}

// printTemplates answers with the templates of a kept spec on paper of the asked size, A4 when none was asked for;
// whole and rim, if set to anything, ask for whole templates and for the rim's own.
func (p *Pages) printTemplates(c *fiber.Ctx, f orderform.Form, changed time.Time) error {
	spec, err := f.Spec()
	if err != nil {
		return err
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	s, err := shield.Make(spec, w.Figures.Catalogue, w.Figures.Bench)
	if err != nil {
		return err
	}
	patterns, err := pattern.Of(s, pattern.Options{Whole: c.Query("whole") != "", Rim: c.Query("rim") != ""})
	if err != nil {
		return err
	}
	pages, err := pattern.Tile(patterns, pattern.Layout{Paper: c.Query("paper")})
	if err != nil {
		return err
	}
	doc, err := pattern.PDF(pattern.Head{Title: patterns[0].Set + ": templates", Author: w.Head.Name, Made: changed}, pages)
	if err != nil {
		return err
	}
	c.Set(fiber.HeaderCacheControl, "no-store")
	c.Set(fiber.HeaderContentType, "application/pdf")
	c.Set(fiber.HeaderContentDisposition, `inline; filename="templates.pdf"`)
	return c.Send(doc)
}
