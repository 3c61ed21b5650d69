package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// payOrder notes that the deposit came.
func (p *Pages) payOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "pay", func(t *typing, id string) error {
		day := t.must("day")
		if !t.problems.Empty() {
			return nil
		}
		_, err := p.sales.DepositCame(c.UserContext(), id, day, sales.ByTransfer, by(c))
		return err
	})
}

// startOrder moves the first day at the bench.
func (p *Pages) startOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "start", func(t *typing, id string) error {
		day := t.must("starts")
		if !t.problems.Empty() {
			return nil
		}
		_, err := p.sales.Start(c.UserContext(), id, day)
		return err
	})
}

// cancelOrder ends an order that is not made.
func (p *Pages) cancelOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "cancel", func(t *typing, id string) error {
		var kept *decimal.Decimal
		if strings.TrimSpace(t.v.Get("kept")) != "" {
			k := t.number("kept")
			kept = &k
		}
		if !t.problems.Empty() {
			return nil
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
		if !t.problems.Empty() {
			return nil
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

// orderAct runs a form of the order's page: to the page again, or with what was typed and what is wrong with it.
func (p *Pages) orderAct(c *fiber.Ctx, form string, act func(t *typing, id string) error) error {
	t := &typing{v: values(c)}
	err := act(t, c.Params("id"))
	if err == nil && t.problems.Empty() {
		return c.Redirect("/orders/"+c.Params("id"), fiber.StatusSeeOther)
	}
	return p.orderNotYet(c, form, t, err)
}

// orderNotYet is the order's page with what was typed into one of its forms and what is wrong with it.
func (p *Pages) orderNotYet(c *fiber.Ctx, form string, t *typing, err error) error {
	if fault.KindOf(err) == fault.NotFound {
		return err
	}
	return p.notYet(t, err, "", func(status int) error {
		return p.showOrder(c, status, orderPage{Form: form, v: t.v, problems: t.byField()})
	})
}
