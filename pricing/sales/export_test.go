package sales

import (
	"context"

	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/money"
)

// Fitting lets the tests hold the search for a budget against one by brute force, with prices of their own, and takes the
// time it takes.
func Fitting(ctx context.Context, base pricing.Estimate, form orderform.Form, options []Option, budget money.Amount, estimate func(context.Context, orderform.Form) (pricing.Estimate, error)) (Within, error) {
	return fitting(ctx, ctx, base, form, options, budget, estimate)
}

// Changed adds lines to an order and settles it in one act, as change notes and cancellations do.
func (s *Service) Changed(ctx context.Context, id, by string, lines func(Order) []OrderLine) error {
	return s.store.Act(ctx, func(tx Tx) error {
		o, err := tx.LockOrder(ctx, id)
		if err != nil {
			return err
		}
		if err := tx.AddLines(ctx, id, len(o.Lines), lines(o)); err != nil {
			return err
		}
		_, err = s.settle(ctx, tx, id, "It costs less now", by)
		return err
	})
}
