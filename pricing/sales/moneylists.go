package sales

import (
	"context"

	"foamwright/materials/fault"
)

// Invoices lists invoices and credit notes, the newest first.
func (s *Service) Invoices(ctx context.Context, f MoneyFound) ([]Invoice, error) {
	return read(ctx, s, func(tx Tx) ([]Invoice, error) { return tx.Invoices(ctx, f) })
}

// Payments lists payments, the newest first.
func (s *Service) Payments(ctx context.Context, f MoneyFound) ([]Payment, error) {
	return read(ctx, s, func(tx Tx) ([]Payment, error) { return tx.Payments(ctx, f) })
}

// Invoice is one invoice or credit note, with how the money of its order stands.
func (s *Service) Invoice(ctx context.Context, id string) (i Invoice, d Dues, err error) {
	err = s.store.Act(ctx, func(tx Tx) (err error) {
		if i, err = tx.Invoice(ctx, id); err != nil {
			return err
		}
		o, err := tx.Order(ctx, i.OrderID)
		if err == nil {
			d, err = dues(ctx, tx, o)
		}
		return err
	})
	return i, d, err
}

// InvoiceDocument is an invoice as it was issued, byte for byte: the PDF, or its XML.
func (s *Service) InvoiceDocument(ctx context.Context, id string, xml bool) (Document, error) {
	return read(ctx, s, func(tx Tx) (Document, error) {
		i, err := tx.Invoice(ctx, id)
		if err != nil {
			return Document{}, err
		}
		if !xml {
			return tx.Document(ctx, i.Document)
		}
		if i.XML == "" {
			return Document{}, fault.New(fault.State, "There is no XML of this document. %s", i.NoXML)
		}
		return tx.Document(ctx, i.XML)
	})
}
