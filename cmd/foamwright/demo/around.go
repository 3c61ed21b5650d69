package demo

import (
	"context"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/sales"
)

// around is what goes on beside quotes and orders: an event that pieces are made for, the price list, and what lies finished for a stall.
func (b Books) around(ctx context.Context) error {
	books := b.Sales(b.Now)
	first := time.Date(b.Now.Year(), b.Now.Month(), b.Now.Day(), 0, 0, 0, 0, time.UTC).AddDate(0, 0, 70)
	moot, err := books.KeepEvent(ctx, sales.Event{
		Name: "Lantern Moot", Place: "Saltstair Meadow", First: first, Last: first.AddDate(0, 0, 2), Rule: "marsh-medium", Note: "Checks shields at the gate. A stall is booked.",
	})
	if err != nil {
		return err
	}
	orders, err := books.Orders(ctx, sales.Found{})
	if err != nil {
		return err
	}
	for _, o := range orders { // both that are on the bench are worn there
		if o.State == sales.Booked {
			if err := books.MoveOrder(ctx, o.ID, moot.ID); err != nil {
				return err
			}
		}
	}
	all, err := books.Designs(ctx)
	if err != nil {
		return err
	}
	listed := map[string]int64{"Ferry buckler": 395, "Tidewall heater": 640, "Reed oval": 445} // a little below one made to order
	for _, d := range all {
		price, found := listed[d.Name]
		if !found {
			continue
		}
		if err := b.Sales(b.ago(30)).SetStandard(ctx, d.ID, b.ago(30), decimal.NewFromInt(price), wren); err != nil {
			return err
		}
		if d.Name != "Ferry buckler" {
			continue
		}
		if err := books.AddReady(ctx, sales.Ready{DesignID: d.ID, Place: "Stall chest", Note: "Moss green"}, 2, nil, wren); err != nil {
			return err
		}
	}
	return nil
}
