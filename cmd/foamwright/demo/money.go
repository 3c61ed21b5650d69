package demo

import (
	"context"
	"time"

	"foamwright/pricing/sales"
)

// bill issues an invoice at a moment.
func (b Books) bill(ctx context.Context, at time.Time, order string, kind sales.BillKind) error {
	_, err := b.Sales(at).Bill(ctx, order, sales.Billing{Kind: kind, Token: string(kind) + " of " + order}, wren)
	return err
}

// settled is an order that was paid but for a few coins that a bank kept.
func (b Books) settled(ctx context.Context, at time.Time, order string) error {
	books := b.Sales(at)
	dues, err := books.Dues(ctx, order)
	if err != nil {
		return err
	}
	_, err = books.Receive(ctx, order, sales.Paying{Day: at, Amount: dues.Owed().Decimal().Sub(d("7.50")), Way: sales.ByTransfer, Note: "7.50 short: bank charges", Token: "balance of " + order}, wren)
	return err
}
