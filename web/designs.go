package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/pricing/sales"
)

// designPage is a design while it is edited.
type designPage struct {
	board
	Design   sales.Design
	Message  string            // why the last act was not done
	Problems map[string]string // of the entries beside the spec
}

func (p *Pages) designs(c *fiber.Ctx) error {
	list, err := p.sales.Designs(c.UserContext())
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "designs", "Designs", "designs", list)
}

// newDesign is a design that is not kept yet.
func (p *Pages) newDesign(c *fiber.Ctx) error {
	d := sales.Design{ID: "new", Form: usualShield()}
	b, err := p.board(c.UserContext(), "", d.Form, "/designs/new/live")
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "design", "New design", "designs", designPage{board: b, Design: d})
}

func (p *Pages) design(c *fiber.Ctx) error {
	d, err := p.sales.Design(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	b, err := p.board(c.UserContext(), "", d.Form, "/designs/"+d.ID+"/live")
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "design", d.Name, "designs", designPage{board: b, Design: d})
}

// editDesign recomputes or keeps a design; "new" makes one.
func (p *Pages) editDesign(c *fiber.Ctx) error {
	ctx, v := c.UserContext(), values(c)
	d := sales.Design{Name: v.Get("title"), Note: v.Get("note")}
	if c.Params("id") != "new" {
		kept, err := p.sales.Design(ctx, c.Params("id"))
		if err != nil {
			return err
		}
		d.ID = kept.ID
	}
	f, b, err := p.posted(ctx, v, "/designs/"+c.Params("id")+"/live")
	if err != nil {
		return err
	}
	d.Form = f
	again := designPage{board: b, Design: d}
	if d.ID == "" {
		again.Design.ID = "new"
	}
	if strings.HasPrefix(v.Get("do"), recompute) || b.Garbled {
		return p.render(c, status(b), "design", "Design", "designs", again)
	}
	kept, err := p.sales.KeepDesign(ctx, d)
	if err == nil {
		return c.Redirect("/designs/"+kept.ID, fiber.StatusSeeOther)
	}
	answer := problem.Status(err)
	problems, err := problemsOf(err)
	if err != nil {
		return err
	}
	again.Problems, again.Message = problems, message(problems)
	return p.render(c, answer, "design", "Design", "designs", again)
}
