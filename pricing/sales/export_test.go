package sales

import "context"

// Fitting lets the tests hold the search for a budget against one by brute force, with prices of their own.
var Fitting = fitting

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
