package sales

import (
	"context"
	"slices"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/pricing/workshop"
)

// Event is a game that pieces are ordered for. Its days are days of the calendar, the last one with it.
type Event struct {
	ID          string
	Name, Place string
	First, Last time.Time
	Rule        string // code of a size rule of the workshop; empty for none
	Edition     string // of the rule, as it was when the event was written down
	OrderBy     time.Time
	Note        string
	Edit        int
}

// Ready is the day by which pieces for it are to be made: the one before it begins.
func (e Event) Ready() time.Time { return e.First.AddDate(0, 0, -1) }

// Over tells that its last day is behind.
func (e Event) Over(today time.Time) bool { return e.Last.Before(stock.Day(today)) }

// Late tells that it is too late to order for it.
func (e Event) Late(today time.Time) bool { return e.OrderBy.Before(stock.Day(today)) }

// OrderBy proposes the last day to order for an event that begins on a day: the standard lead time before the day its
// pieces are to be made by.
func OrderBy(w workshop.Workshop, first time.Time) time.Time {
	return first.AddDate(0, 0, -1-w.Figures.Rates.LeadDays)
}

// EventTx is events within one transaction.
type EventTx interface {
	Event(ctx context.Context, id string) (Event, error)
	Events(ctx context.Context) ([]Event, error) // by their first day
	AddEvent(ctx context.Context, e Event) error
	SaveEvent(ctx context.Context, e Event) error
	// EventOf is the event of a quote, and so of the order that was made of it; NotFound where there is none.
	EventOf(ctx context.Context, quoteID string) (Event, error)
	SetEventOf(ctx context.Context, quoteID, event string) error                // "" for none
	OrdersFor(ctx context.Context, event string) ([]Order, error)               // but the cancelled ones, by customer
	ForEvent(ctx context.Context, event string) (quotes, orders int, err error) // drafts and quotes that stand; orders
}

// Upcoming is an event with how much hangs on it.
type Upcoming struct {
	Event
	Quotes, Orders int
}

// Events are all events by their first day.
func (s *Service) Events(ctx context.Context) ([]Upcoming, error) {
	return read(ctx, s, func(tx Tx) ([]Upcoming, error) {
		list, err := tx.Events(ctx)
		if err != nil {
			return nil, err
		}
		all := make([]Upcoming, len(list))
		for i, e := range list {
			all[i].Event = e
			if all[i].Quotes, all[i].Orders, err = tx.ForEvent(ctx, e.ID); err != nil {
				return nil, err
			}
		}
		return all, nil
	})
}

// Event is one event.
func (s *Service) Event(ctx context.Context, id string) (Event, error) {
	return read(ctx, s, func(tx Tx) (Event, error) { return tx.Event(ctx, id) })
}

// KeepEvent adds an event, or changes the one with its ID. Without a last day to order it gets the one that the
// standard lead time asks for.
func (s *Service) KeepEvent(ctx context.Context, e Event) (Event, error) {
	return read(ctx, s, func(tx Tx) (Event, error) {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return e, err
		}
		if e, err = e.checked(w); err != nil {
			return e, err
		}
		if e.ID == "" {
			e.ID = newID()
			return e, tx.AddEvent(ctx, e)
		}
		was, err := tx.Event(ctx, e.ID)
		if err != nil {
			return e, err
		}
		if was.Edit != e.Edit {
			return e, fault.New(fault.Conflict, "Somebody else changed this event. Open it again to see it as it is; what you typed is still in the form.")
		}
		if was.Rule == e.Rule { // it stands as it was written down, whatever the workshop's rule says by now
			e.Edition = was.Edition
		}
		e.Edit++
		return e, tx.SaveEvent(ctx, e)
	})
}

// checked is an event as it is kept.
func (e Event) checked(w workshop.Workshop) (Event, error) {
	var l fault.List
	e.Name, e.Place, e.Note = strings.TrimSpace(e.Name), strings.TrimSpace(e.Place), strings.TrimSpace(e.Note)
	if e.Name == "" {
		l.Add("name", "", "Write what the event is called.")
	}
	oneLine(&l, "name", e.Name)
	oneLine(&l, "place", e.Place)
	long(&l, "name", e.Name, 120)
	long(&l, "place", e.Place, 200)
	long(&l, "note", e.Note, 2000)
	day := func(field string, d time.Time) {
		if d.IsZero() || d.Year() < 2000 || d.Year() > 2200 {
			l.Add(field, iso(d), "Write a day, for example 2027-03-14.")
		}
	}
	day("first", e.First)
	if e.Last.IsZero() {
		e.Last = e.First
	}
	if e.OrderBy.IsZero() && !e.First.IsZero() {
		e.OrderBy = OrderBy(w, e.First)
	}
	if l.Empty() && e.Last.Before(e.First) {
		l.Add("last", iso(e.Last), "That is before its first day. Write the first day or a later one.")
	}
	if l.Empty() && e.Last.After(e.First.AddDate(1, 0, 0)) {
		l.Add("last", iso(e.Last), "That is more than a year after its first day. Check the year.")
	}
	if l.Empty() && e.OrderBy.After(e.First) {
		l.Add("order_by", iso(e.OrderBy), "That is after it began. Write an earlier day.")
	}
	e.Edition = ""
	if e.Rule != "" {
		i := slices.IndexFunc(w.Figures.Rules, func(r shield.Rule) bool { return r.Code == e.Rule })
		if i < 0 {
			l.Add("rule", e.Rule, "The workshop has no such rule. Choose one of the list.")
		} else {
			e.Edition = w.Figures.Rules[i].Edition
		}
	}
	return e, l.Err()
}

func iso(d time.Time) string {
	if d.IsZero() {
		return ""
	}
	return d.Format(time.DateOnly)
}
