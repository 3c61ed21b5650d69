package web

import (
	"context"
	"fmt"
	"net/url"
	"slices"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"
	"github.com/shopspring/decimal"

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
	forms                                // a lot's goes by its ID
}

// hands tells whether whoever asks works at the shelf: the owner and the helper.
func hands(c *fiber.Ctx) bool { return owner(c) || !sees(c) }

func (p *Pages) stockCard(c *fiber.Ctx) error {
	return p.showCard(c, fiber.StatusOK, cardPage{})
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
	if d.Open("receive") && d.v.Get("id") != "" {
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

// cardAct runs a form of the card; what is said of it as a whole stands beside a field.
func (p *Pages) cardAct(c *fiber.Ctx, form, field string, do func(t *typing, code string) error) error {
	return act(c, form, func(t *typing) (string, error) {
		code := c.Params("code")
		return "/stock/" + url.PathEscape(code), about(field, do(t, code))
	}, unlessChanged(func(status int, f forms) error { return p.showCard(c, status, cardPage{forms: f}) }))
}
