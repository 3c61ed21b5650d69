package sales

import "context"

// Invoices lists invoices and credit notes, the newest first.
func (s *Service) Invoices(ctx context.Context, f MoneyFound) ([]Invoice, error) {
	return read(ctx, s, func(tx Tx) ([]Invoice, error) { return tx.Invoices(ctx, f) })
}

// Payments lists payments, the newest first.
func (s *Service) Payments(ctx context.Context, f MoneyFound) ([]Payment, error) {
	return read(ctx, s, func(tx Tx) ([]Payment, error) { return tx.Payments(ctx, f) })
}
