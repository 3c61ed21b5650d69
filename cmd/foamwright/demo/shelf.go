package demo

import (
	"context"
	"time"

	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// wren is the owner, by whom everything was done.
const wren = "Wren Calloway"

// past is how the shelf came to be: a buckler that was bought for, cut and made more than a year ago, so that its
// offcuts are due for the bin and its tins have gone.
func (b Books) past(ctx context.Context, customer sales.Customer, form orderform.Form) error {
	order, err := b.accepted(ctx, b.ago(400), customer, "Ferry buckler", form)
	if err != nil {
		return err
	}
	if err := b.buy(ctx, b.ago(400), b.ago(391)); err != nil {
		return err
	}
	if err := b.bill(ctx, b.ago(399), order, sales.DepositBill); err != nil {
		return err
	}
	if _, err := b.Sales(b.ago(390)).DepositCame(ctx, order, b.ago(390), sales.ByTransfer, wren); err != nil {
		return err
	}
	if err := b.make(ctx, order, b.ago(380), b.ago(360)); err != nil {
		return err
	}
	if err := b.bill(ctx, b.ago(359), order, sales.BalanceBill); err != nil {
		return err
	}
	return b.settled(ctx, b.ago(350), order)
}

// lately is what was fetched and thrown away since, and a purchase that should be here.
func (b Books) lately() []happening {
	return []happening{
		{140, func(ctx context.Context) error {
			return b.fetch(ctx, 140, stock.Delivery{Item: "contact", Supplier: id(chandlery), Label: "Red tin", Quantity: d("0.75"), Cost: d("13.20")}, true)
		}},
		{30, func(ctx context.Context) error {
			if err := b.throwOut(ctx, "latex", "Skinned over: the lid was not tight"); err != nil {
				return err
			}
			return b.throwOut(ctx, "contact", "Gone to jelly")
		}},
		{28, func(ctx context.Context) error {
			latex := stock.Delivery{Item: "latex", Supplier: id(colours), Label: "Batch 0417", Quantity: d("2"), Cost: d("29.80"), BestBefore: stock.Day(b.Now.AddDate(0, 0, 9))}
			if err := b.fetch(ctx, 28, latex, false); err != nil {
				return err
			}
			return b.fetch(ctx, 28, stock.Delivery{Item: "mat-10", Supplier: id(foams), Label: "Ten of the grey", Quantity: d("10"), Cost: d("33.50")}, false)
		}},
		{7, func(ctx context.Context) error {
			_, err := b.Shelf(b.ago(7)).Order(ctx, id(chandlery), []stock.Asked{
				{Offer: id("webbing-40", chandlery, "50"), Packs: 1}, {Offer: id("gloves", chandlery, "50"), Packs: 1},
			}, "Closed on Monday: asked for Tuesday", wren)
			return err
		}},
	}
}

// present is what is going on: one order that is booked and has its material, one that waits for it.
func (b Books) present(ctx context.Context, jonas sales.Customer, heater orderform.Form, mara sales.Customer, oval orderform.Form) error {
	booked, err := b.accepted(ctx, b.Now, jonas, "Tidewall heater", heater)
	if err != nil {
		return err
	}
	if err := b.buy(ctx, b.Now, b.Now); err != nil {
		return err
	}
	if err := b.bill(ctx, b.Now, booked, sales.DepositBill); err != nil {
		return err
	}
	if _, err := b.Sales(b.Now).DepositCame(ctx, booked, b.Now, sales.ByTransfer, wren); err != nil {
		return err
	}
	waits, err := b.accepted(ctx, b.Now, mara, "Reed oval", oval)
	if err != nil {
		return err
	}
	return b.bill(ctx, b.Now, waits, sales.DepositBill)
}

// accepted is an order of a quote that was issued at a moment.
func (b Books) accepted(ctx context.Context, at time.Time, customer sales.Customer, title string, form orderform.Form) (string, error) {
	q, err := issue(ctx, b.Sales(at), customer, title, form)
	if err != nil {
		return "", err
	}
	t, err := b.Sales(at).Accept(ctx, q.ID, sales.Choice{Name: customer.Name}, wren)
	return t.Order.ID, err
}

// buy orders what is to be bought, and puts it on the shelf when it comes; the foam came dearer than it was ordered.
func (b Books) buy(ctx context.Context, ordered, came time.Time) error {
	list, _, err := b.Shelf(ordered).ToBuy(ctx)
	if err != nil {
		return err
	}
	for _, s := range list {
		var asked []stock.Asked
		for _, l := range s.Lines {
			for _, p := range l.Packs {
				asked = append(asked, stock.Asked{Offer: p.Offer.ID, Packs: p.Packs})
			}
		}
		p, err := b.Shelf(ordered).Order(ctx, s.Supplier.ID, asked, "", wren)
		if err != nil {
			return err
		}
		arrived := make([]stock.Arrived, len(p.Lines))
		for i, l := range p.Lines {
			arrived[i] = stock.Arrived{Offer: l.Offer, Packs: l.Packs, Price: l.Price}
			if s.Supplier.Name == foams && came.After(ordered) {
				arrived[i].Price = l.Price.Mul(d("1.02")).Round(2)
			}
		}
		if _, err := b.Shelf(came).Arrive(ctx, p.ID, arrived, true, wren); err != nil {
			return err
		}
	}
	return nil
}

// cut cuts the foams of an order.
func (b Books) cut(ctx context.Context, order string, at time.Time) error {
	plans, err := b.Sales(at).Layout(ctx, order)
	if err != nil {
		return err
	}
	for _, l := range plans.Foams {
		if _, err := b.Sales(at).Cut(ctx, order, l.Foam.Code, l.Digest, wren); err != nil {
			return err
		}
	}
	return nil
}

// make cuts and finishes an order with what its quote reckoned.
func (b Books) make(ctx context.Context, order string, cut, done time.Time) error {
	if err := b.cut(ctx, order, cut); err != nil {
		return err
	}
	if err := b.worked(ctx, order, done); err != nil {
		return err
	}
	t, err := b.Sales(done).Order(ctx, order)
	if err != nil {
		return err
	}
	var used []stock.Used
	for _, k := range t.Left() {
		used = append(used, stock.Used{Item: k.Item, Quantity: k.Quantity})
	}
	_, err = b.Sales(done).Finish(ctx, order, used, wren)
	return err
}

// fetch puts a delivery on the shelf so many days ago, and opens it where that was done at once.
func (b Books) fetch(ctx context.Context, days int, one stock.Delivery, opened bool) error {
	lot, err := b.Shelf(b.ago(days)).Receive(ctx, one, wren)
	if err != nil || !opened {
		return err
	}
	lot.Opened = stock.Day(b.ago(days))
	return b.Shelf(b.ago(days)).MarkLot(ctx, lot)
}

// throwOut takes the oldest lot of an item off the shelf.
func (b Books) throwOut(ctx context.Context, item, why string) error {
	shelf := b.Shelf(b.ago(30))
	card, err := shelf.Card(ctx, item, 0, 1)
	if err != nil || len(card.Lots) == 0 {
		return err
	}
	return shelf.Waste(ctx, item, card.Lots[0].ID, card.Lots[0].Left, why, wren)
}

// id2 is a supplier's key.
