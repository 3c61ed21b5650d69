package web

import (
	"slices"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

type ordersPage struct {
	Open, Ended []sales.Order
	Words       string
	Owner       bool
}

func (p *Pages) orders(c *fiber.Ctx) error {
	words := c.Query("words")
	list, err := p.sales.Orders(c.UserContext(), sales.Found{Words: words})
	if err != nil {
		return err
	}
	data := ordersPage{Words: words, Owner: owner(c)}
	for _, o := range list {
		if o.Open() {
			data.Open = append(data.Open, o)
		} else {
			data.Ended = append(data.Ended, o)
		}
	}
	slices.SortStableFunc(data.Open, func(a, b sales.Order) int { return a.Starts.Compare(b.Starts) })
	return p.render(c, fiber.StatusOK, "orders", "Orders", "orders", data)
}

// orderPage is an order: where it stands, what it takes, and what is missing.
type orderPage struct {
	forms
	sales.Taken
	Takes      []taking
	Short      []shortage
	Nobody     []stock.Want // short, and nobody sells it
	Cost       money.Amount // of the material taken so far
	Prices     bool
	Owner      bool
	Life       orderLife
	Cancelling *sales.Cancelling // what it would come to; nil where it cannot be cancelled
	Days       *orderDays        // nil once it is over
	Made       *orderMade
	Show       orderShow
	Money      *orderMoney // nil for who sees no prices
	Unsure     bool        // whether somebody who will handle it is allergic to latex was not known
	Mail       mailBox     // what was sent of it; empty for who sees no prices
}

// taking is one material of an order.
type taking struct {
	Item, Name               string
	Unit                     measure.Unit
	Reckoned, Set, Short, Up decimal.Decimal // by the quote; set aside; missing; taken off the shelf
	Left                     decimal.Decimal // that it is usually still to take
}

// shortage is what to buy of an item that the order is short of, for all who wait.
type shortage struct {
	stock.BuyLine
	Supplier stock.Supplier
}

func (p *Pages) order(c *fiber.Ctx) error {
	return p.showOrder(c, fiber.StatusOK, orderPage{})
}

func (p *Pages) showOrder(c *fiber.Ctx, status int, data orderPage) error {
	ctx := c.UserContext()
	// What is held past its time is given free first, so that the order shows what is really set aside for it.
	list, nobody, err := p.shelf.ToBuy(ctx)
	if err != nil {
		return err
	}
	if data.Taken, err = p.sales.Order(ctx, c.Params("id")); err != nil {
		return err
	}
	if data.Order.Open() {
		if data.Days, err = p.orderDays(ctx, data.Order.ID); err != nil {
			return err
		}
	}
	data.Prices, data.Owner = sees(c), owner(c)
	said, answered, err := p.sales.Answer(ctx, data.Order.QuoteID)
	if err != nil {
		return err
	}
	data.Unsure = answered && said.Latex == sales.LatexNotSure && data.Order.Open()
	if data.Owner && data.Order.Open() {
		c, err := p.sales.Cancelling(ctx, data.Order.ID)
		if err != nil {
			return err
		}
		data.Cancelling = &c
	}
	if data.Prices {
		m := orderMoney{Token: kept(data.v)}
		if m.Dues, err = p.sales.Dues(ctx, data.Order.ID); err != nil {
			return err
		}
		data.Money = &m
		if data.Mail, err = p.mailsOf(c, data.Order.ID); err != nil {
			return err
		}
	}
	if data.Life, err = p.orderLife(ctx, data.Order.ID); err != nil {
		return err
	}
	if data.Made, err = p.orderMade(ctx, data.Order.ID); err != nil {
		return err
	}
	if data.Show, err = p.orderShow(c, data.Taken); err != nil {
		return err
	}
	data.Takes, data.Cost = takes(data.Taken), data.Taken.Cost()
	data.short(list, nobody)
	return p.render(c, status, "order", "Order "+data.Order.Number.String(), "orders", data)
}

// short notes what of the list to buy the order is short of.
func (d *orderPage) short(list []stock.ToBuy, nobody []stock.Want) {
	short := func(code string) bool {
		return slices.ContainsFunc(d.Takes, func(t taking) bool { return t.Item == code && t.Short.IsPositive() })
	}
	for _, b := range list {
		for _, l := range b.Lines {
			if short(l.Want.Item.Code) {
				d.Short = append(d.Short, shortage{l, b.Supplier})
			}
		}
	}
	for _, w := range nobody {
		if short(w.Item.Code) {
			d.Nobody = append(d.Nobody, w)
		}
	}
}

// takes are an order's materials as its quote reckoned them, then what else it took.
func takes(t sales.Taken) []taking {
	var all []taking
	at := map[string]int{}
	row := func(code string) *taking {
		i, ok := at[code]
		if !ok {
			i = len(all)
			at[code] = i
			all = append(all, taking{Item: code, Name: code})
		}
		return &all[i]
	}
	for _, k := range t.Quote.Printed.Takes {
		if k.Quantity.IsPositive() {
			r := row(k.Item)
			r.Name, r.Unit, r.Reckoned = k.Name, k.Unit, k.Quantity
		}
	}
	for _, p := range t.Promises {
		r := row(p.Item)
		r.Set, r.Short = p.Reserved, p.Short()
	}
	for _, k := range t.Left() {
		if k.Quantity.IsPositive() {
			row(k.Item).Left = k.Quantity
		}
	}
	used := t.Used()
	for _, m := range t.Moves {
		row(m.Item).Up = used[m.Item]
	}
	return all
}
