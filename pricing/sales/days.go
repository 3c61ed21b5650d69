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
	Order  Order
	Plan   schedule.Plan
	Booked bool
}

// Days are all orders that are still to be made, booked ones as they stand, then those that wait for their deposit.
func (s *Service) Days(ctx context.Context) ([]OnBench, error) {
	return read(ctx, s, func(tx Tx) ([]OnBench, error) {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return nil, err
		}
		booked, err := tx.Booked(ctx)
		if err != nil {
			return nil, err
		}
		orders, err := tx.Orders(ctx, Found{Open: true})
		if err != nil {
			return nil, err
		}
		var days, waiting []OnBench
		for _, o := range orders {
			if p, ok := booked[o.ID]; ok {
				days = append(days, OnBench{o, p, true})
			} else {
				waiting = append(waiting, OnBench{Order: o})
			}
		}
		slices.SortStableFunc(days, func(a, b OnBench) int { return a.Plan.Ready.Compare(b.Plan.Ready) })
		slices.SortStableFunc(waiting, func(a, b OnBench) int {
			return cmp.Or(a.Order.Starts.Compare(b.Order.Starts), a.Order.Accepted.Compare(b.Order.Accepted))
		})
		jobs := make([]schedule.Job, len(waiting))
		for i, o := range waiting {
			if jobs[i], err = s.job(ctx, tx, w, o.Order); err != nil {
				return nil, err
			}
		}
		for i, p := range w.Bench().Lay(jobs, plansOf(booked)) {
			waiting[i].Plan = p
		}
		return append(days, waiting...), nil
	})
}

// job is an order as the bench takes it: the tasks of its quote, in the air of the month it begins in.
func (s *Service) job(ctx context.Context, tx Tx, w workshop.Workshop, o Order) (schedule.Job, error) {
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return schedule.Job{}, err
	}
	from := o.Starts
	if now := s.now(); from.Before(now) {
		from = now
	}
	return schedule.Job{ID: o.ID, From: from, Tasks: schedule.Dried(q.Printed.Tasks, w.AirOn(from))}, nil
}

func plansOf(booked map[string]schedule.Plan) []schedule.Plan {
	plans := make([]schedule.Plan, 0, len(booked))
	for _, p := range booked {
		plans = append(plans, p)
	}
	slices.SortFunc(plans, func(a, b schedule.Plan) int { return cmp.Compare(a.Job, b.Job) })
	return plans
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
	booked, err := tx.Booked(ctx)
	if err != nil {
		return err
	}
	delete(booked, o.ID)
	job, err := s.job(ctx, tx, w, o)
	if err != nil {
		return err
	}
	return tx.Book(ctx, w.Bench().Lay([]schedule.Job{job}, plansOf(booked))[0])
}

// Earliest is when a job of such tasks could be ready, as the bench is booked now and begun at the earliest on a
// day; and what it could be ready by on an empty bench.
func (s *Service) Earliest(ctx context.Context, tasks []schedule.Task, from time.Time) (booked, empty schedule.Plan, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return err
		}
		others, err := tx.Booked(ctx)
		if err != nil {
			return err
		}
		if now := s.now(); from.Before(now) {
			from = now
		}
		job := schedule.Job{From: from, Tasks: schedule.Dried(tasks, w.AirOn(from))}
		b := w.Bench()
		booked, empty = b.Lay([]schedule.Job{job}, plansOf(others))[0], b.Lay([]schedule.Job{job}, nil)[0]
		return nil
	})
	return booked, empty, err
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
