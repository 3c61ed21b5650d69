package sales

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
)

// Quotes lists quotes, newest first.
func (s *Service) Quotes(ctx context.Context, f Found) ([]Quote, error) {
	f, err := f.at(s.now())
	if err != nil {
		return nil, err
	}
	return read(ctx, s, func(tx Tx) ([]Quote, error) { return tx.Quotes(ctx, f) })
}

// Quote is one version of a quote.
func (s *Service) Quote(ctx context.Context, id string) (Quote, error) {
	return read(ctx, s, func(tx Tx) (Quote, error) { return tx.Quote(ctx, id) })
}

// Versions are all versions of one number, oldest first; a draft that was never issued stands alone.
func (s *Service) Versions(ctx context.Context, q Quote) ([]Quote, error) {
	if q.Number.No == 0 {
		return []Quote{q}, nil
	}
	return read(ctx, s, func(tx Tx) ([]Quote, error) { return tx.Versions(ctx, q.Number) })
}

// NewQuote starts a draft for a customer, from any written spec.
func (s *Service) NewQuote(ctx context.Context, customerID, title string, form orderform.Form) (Quote, error) {
	return s.newQuote(ctx, customerID, title, Design{Form: form})
}

// NewQuoteOf starts a draft for a customer from a design, which is remembered: figures go by it.
func (s *Service) NewQuoteOf(ctx context.Context, customerID, title string, d Design) (Quote, error) {
	return s.newQuote(ctx, customerID, title, d)
}

func (s *Service) newQuote(ctx context.Context, customerID, title string, d Design) (Quote, error) {
	now := s.now()
	q := Quote{ID: newID(), Version: 1, State: Draft, CustomerID: customerID, Design: MadeFrom{d.ID, d.Version}, Title: title, Form: d.Form, Created: now, Changed: now}
	if err := q.check(); err != nil {
		return q, err
	}
	return read(ctx, s, func(tx Tx) (Quote, error) {
		if _, err := tx.Customer(ctx, customerID); err != nil {
			return q, noCustomer(customerID, err)
		}
		if err := tx.AddQuote(ctx, q); err != nil {
			return q, err
		}
		return tx.Quote(ctx, q.ID)
	})
}

// SaveDraft keeps a draft as it was typed, whether it can be made or not. edit is the count the editor saw; when
// somebody else saved meanwhile, it is a Conflict.
func (s *Service) SaveDraft(ctx context.Context, id string, edit int, customerID, title string, form orderform.Form) (Quote, error) {
	return s.saveDraft(ctx, id, edit, func(q *Quote) error {
		q.CustomerID, q.Title, q.Form = customerID, title, form
		return nil
	})
}

func (s *Service) saveDraft(ctx context.Context, id string, edit int, change func(q *Quote) error) (Quote, error) {
	return read(ctx, s, func(tx Tx) (Quote, error) {
		q, err := tx.LockQuote(ctx, id)
		if err != nil {
			return q, err
		}
		if q.State != Draft {
			return q, frozen(q)
		}
		if q.Edit != edit {
			return q, fault.New(fault.Conflict, "Somebody else changed this quote at %s. Open it again to see their version; what you typed is still in the form.", q.Changed.Format("15:04"))
		}
		if err := change(&q); err != nil {
			return q, err
		}
		q.Edit, q.Changed = q.Edit+1, s.now()
		if err := q.check(); err != nil {
			return q, err
		}
		if _, err := tx.Customer(ctx, q.CustomerID); err != nil {
			return q, noCustomer(q.CustomerID, err)
		}
		if err := tx.SaveQuote(ctx, q); err != nil {
			return q, err
		}
		return tx.Quote(ctx, id)
	})
}

// Discard removes a draft. What was issued stays.
func (s *Service) Discard(ctx context.Context, id string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		q, err := tx.LockQuote(ctx, id)
		if err != nil {
			return err
		}
		if q.State != Draft {
			return frozen(q)
		}
		if err := unquoted(ctx, tx, q); err != nil {
			return err
		}
		return tx.DropQuote(ctx, id)
	})
}

// Revise opens a new version of an issued quote as a draft; the issued one stands until the new one is issued.
// Asked twice, it gives the draft that is already open. What was accepted has no other version.
func (s *Service) Revise(ctx context.Context, id string) (Quote, error) {
	return read(ctx, s, func(tx Tx) (Quote, error) {
		q, err := tx.LockQuote(ctx, id)
		if err != nil {
			return q, err
		}
		if q.State == Draft {
			return q, nil
		}
		versions, err := tx.Versions(ctx, q.Number)
		if err != nil {
			return q, err
		}
		if err := open(ctx, tx, versions); err != nil {
			return q, err
		}
		last := versions[len(versions)-1]
		if last.State == Draft {
			return tx.Quote(ctx, last.ID)
		}
		now := s.now()
		next := Quote{
			ID: newID(), Number: q.Number, Version: last.Version + 1, State: Draft, CustomerID: q.CustomerID,
			Design: q.Design, Title: q.Title, Form: q.Form, Options: q.Options, Created: now, Changed: now,
		}
		if err := tx.AddQuote(ctx, next); err != nil {
			return q, err
		}
		if err := tx.CarryOver(ctx, q.ID, next.ID); err != nil {
			return q, err
		}
		return tx.Quote(ctx, next.ID)
	})
}

// Document reads an issued quote's document back, byte for byte.
func (s *Service) Document(ctx context.Context, id string) (Document, error) {
	return read(ctx, s, func(tx Tx) (Document, error) {
		q, err := tx.Quote(ctx, id)
		if err != nil {
			return Document{}, err
		}
		if q.Document == "" {
			return Document{}, fault.New(fault.State, "This quote has not been issued, so it has no document yet.")
		}
		return tx.Document(ctx, q.Document)
	})
}

func (q Quote) check() error {
	var l fault.List
	long(&l, "title", q.Title, 120)
	if q.CustomerID == "" {
		l.Add("customer", "", "Choose who the quote is for.")
	}
	return l.Err()
}

func frozen(q Quote) error {
	return fault.New(fault.State, "Quote %s has been issued and cannot be changed. Make a new version of it instead.", q.Number)
}

// noCustomer puts a missing customer down to the entry that named it.
func noCustomer(id string, err error) error {
	if fault.KindOf(err) != fault.NotFound {
		return err
	}
	var l fault.List
	l.Add("customer", id, "There is no such customer. Choose one of the list.")
	return l.Err()
}
