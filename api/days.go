package api

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
)

// wallTime writes a time of a slot: as the clock on the workshop's wall shows it, without a zone.
const wallTime = "2006-01-02T15:04:05"

// Booking is an order with its days at the bench.
type Booking struct {
	Order    string   `json:"order" format:"uuid"`
	Number   string   `json:"number"`
	Title    string   `json:"title"`
	Edit     int      `json:"edit" doc:"counts changes of the order"`
	Booked   bool     `json:"booked" doc:"false while its deposit is awaited: it moves when others are booked first"`
	Ready    string   `json:"ready" doc:"on the workshop's wall"`
	AskedFor string   `json:"asked_for,omitempty" format:"date"`
	Late     bool     `json:"late" doc:"it will not be ready by the end of that day"`
	Decides  string   `json:"decides,omitempty" doc:"the wait or the others at the bench that set the day; left out where hands alone do"`
	Damp     []string `json:"damp" doc:"what the air is for the latex that it still gets"`
	Slots    []Slot   `json:"slots"`
}

// Slot is a step with its time.
type Slot struct {
	Step   string `json:"step" doc:"its code"`
	Name   string `json:"name"`
	Start  string `json:"start" doc:"on the workshop's wall"`
	End    string `json:"end" doc:"of the work"`
	Ready  string `json:"ready" doc:"and of what has to dry or set"`
	People int    `json:"people"`
	Place  string `json:"place,omitempty"`
}

type bookings struct {
	Bookings []Booking `json:"bookings"`
}

// Fit is when a spec can honestly be ready.
type Fit struct {
	Ready      string   `json:"ready" doc:"begun now, as the bench is booked; on the workshop's wall"`
	Empty      string   `json:"ready_on_empty_bench"`
	Decides    string   `json:"decides,omitempty" doc:"the wait or the others at the bench that set the day; left out where hands alone do"`
	Late       string   `json:"late,omitempty" doc:"why the date asked for cannot be met, and what would do"`
	Impossible bool     `json:"impossible" doc:"on an empty bench neither: a quote with this date is not issued"`
	Season     string   `json:"season,omitempty" doc:"what the air of the month makes of the waits"`
	Damp       []string `json:"damp" doc:"what the air is for latex in the month it would be coated in"`
}

func (f *face) days() {
	operation(f, op("GET /days", "bookings", "The bench: orders that are still to be made, with their days").also(people.Helper, people.Bookkeeper).
		saying("Booked ones as they stand, the first to be ready first, then those that wait for their deposit, as the bench is booked now."),
		func(ctx context.Context, _ *none) (*answer[bookings], error) {
			days, err := f.Sales.Days(ctx)
			if err != nil {
				return nil, err
			}
			return &answer[bookings]{bookings{each(days, bookingOf)}}, nil
		})
	taking(f, op("POST /estimate/days", "estimate-days", "When a spec can honestly be ready").
		saying("As the bench is booked and on an empty one, begun now, in the air of the month. Nothing is stored."), f.fit)
	taking(f, op("POST /orders/{id}/take", "take-material", "Take what is used of an order off the shelf while it is made", conflict).also(people.Helper).
		saying("The rest of its material stays promised. The edit count is the order's: sent twice, it is taken once."), f.take)
}

func bookingOf(o sales.OnBench) Booking {
	return Booking{
		Order: o.Order.ID, Number: o.Order.Number.String(), Title: o.Order.Title, Edit: o.Order.Edit, Booked: o.Booked, Ready: o.Plan.Ready.Format(wallTime),
		AskedFor: dateOf(o.Promised), Late: o.Missed(), Decides: o.Decides, Damp: texts(o.Damp),
		Slots: each(o.Plan.Slots, func(s schedule.Slot) Slot {
			return Slot{s.Task.Code, s.Task.Name, s.Start.Format(wallTime), s.End.Format(wallTime), s.Ready.Format(wallTime), s.People, s.Task.Place}
		}),
	}
}

func (f *face) fit(ctx context.Context, _ *none, form orderform.Form) (*answer[Fit], error) {
	e, err := f.Sales.Estimate(ctx, "", form)
	if err != nil {
		return nil, err
	}
	fit, err := f.Sales.Fit(ctx, e)
	return &answer[Fit]{Fit{fit.Booked.Ready.Format(wallTime), fit.Empty.Ready.Format(wallTime), fit.Decides, fit.Late, fit.Impossible, fit.Season, texts(fit.Damp)}}, err
}

type takeList struct {
	Edit *int        `json:"edit" doc:"of the order, as it was read"`
	Used []usedEntry `json:"used"`
}

func (f *face) take(ctx context.Context, in *byID, e takeList) (*answer[Order], error) {
	var l fault.List
	if e.Edit == nil {
		l.Add("edit", "", "Send the edit count that the order was read with.")
	}
	if len(e.Used) == 0 {
		l.Add("used", "", "Write how much was used of at least one material.")
	}
	used := usedOf(&l, e.Used)
	if err := l.Err(); err != nil {
		return nil, err
	}
	t, err := f.Sales.Take(ctx, in.ID, *e.Edit, used, callOf(ctx).by)
	return &answer[Order]{orderOf(t)}, err
}
