package sales

import (
	"cmp"
	"context"
	"slices"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

// OnBench is an order with its days. An order whose deposit is awaited is planned behind those that are booked, and
// moves when others are booked first.
type OnBench struct {
	Order    Order
	Plan     schedule.Plan
	Booked   bool
	Promised time.Time // the date that was asked for; zero for none
	Decides  string    // the wait or the others at the bench that set the day; empty for hands alone
	Damp     []string  // what the air is for the latex that it still gets
}

// Missed tells that it will not be ready by the end of the day it was asked for.
func (o OnBench) Missed() bool {
	return !o.Promised.IsZero() && o.Plan.Ready.After(o.Promised.AddDate(0, 0, 1))
}

// Days are all orders that are still to be made, booked ones as they stand, then those that wait for their deposit.
func (s *Service) Days(ctx context.Context) ([]OnBench, error) {
	return read(ctx, s, func(tx Tx) ([]OnBench, error) {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return nil, err
		}
		days, waiting, err := onBench(ctx, tx)
		if err != nil {
			return nil, err
		}
		slices.SortStableFunc(waiting, func(a, b OnBench) int {
			return cmp.Or(a.Order.Starts.Compare(b.Order.Starts), a.Order.Accepted.Compare(b.Order.Accepted))
		})
		jobs := make([]schedule.Job, len(waiting))
		for i, o := range waiting {
			if jobs[i], err = s.job(ctx, tx, w, o.Order); err != nil {
				return nil, err
			}
		}
		for i, p := range w.Bench().Lay(jobs, plans(days)) {
			waiting[i].Plan = p
		}
		days = append(days, waiting...)
		title, now := Titles(days), Wall(s.now())
		for i, o := range days {
			days[i].Decides, days[i].Damp = Decider(Holds(o.Plan, title, now)), damp(w, o.Plan, now)
			if o.Order.QuoteID == "" {
				continue
			}
			q, err := tx.Quote(ctx, o.Order.QuoteID)
			if err != nil {
				return nil, err
			}
			days[i].Promised, _ = time.Parse(time.DateOnly, q.Form.Delivery.By.String()) // empty for no date
		}
		return days, nil
	})
}

// Ahead are the orders on the bench as they are booked, the first to be ready first; the dates asked for are left out.
func (s *Service) Ahead(ctx context.Context) ([]OnBench, error) {
	return read(ctx, s, func(tx Tx) ([]OnBench, error) {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return nil, err
		}
		days, _, err := onBench(ctx, tx)
		for i, o := range days {
			days[i].Damp = damp(w, o.Plan, Wall(s.now()))
		}
		return days, err
	})
}

// onBench are the orders that are still to be made: those booked, the first to be ready first, and the others.
func onBench(ctx context.Context, tx Tx) (days, waiting []OnBench, err error) {
	booked, err := tx.Booked(ctx)
	if err != nil {
		return nil, nil, err
	}
	orders, err := tx.Orders(ctx, Found{Open: true})
	if err != nil {
		return nil, nil, err
	}
	for _, o := range orders {
		if p, ok := booked[o.ID]; ok {
			days = append(days, OnBench{Order: o, Plan: p, Booked: true})
		} else {
			waiting = append(waiting, OnBench{Order: o})
		}
		delete(booked, o.ID)
	}
	for id, p := range booked { // more than a list holds: they are in the way all the same
		days = append(days, OnBench{Order: Order{ID: id}, Plan: p, Booked: true})
	}
	slices.SortStableFunc(days, func(a, b OnBench) int {
		return cmp.Or(a.Plan.Ready.Compare(b.Plan.Ready), cmp.Compare(a.Order.ID, b.Order.ID))
	})
	return days, waiting, nil
}

// plans are those of orders on the bench.
func plans(days []OnBench) []schedule.Plan {
	all := make([]schedule.Plan, len(days))
	for i, o := range days {
		all[i] = o.Plan
	}
	return all
}

// job is an order as the bench takes it: the tasks of its quote, in the air of the month it begins in.
func (s *Service) job(ctx context.Context, tx Tx, w workshop.Workshop, o Order) (schedule.Job, error) {
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return schedule.Job{}, err
	}
	q = o.as(q)
	from := o.Starts
	if now := Wall(s.now()); from.Before(now) {
		from = now
	}
	return schedule.Job{ID: o.ID, From: from, Tasks: schedule.Dried(q.Printed.Tasks, w.AirOn(from))}, nil
}

// book puts an order on the bench, or anew: as early as the others leave it, and not before its first day.
func (s *Service) book(ctx context.Context, tx Tx, o Order) error {
	if err := tx.LockBench(ctx); err != nil {
		return err
	}
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return err
	}
	days, _, err := onBench(ctx, tx)
	if err != nil {
		return err
	}
	others := slices.DeleteFunc(days, func(other OnBench) bool { return other.Order.ID == o.ID })
	job, err := s.job(ctx, tx, w, o)
	if err != nil {
		return err
	}
	plan := w.Bench().Lay([]schedule.Job{job}, plans(others))[0]
	plan.Planned = s.now()
	return tx.Book(ctx, plan)
}

// Wall is a moment as the clock on the workshop's wall shows it. Days and slots are kept like that, written as UTC:
// the bench opens at nine wherever the server stands.
func Wall(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, t.Hour(), t.Minute(), t.Second(), 0, time.UTC)
}

// Replan puts an order on the bench anew, from today or its first day on.
func (s *Service) Replan(ctx context.Context, id string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		o, err := tx.LockOrder(ctx, id)
		if err != nil {
			return err
		}
		if o.State != Booked {
			return fault.New(fault.State, "Order %s has no place on the bench: its deposit has not come, or it has ended.", o.Number)
		}
		return s.book(ctx, tx, o)
	})
}
