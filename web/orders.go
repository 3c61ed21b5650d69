package web

import (
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

type ordersPage struct {
	Open, Ended []sales.Order
	Words       string
}

func (p *Pages) orders(c *fiber.Ctx) error {
	words := c.Query("words")
	list, err := p.sales.Orders(c.UserContext(), sales.Found{Words: words})
	if err != nil {
		return err
	}
	data := ordersPage{Words: words}
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
	sales.Taken
	Takes    []taking
	Short    []shortage
	Nobody   []stock.Want // short, and nobody sells it
	Cost     money.Amount // of the material taken so far
	Prices   bool
	Owner    bool
	Form     string // which form was refused
	v        url.Values
	problems map[string]string
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
	return p.showOrder(c, fiber.StatusOK, orderPage{v: url.Values{}})
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
	data.Prices, data.Owner = sees(c), owner(c)
	data.Takes, data.Cost = takes(data.Taken), data.Taken.Cost()
	short := func(code string) bool {
		return slices.ContainsFunc(data.Takes, func(t taking) bool { return t.Item == code && t.Short.IsPositive() })
	}
	for _, b := range list {
		for _, l := range b.Lines {
			if short(l.Want.Item.Code) {
				data.Short = append(data.Short, shortage{l, b.Supplier})
			}
		}
	}
	for _, w := range nobody {
		if short(w.Item.Code) {
			data.Nobody = append(data.Nobody, w)
		}
	}
	return p.render(c, status, "order", "Order "+data.Order.Number.String(), "orders", data)
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

// Steps are where an order can stand, in order, each with its day.
func (d orderPage) Steps() []orderStep {
	o := d.Order
	steps := []orderStep{
		{"Accepted", o.Accepted, true},
		{"Deposit due", o.DepositDue, false},
		{"Bench from", o.Starts, false},
		{"Made", o.Ended, o.State == sales.Done},
	}
	if !o.Paid.IsZero() {
		steps[1] = orderStep{"Deposit came", o.Paid, true}
	}
	if o.State == sales.Cancelled {
		return append(steps[:1], orderStep{"Cancelled", o.Ended, true})
	}
	return steps
}

type orderStep struct {
	Name string
	Day  time.Time
	Done bool
}

// Late tells that a deposit is past its day: what was held for the order is free again.
func (d orderPage) Late() bool {
	return d.Order.State == sales.Accepted && d.Order.DepositDue.Before(today())
}

// Missing tells that something is short.
func (d orderPage) Missing() bool {
	return slices.ContainsFunc(d.Takes, func(t taking) bool { return t.Short.IsPositive() })
}

// Text is an entry as it was typed; usual stands there until then. Each form's entries have ids of their own.
func (d orderPage) Text(form, name, label, usual string) entry {
	e := entry{Name: name, Label: label, Value: usual, ID: "f-" + form + "-" + strings.NewReplacer(".", "-", " ", "_").Replace(name)}
	if form == d.Form {
		e.Value, e.Problem = d.v.Get(name), d.problems[name]
	}
	return e
}

// Whole is what is wrong with a form as a whole.
func (d orderPage) Whole(form string) string {
	if form != d.Form {
		return ""
	}
	return d.problems[""]
}

// Today is the usual day.
func (d orderPage) Today() string { return iso(today()) }

// accept makes an order of an issued quote.
func (p *Pages) accept(c *fiber.Ctx) error {
	t, err := p.sales.Accept(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return c.Redirect("/orders/"+t.Order.ID, fiber.StatusSeeOther)
}

// payOrder notes that the deposit came.
func (p *Pages) payOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "pay", func(t *typing, id string) error {
		day := t.must("day")
		if !t.problems.Empty() {
			return nil
		}
		_, err := p.sales.Pay(c.UserContext(), id, day)
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
		_, err := p.sales.Cancel(c.UserContext(), id, t.v.Get("reason"))
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
	if fault.KindOf(err) == fault.NotFound {
		return err
	}
	return p.notYet(t, err, "", func(status int) error {
		return p.showOrder(c, status, orderPage{Form: form, v: t.v, problems: t.byField()})
	})
}
