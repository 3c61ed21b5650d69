package sales

import (
	"context"
	"time"

	"foamwright/pricing"
	"foamwright/pricing/workshop"
)

// OnOffer is what could be sold, read at one moment: the designs, the quotes that are written or stand, and the figures
// that their prices are made from today.
type OnOffer struct {
	Workshop workshop.Workshop
	Designs  []Design
	Quotes   []Quote           // newest first, without what was printed
	Asking   map[string]string // enquiries by the quote that answers them, both by id
	At       time.Time
	buyers   map[string]Customer
}

// Figures are what a customer's prices are made from; of nobody in particular for one who has no quote here.
func (o OnOffer) Figures(customer string) pricing.Snapshot {
	return priced(o.Workshop, o.buyers[customer], o.At)
}

// OnOffer reads what could be sold.
func (s *Service) OnOffer(ctx context.Context) (OnOffer, error) {
	return read(ctx, s, func(tx Tx) (o OnOffer, err error) {
		o.At = s.now()
		y, m, d := o.At.Date()
		if o.Workshop, err = tx.Workshop(ctx, o.At); err != nil {
			return o, err
		}
		if o.Designs, err = tx.Designs(ctx); err != nil {
			return o, err
		}
		if o.Quotes, err = tx.OpenQuotes(ctx, time.Date(y, m, d, 0, 0, 0, 0, o.At.Location())); err != nil {
			return o, err
		}
		quotes, customers := make([]string, len(o.Quotes)), make([]string, len(o.Quotes))
		for i, q := range o.Quotes {
			quotes[i], customers[i] = q.ID, q.CustomerID
		}
		if o.Asking, err = tx.Asking(ctx, quotes); err != nil {
			return o, err
		}
		buyers, err := tx.Buyers(ctx, customers)
		o.buyers = make(map[string]Customer, len(buyers))
		for _, c := range buyers {
			o.buyers[c.ID] = c
		}
		return o, err
	})
}
