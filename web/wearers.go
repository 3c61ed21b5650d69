package web

import (
	"fmt"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
)

// wearersPage is who wears the pieces of a quote, or of the order made of it.
type wearersPage struct {
	forms
	Quote  sales.Quote
	Order  *sales.Order
	Pieces int
	Group  sales.Group
	Rows   int
	Back   string
}

// At is the name of a row's entries.
func (d wearersPage) At(i int) string { return fmt.Sprintf("wearers.%d.", i) }

// Wearer is who stands in a row; nobody where it is free.
func (d wearersPage) Wearer(i int) sales.Wearer {
	if i < len(d.Group.Wearers) {
		return d.Group.Wearers[i]
	}
	return sales.Wearer{}
}

// Indexes are the rows.
func (d wearersPage) Indexes() []int {
	all := make([]int, d.Rows)
	for i := range all {
		all[i] = i
	}
	return all
}

// Hands are what a grip can be for.
func (d wearersPage) Hands() []option {
	return []option{{"", "not told"}, {"right", "right"}, {"left", "left"}, {"either", "either"}}
}

// freeRows are those to write in beside the wearers there are.
const freeRows = 3

func (p *Pages) wearers(c *fiber.Ctx) error {
	return p.showWearers(c, fiber.StatusOK, wearersPage{})
}

func (p *Pages) showWearers(c *fiber.Ctx, status int, d wearersPage) error {
	ctx := c.UserContext()
	var err error
	if d.Quote, err = p.sales.Quote(ctx, c.Params("id")); err != nil {
		return err
	}
	if d.Group, err = p.sales.Group(ctx, d.Quote.ID); err != nil {
		return err
	}
	d.Back = "/quotes/" + d.Quote.ID
	d.Pieces = d.Quote.Pieces()
	order, found, err := p.sales.Accepted(ctx, d.Quote)
	if err != nil {
		return err
	}
	if found && order.QuoteID == d.Quote.ID {
		d.Order, d.Back, d.Pieces = &order, "/orders/"+order.ID, order.Pieces(d.Quote)
	}
	d.Rows = max(min(d.Pieces, 60), len(d.Group.Wearers)+freeRows)
	for name := range d.v {
		var i int
		if _, err := fmt.Sscanf(name, "wearers.%d.", &i); err == nil {
			d.Rows = max(d.Rows, min(i+1, 600))
		}
	}
	return p.render(c, status, "wearers", "Wearers", "quotes", d)
}

// keepWearers writes the list down.
func (p *Pages) keepWearers(c *fiber.Ctx) error {
	return act(c, "wearers", func(t *typing) (string, error) {
		g := sales.Group{Pays: t.v.Get("pays")}
		for i := 0; t.v.Has(fmt.Sprintf("wearers.%d.name", i)) && i < 600; i++ {
			at := fmt.Sprintf("wearers.%d.", i)
			g.Wearers = append(g.Wearers, sales.Wearer{No: t.count(at + "no"), Name: t.v.Get(at + "name"), Hand: t.v.Get(at + "hand"), Colour: t.v.Get(at + "colour"), Size: t.v.Get(at + "size")})
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		to := "/quotes/" + c.Params("id")
		if back := t.v.Get("back"); t.v.Get("do") == "more" {
			to += "/wearers"
		} else if strings.HasPrefix(back, "/orders/") {
			to = back
		}
		_, err := p.sales.SetGroup(c.UserContext(), c.Params("id"), g)
		return to, err
	}, func(status int, f forms) error { return p.showWearers(c, status, wearersPage{forms: f}) })
}
