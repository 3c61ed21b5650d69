package web

import (
	"slices"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// receive puts a delivery on the shelf.
func (p *Pages) receive(c *fiber.Ctx) error {
	return p.cardAct(c, "receive", "quantity", func(t *typing, code string) error {
		d := stock.Delivery{
			ID: t.v.Get("id"), Item: code, Supplier: t.v.Get("supplier"), Label: t.v.Get("label"), Note: t.v.Get("note"),
			Quantity: t.number("quantity"), Cost: t.number("cost"), BestBefore: t.day("best_before"),
		}
		if err := t.problems.Err(); err != nil {
			return err
		}
		_, err := p.shelf.Receive(c.UserContext(), d, by(c))
		return err
	})
}

// waste takes what is spoiled off the shelf.
func (p *Pages) waste(c *fiber.Ctx) error {
	return p.cardAct(c, "waste", "quantity", func(t *typing, code string) error {
		quantity := t.number("quantity")
		if err := t.problems.Err(); err != nil {
			return err
		}
		return p.shelf.Waste(c.UserContext(), code, t.v.Get("lot"), quantity, t.v.Get("note"), by(c))
	})
}

// bringBack puts back what an order did not use.
func (p *Pages) bringBack(c *fiber.Ctx) error {
	return p.cardAct(c, "return", "quantity", func(t *typing, code string) error {
		quantity := t.number("quantity")
		if t.v.Get("order") == "" {
			t.problems.Add("order", "", "Choose the order it came back from.")
		}
		if err := t.problems.Err(); err != nil {
			return err
		}
		return p.shelf.Return(c.UserContext(), code, t.v.Get("order"), quantity, t.v.Get("note"), by(c))
	})
}

// markLot notes that a lot was opened today, or what is printed on it.
func (p *Pages) markLot(c *fiber.Ctx) error {
	return p.cardAct(c, "lot"+c.Params("lot"), "label", func(t *typing, code string) error {
		card, err := p.shelf.Card(c.UserContext(), code, 0, 0)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(card.Lots, func(l stock.Lot) bool { return l.ID == c.Params("lot") })
		if i < 0 {
			return fault.New(fault.NotFound, "There is no such lot on the shelf any more. It may have been used up.")
		}
		lot := card.Lots[i]
		if t.v.Get("do") == "opened" {
			lot.Opened = today()
		} else {
			lot.Label, lot.Opened, lot.BestBefore = t.v.Get("label"), t.day("opened"), t.day("best_before")
		}
		if err := t.problems.Err(); err != nil {
			return err
		}
		return p.shelf.MarkLot(c.UserContext(), lot)
	})
}
