package api

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

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
	v.First, v.Last, v.OrderBy = optionalDate(&l, "first", e.First), optionalDate(&l, "last", e.Last), optionalDate(&l, "order_by", e.OrderBy)
	return v, l.Err()
}

func handoverOf(h sales.Handover) Handover {
	return Handover{eventRow(h.Event), each(h.Lines, func(l sales.Handing) HandoverLine {
		return HandoverLine{l.Order.ID, l.Order.Edit, l.Order.Customer, l.Order.Title, l.Pieces, l.Left, l.Hand, each(l.Wearers, func(w sales.Wearer) string { return w.Name }), l.Open.String()}
	}), h.Open().String()}
}

func (f *face) events() {
	operation(f, huma.Operation{
		OperationID: "list-events", Method: http.MethodGet, Path: "/events", Summary: "Events by their first day",
	}, nobodyElse(), func(ctx context.Context, _ *none) (*answer[eventList], error) {
		all, err := f.Sales.Events(ctx)
		return &answer[eventList]{eventList{each(all, func(u sales.Upcoming) Event { return eventRow(u.Event) })}}, err
	})
	taking(f, huma.Operation{
		OperationID: "add-event", Method: http.MethodPost, Path: "/events", Summary: "Write an event down", DefaultStatus: http.StatusCreated, Errors: []int{http.StatusConflict},
	}, nobodyElse(), func(ctx context.Context, _ *none, in eventEntry) (*made[Event], error) {
		e, err := in.event("")
		if err == nil {
			e, err = f.Sales.KeepEvent(ctx, e)
		}
		return &made[Event]{Path + "/events/" + e.ID, eventRow(e)}, err
	})
	taking(f, huma.Operation{
		OperationID: "change-event", Method: http.MethodPut, Path: "/events/{id}", Summary: "Change an event", Errors: []int{http.StatusConflict},
	}, nobodyElse(), func(ctx context.Context, in *byID, entry eventEntry) (*answer[Event], error) {
		e, err := entry.event(in.ID)
		if err == nil {
			e, err = f.Sales.KeepEvent(ctx, e)
		}
		return &answer[Event]{eventRow(e)}, err
	})
	operation(f, huma.Operation{
		OperationID: "read-handover", Method: http.MethodGet, Path: "/events/{id}/handover", Summary: "Who gets what at an event, and what is still to be paid",
	}, nobodyElse(), func(ctx context.Context, in *byID) (*answer[Handover], error) {
		h, err := f.Sales.Handover(ctx, in.ID)
		return &answer[Handover]{handoverOf(h)}, err
	})
	taking(f, huma.Operation{
		OperationID: "hand-over-at-event", Method: http.MethodPost, Path: "/events/{id}/handover", Summary: "Note what was handed over at an event", Errors: []int{http.StatusConflict},
		Description: "All that is left of every order named, all of them or none.",
	}, nobodyElse(), func(ctx context.Context, in *byID, e handedEntry) (*answer[Handover], error) {
		day, err := date("day", e.Day)
		if err != nil {
			return nil, err
		}
		if err := f.Sales.HandOver(ctx, in.ID, each(e.Orders, func(l handedLine) sales.Ticked { return sales.Ticked{Order: l.Order, Edit: l.Edit} }), day, callOf(ctx).by); err != nil {
			return nil, err
		}
		h, err := f.Sales.Handover(ctx, in.ID)
		return &answer[Handover]{handoverOf(h)}, err
	})
	taking(f, huma.Operation{
		OperationID: "quote-for-event", Method: http.MethodPut, Path: "/quotes/{id}/event", Summary: "Say which event a draft is for", Errors: []int{http.StatusConflict},
		Description: "Its size rule and the day before it are written into the spec, unless an earlier day was asked for.",
	}, nobodyElse(), func(ctx context.Context, in *byID, e eventChoice) (*answer[Quote], error) {
		q, err := f.Sales.ChooseEvent(ctx, in.ID, e.Edit, e.Event)
		return &answer[Quote]{quoteOf(q)}, err
	})
	taking(f, huma.Operation{
		OperationID: "order-for-event", Method: http.MethodPut, Path: "/orders/{id}/event", Summary: "Say which event an order is for", Errors: []int{http.StatusConflict},
		Description: "What is made and when stays as it was agreed.",
	}, nobodyElse(), func(ctx context.Context, in *byID, e eventChoice) (*none, error) {
		return &none{}, f.Sales.MoveOrder(ctx, in.ID, e.Event)
	})
}
