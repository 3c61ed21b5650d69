package sales

import (
	"context"
	"fmt"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/words"
)

// EventOf is the event that a quote, or the order made of it, is for; nil for none.
func (s *Service) EventOf(ctx context.Context, quoteID string) (*Event, error) {
	return read(ctx, s, func(tx Tx) (*Event, error) { return eventOf(ctx, tx, quoteID) })
}

func eventOf(ctx context.Context, tx Tx, quoteID string) (*Event, error) {
	e, err := tx.EventOf(ctx, quoteID)
	if fault.KindOf(err) == fault.NotFound {
		return nil, nil
	}
	return &e, err
}

// For writes an event into a spec: its size rule, and the day before it as the one to be ready by, unless an earlier
// one was asked for.
func (e Event) For(form orderform.Form) (orderform.Form, error) {
	changes := map[string]string{}
	if e.Rule != "" {
		changes["rule"] = e.Rule
	}
	if by, err := time.Parse(time.DateOnly, form.Delivery.By.Typed); err != nil || by.After(e.Ready()) {
		changes["delivery.by"] = iso(e.Ready())
	}
	return form.With(changes)
}

// ChooseEvent says which event a draft is for, and writes its rule and day into the spec; "" takes it off the event and
// leaves the spec.
func (s *Service) ChooseEvent(ctx context.Context, quoteID string, edit int, event string) (Quote, error) {
	var chosen *Event
	if event != "" {
		e, err := s.Event(ctx, event)
		if fault.KindOf(err) == fault.NotFound {
			return Quote{}, problem("event", event, "There is no such event. Choose one of the list.")
		}
		if err != nil {
			return Quote{}, err
		}
		if e.Over(s.now()) {
			return Quote{}, problem("event", e.Name, "This event is over. Choose another.")
		}
		chosen = &e
	}
	return read(ctx, s, func(tx Tx) (Quote, error) {
		q, err := tx.LockQuote(ctx, quoteID)
		switch {
		case err != nil:
			return q, err
		case q.State != Draft:
			return q, frozen(q)
		case q.Edit != edit:
			return q, fault.New(fault.Conflict, "Somebody else changed this quote at %s. Open it again to see their version.", q.Changed.Format("15:04"))
		}
		if chosen != nil {
			if q.Form, err = chosen.For(q.Form); err != nil {
				return q, err
			}
		}
		q.Edit, q.Changed = q.Edit+1, s.now()
		if err := tx.SaveQuote(ctx, q); err != nil {
			return q, err
		}
		if err := tx.SetEventOf(ctx, quoteID, event); err != nil {
			return q, err
		}
		return tx.Quote(ctx, quoteID)
	})
}

// MoveOrder says which event an order is for; "" for none. What is made and when stays as it was agreed.
func (s *Service) MoveOrder(ctx context.Context, orderID, event string) error {
	_, err := s.order(ctx, orderID, func(tx Tx, o *Order) error {
		if o.State == Cancelled {
			return ended(*o)
		}
		return tx.SetEventOf(ctx, o.QuoteID, event)
	})
	return err
}

// Warns says what is to be minded about an event for a quote of today; empty for nothing.
func (e Event) Warns(today time.Time) string {
	switch {
	case e.Over(today):
		return fmt.Sprintf("%s was over on %s.", e.Name, words.Date(e.Last))
	case e.Late(today):
		return fmt.Sprintf("The last day to order for %s was %s. It begins on %s: promise it only if the bench can.", e.Name, words.Date(e.OrderBy), words.Date(e.First))
	}
	return ""
}
