package api

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// Event is a game that pieces are ordered for.
type Event struct {
	ID      string `json:"id" format:"uuid"`
	Name    string `json:"name" maxLength:"120"`
	Place   string `json:"place,omitempty" maxLength:"200"`
	First   string `json:"first" format:"date"`
	Last    string `json:"last,omitempty" format:"date" doc:"the first day where it is left out"`
	Rule    string `json:"rule,omitempty" doc:"code of a size rule of the workshop"`
	Edition string `json:"edition,omitempty" doc:"of the rule, as it was when the event was written down"`
	OrderBy string `json:"order_by,omitempty" format:"date" doc:"the last day to order; by the standard lead time where it is left out"`
	Note    string `json:"note,omitempty" maxLength:"2000"`
	Edit    int    `json:"edit" doc:"counts changes"`
}

type eventEntry struct {
	Name    string `json:"name" maxLength:"120"`
	Place   string `json:"place,omitempty" maxLength:"200"`
	First   string `json:"first" format:"date"`
	Last    string `json:"last,omitempty" format:"date"`
	Rule    string `json:"rule,omitempty"`
	OrderBy string `json:"order_by,omitempty" format:"date"`
	Note    string `json:"note,omitempty" maxLength:"2000"`
	Edit    int    `json:"edit,omitempty" doc:"of the event, as it was read; of a new one 0"`
}

type eventList struct {
	Events []Event `json:"events"`
}

// Handover is who gets what at an event.
type Handover struct {
	Event Event          `json:"event"`
	Lines []HandoverLine `json:"lines"`
	Open  string         `json:"open" doc:"still to be paid in all"`
}

// HandoverLine is one order of it.
type HandoverLine struct {
	Order    string   `json:"order" format:"uuid"`
	Edit     int      `json:"edit" doc:"of the order"`
	Customer string   `json:"customer_name"`
	Title    string   `json:"title"`
	Pieces   int      `json:"pieces"`
	Left     int      `json:"left" doc:"not handed over yet"`
	Hand     string   `json:"hand,omitempty" enum:"right,left,either"`
	Wearers  []string `json:"wearers" doc:"who did not get theirs yet"`
	Open     string   `json:"open" doc:"of its price"`
}

type handedEntry struct {
	Day    string       `json:"day" format:"date"`
	Orders []handedLine `json:"orders"`
}

type handedLine struct {
	Order string `json:"order" format:"uuid"`
	Edit  int    `json:"edit"`
}

type eventChoice struct {
	Event string `json:"event" doc:"its id; empty for none"`
	Edit  int    `json:"edit" doc:"of the draft, as it was read; of an order it is not asked for"`
}

func eventRow(e sales.Event) Event {
	return Event{e.ID, e.Name, e.Place, dateOf(e.First), dateOf(e.Last), e.Rule, e.Edition, dateOf(e.OrderBy), e.Note, e.Edit}
}

// event reads an entry.
func (e eventEntry) event(id string) (v sales.Event, err error) {
	v = sales.Event{ID: id, Name: e.Name, Place: e.Place, Rule: e.Rule, Note: e.Note, Edit: e.Edit}
	var l fault.List
	v.First, v.Last, v.OrderBy = optionalDay(&l, "first", e.First), optionalDay(&l, "last", e.Last), optionalDay(&l, "order_by", e.OrderBy)
	return v, l.Err()
}

func handoverOf(h sales.Handover) Handover {
	return Handover{eventRow(h.Event), each(h.Lines, func(l sales.Handing) HandoverLine {
		return HandoverLine{l.Order.ID, l.Order.Edit, l.Order.Customer, l.Order.Title, l.Pieces, l.Left, l.Hand, each(l.Wearers, func(w sales.Wearer) string { return w.Name }), l.Open.String()}
	}), h.Open().String()}
}

func (f *face) events() {
	operation(f, op("GET /events", "list-events", "Events by their first day"), func(ctx context.Context, _ *none) (*answer[eventList], error) {
		all, err := f.Sales.Events(ctx)
		return &answer[eventList]{eventList{each(all, func(u sales.Upcoming) Event { return eventRow(u.Event) })}}, err
	})
	taking(f, op("POST /events", "add-event", "Write an event down", conflict).created(),
		func(ctx context.Context, _ *none, in eventEntry) (*made[Event], error) {
			e, err := in.event("")
			if err == nil {
				e, err = f.Sales.KeepEvent(ctx, e)
			}
			return &made[Event]{Path + "/events/" + e.ID, eventRow(e)}, err
		})
	taking(f, op("PUT /events/{id}", "change-event", "Change an event", conflict),
		func(ctx context.Context, in *byID, entry eventEntry) (*answer[Event], error) {
			e, err := entry.event(in.ID)
			if err == nil {
				e, err = f.Sales.KeepEvent(ctx, e)
			}
			return &answer[Event]{eventRow(e)}, err
		})
	operation(f, op("GET /events/{id}/handover", "read-handover", "Who gets what at an event, and what is still to be paid"),
		func(ctx context.Context, in *byID) (*answer[Handover], error) {
			h, err := f.Sales.Handover(ctx, in.ID)
			return &answer[Handover]{handoverOf(h)}, err
		})
	taking(f, op("POST /events/{id}/handover", "hand-over-at-event", "Note what was handed over at an event", conflict).
		saying("All that is left of every order named, all of them or none."),
		func(ctx context.Context, in *byID, e handedEntry) (*answer[Handover], error) {
			var l fault.List
			d := day(&l, "day", e.Day)
			if err := l.Err(); err != nil {
				return nil, err
			}
			if err := f.Sales.HandOver(ctx, in.ID, each(e.Orders, func(l handedLine) sales.Ticked { return sales.Ticked{Order: l.Order, Edit: l.Edit} }), d, callOf(ctx).by); err != nil {
				return nil, err
			}
			h, err := f.Sales.Handover(ctx, in.ID)
			return &answer[Handover]{handoverOf(h)}, err
		})
	taking(f, op("PUT /quotes/{id}/event", "quote-for-event", "Say which event a draft is for", conflict).
		saying("Its size rule and the day before it are written into the spec, unless an earlier day was asked for."),
		func(ctx context.Context, in *byID, e eventChoice) (*answer[Quote], error) {
			q, err := f.Sales.ChooseEvent(ctx, in.ID, e.Edit, e.Event)
			return &answer[Quote]{quoteOf(q)}, err
		})
	taking(f, op("PUT /orders/{id}/event", "order-for-event", "Say which event an order is for", conflict).
		saying("What is made and when stays as it was agreed."),
		func(ctx context.Context, in *byID, e eventChoice) (*none, error) {
			return &none{}, f.Sales.MoveOrder(ctx, in.ID, e.Event)
		})
}
