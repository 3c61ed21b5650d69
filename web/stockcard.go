package web

import (
	"context"
	"fmt"
	"net/url"
	"slices"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// mostMoves is how many movements a card shows at a time.
const mostMoves = 25

// cardPage is one item: its lots, who it is promised to, what came and went, and the forms that move it.
type cardPage struct {
	stock.Card
	Prices, Owner, Hands bool // hands count, open and throw away
	Suppliers            []stock.Supplier
	Enough               decimal.Decimal // to buy at a time, by the square-root formula; zero for no hint
	Older                int64           // the number that older movements come before; 0 when these are all
	Later                bool            // these are not the newest
	Form                 string          // which form was refused
	Lot                  string          // whose form that was, of a lot's
	v                    url.Values
	problems             map[string]string
}

// hands tells whether whoever asks works at the shelf: the owner and the helper.
func hands(c *fiber.Ctx) bool { return owner(c) || !sees(c) }

func (p *Pages) stockCard(c *fiber.Ctx) error {
	return p.showCard(c, fiber.StatusOK, cardPage{v: url.Values{}})
}

func (p *Pages) showCard(c *fiber.Ctx, status int, data cardPage) (err error) {
	ctx := c.UserContext()
	before := int64(max(0, c.QueryInt("before")))
	if data.Card, err = p.shelf.Card(ctx, c.Params("code"), before, mostMoves+1); err != nil {
		return err
	}
	data.Later = before > 0
	if len(data.Moves) > mostMoves {
		data.Moves = data.Moves[:mostMoves]
		data.Older = data.Moves[mostMoves-1].ID
	}
	data.Prices, data.Owner, data.Hands = sees(c), owner(c), hands(c)
	if data.Suppliers, err = p.list.Suppliers(ctx); err != nil {
		return err
	}
	if data.Enough, err = p.enough(ctx, data.Card); err != nil {
		return err
	}
	return p.render(c, status, "stock-card", data.Item.Name, "stock", data)
}

// enough is how much of an item to buy at a time, where a year's use and a price are known.
func (p *Pages) enough(ctx context.Context, card stock.Card) (decimal.Decimal, error) {
	offer, price, sold := stock.Charged(card.Offers, today())
	if !sold {
		return decimal.Zero, nil
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return decimal.Zero, err
	}
	holding := price.Amount.Mul(w.HoldingShare).DivRound(offer.Pack, 8)
	enough, err := stock.EconomicQuantity(card.Used, w.OrderCost, holding)
	return enough.RoundUp(min(card.Item.Unit.Places(), 1)), err
}

// Text is an entry of the card's forms as it was typed; usual stands there until then. Each form's entries have ids
// of their own.
func (d cardPage) Text(form, name, label, usual string) entry {
	e := entry{Name: name, Label: label, Value: usual, ID: id(form + "." + name)}
	if d.refused(form) {
		e.Value, e.Problem = d.v.Get(name), d.problems[name]
	}
	return e
}

// refused tells whether a form came back; a lot's form is "lot" and the lot's ID.
func (d cardPage) refused(form string) bool {
	return form == d.Form || d.Form == "lot" && form == "lot"+d.Lot
}

// Open tells whether a form is to be shown open.
func (d cardPage) Open(form string) bool { return d.refused(form) }

// Whole is what is wrong with a form as a whole.
func (d cardPage) Whole(form string) string {
	if !d.refused(form) {
		return ""
	}
	return d.problems[""]
}

// Which chooses a lot to throw away from.
func (d cardPage) Which() entry {
	e := d.Text("waste", "lot", "From", "")
	e.Options = []option{{"", "the oldest first"}}
	for _, l := range d.Lots {
		if l.Shape == nil {
			e.Options = append(e.Options, option{l.ID, fmt.Sprintf("%s, %s left", lotName(l), quantity(l.Left, d.Item.Unit))})
		}
	}
	return e.keep()
}

// lotName is what a lot goes by: what is written on it, or the day it came.
func lotName(l stock.Lot) string {
	if l.Label != "" {
		return l.Label
	}
	return "delivery of " + l.Received.Format("2 January 2006")
}

// Fresh is the ID of the lot that a delivery becomes: of one form only one comes on the shelf, however often it is sent.
func (d cardPage) Fresh() string {
	if d.refused("receive") && d.v.Get("id") != "" {
		return d.v.Get("id")
	}
	return uuid.Must(uuid.NewV7()).String()
}

// Supplier chooses who a delivery is from.
func (d cardPage) Supplier() entry {
	e := d.Text("receive", "supplier", "From", "")
	e.Options = []option{{"", "nobody of the list"}}
	for _, s := range d.Suppliers {
		e.Options = append(e.Options, option{s.ID, s.Name})
	}
	return e.keep()
}

// Took are the orders on this page of movements that took something of the item.
func (d cardPage) Took() entry {
	e := d.Text("return", "order", "Order", "")
	for _, m := range d.Moves {
		if m.Order != "" && !slices.ContainsFunc(e.Options, func(o option) bool { return o.Value == m.Order }) {
			e.Options = append(e.Options, option{m.Order, m.Label})
		}
	}
	return e.keep()
}

// Whole stock in lots, and the offcuts beside them.
func (d cardPage) Tins() []stock.Lot {
	return slices.DeleteFunc(slices.Clone(d.Lots), func(l stock.Lot) bool { return l.Shape != nil })
}

// Ends is the last day a lot is good for.
func (d cardPage) Ends(l stock.Lot) string {
	until := l.Until(d.Item)
	switch {
	case until.IsZero():
		return ""
	case until.Before(today()):
		return "was good until " + until.Format("2 January 2006")
	}
	return "good until " + until.Format("2 January 2006")
}

// Old tells that a lot's day is over.
func (d cardPage) Old(l stock.Lot) bool {
	until := l.Until(d.Item)
	return !until.IsZero() && until.Before(today())
}

// Named is what a lot goes by.
func (d cardPage) Named(l stock.Lot) string {
	if l.Label == "" {
		return "D" + lotName(l)[1:]
	}
	return l.Label
}

// Said is a kind of movement as one says it.
func (d cardPage) Said(k stock.Kind) string { return moved(k) }

func moved(k stock.Kind) string {
	return map[stock.Kind]string{
		stock.Receipt: "came in", stock.Issue: "used", stock.Return: "came back", stock.Waste: "thrown away", stock.Counted: "counted",
		stock.Kept: "offcut kept", stock.Revalued: "valued anew",
	}[k]
}

// back ends a form of the card: to the card again, or with what was typed and what is wrong with it.
func (p *Pages) back(c *fiber.Ctx, err error, t *typing, data cardPage, field string) error {
	if err == nil && t.problems.Empty() {
		return c.Redirect("/stock/"+url.PathEscape(c.Params("code")), fiber.StatusSeeOther)
	}
	status := problem.Status(err)
	if err := t.under(field, err); err != nil {
		return err
	}
	if fault.KindOf(err) == fault.Internal {
		status = fiber.StatusUnprocessableEntity
	}
	data.v, data.problems = t.v, t.byField()
	return p.showCard(c, status, data)
}
