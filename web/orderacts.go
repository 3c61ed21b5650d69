package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// payOrder notes that the deposit came.
func (p *Pages) payOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "pay", func(t *typing, id string) error {
		day := t.must("day")
		if err := t.problems.Err(); err != nil {
			return err
		}
		_, err := p.sales.DepositCame(c.UserContext(), id, day, sales.ByTransfer, by(c))
		return err
	})
}

// startOrder moves the first day at the bench.
func (p *Pages) startOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "start", func(t *typing, id string) error {
		day := t.must("starts")
		if err := t.problems.Err(); err != nil {
			return err
		}
		_, err := p.sales.Start(c.UserContext(), id, day)
		return err
	})
}

// cancelOrder ends an order that is not made.
func (p *Pages) cancelOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "cancel", func(t *typing, id string) error {
		kept := t.maybe("kept")
		if err := t.problems.Err(); err != nil {
			return err
		}
		_, err := p.sales.Cancel(c.UserContext(), id, t.v.Get("reason"), kept, by(c))
		return err
	})
}

// finishOrder ends an order that was made, with what it really used.
func (p *Pages) finishOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "finish", func(t *typing, id string) error {
		order, err := p.sales.Order(c.UserContext(), id)
		if err != nil {
			return err
		}
		var used []stock.Used
		for _, k := range takes(order) {
			field := "used." + k.Item
			if strings.TrimSpace(t.v.Get(field)) == "" {
				continue
			}
			q := t.number(field)
			if q.IsNegative() || !q.Equal(q.Round(k.Unit.Places())) {
				t.problems.Add(field, t.v.Get(field), "Write what was used, 0 or more, "+places(k.Unit)+".")
			}
			used = append(used, stock.Used{Item: k.Item, Quantity: q})
		}
		if err := t.problems.Err(); err != nil {
			return err
		}
		_, err = p.sales.Finish(c.UserContext(), id, used, by(c))
		return err
	})
}

func places(u measure.Unit) string {
	if u.Places() == 0 {
		return "in whole pieces"
	}
	return "in " + string(u) + " with at most " + number(int(u.Places()), "place")
}

// orderAct runs a form of the order's page.
func (p *Pages) orderAct(c *fiber.Ctx, form string, do func(t *typing, id string) error) error {
	return p.actOnOrder(c, form, func(t *typing, id string) (string, error) { return "/orders/" + id, do(t, id) })
}

// actOnOrder is orderAct of a form that leads elsewhere.
func (p *Pages) actOnOrder(c *fiber.Ctx, form string, do func(t *typing, id string) (to string, err error)) error {
	return act(c, form, func(t *typing) (string, error) { return do(t, c.Params("id")) }, unlessChanged(func(status int, f forms) error {
		return p.showOrder(c, status, orderPage{forms: f})
	}))
}
