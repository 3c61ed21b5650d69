package sales

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/labour"
)

// LogTime keeps what somebody worked on an order, once: the same ID sent again changes nothing and is no error. A log
// that corrects another stands in its place; the other stays to be seen.
func (s *Service) LogTime(ctx context.Context, l labour.Log) (labour.Log, error) {
	if l.ID == "" {
		l.ID = newID()
	}
	l.Step, l.Note, l.Rework = strings.TrimSpace(l.Step), strings.TrimSpace(l.Note), strings.TrimSpace(l.Rework)
	l.Corrects = strings.ToLower(strings.TrimSpace(l.Corrects))
	if l.Written.IsZero() {
		l.Written = s.now()
	}
	var wrong fault.List
	if id, err := uuid.Parse(l.ID); err != nil {
		wrong.Add("id", l.ID, "This is no id of a log. Send a new one, or none.")
	} else {
		l.ID = id.String()
	}
	if err := wrong.Take("", l.Check(s.now())); err != nil {
		return l, err
	}
	if err := wrong.Err(); err != nil {
		return l, err
	}
	return l, s.store.Act(ctx, func(tx Tx) error {
		if _, err := tx.Order(ctx, l.Order); err != nil {
			return err
		}
		if l.Corrects != "" {
			logs, err := tx.Logs(ctx, l.Order)
			if err != nil {
				return err
			}
			if !slices.ContainsFunc(logs, func(other labour.Log) bool { return other.ID == l.Corrects }) {
				return problem("corrects", l.Corrects, "There is no such log of this order to correct.")
			}
		}
		_, err := tx.AddLog(ctx, l)
		return err
	})
}

// StartClock notes what somebody begins with; what they were at before is logged.
func (s *Service) StartClock(ctx context.Context, c labour.Clock) error {
	c.Began = s.now()
	return s.store.Act(ctx, func(tx Tx) error {
		o, err := tx.Order(ctx, c.Order)
		if err != nil {
			return err
		}
		if !o.Open() {
			return ended(o)
		}
		if _, err := s.stop(ctx, tx, c.By, "", ""); err != nil && fault.KindOf(err) != fault.NotFound {
			return err
		}
		return tx.SetClock(ctx, c)
	})
}

// StopClock logs what somebody was at, to the minute and at least one.
func (s *Service) StopClock(ctx context.Context, by, note, rework string) (labour.Log, error) {
	return read(ctx, s, func(tx Tx) (labour.Log, error) { return s.stop(ctx, tx, by, note, rework) })
}

func (s *Service) stop(ctx context.Context, tx Tx, by, note, rework string) (labour.Log, error) {
	c, err := tx.Clock(ctx, by)
	if err != nil {
		return labour.Log{}, err
	}
	now := s.now()
	minutes := decimal.NewFromInt(int64(now.Sub(c.Began) / time.Minute))
	// A clock that was forgotten over night is no day of work.
	minutes = decimal.Max(decimal.NewFromInt(1), decimal.Min(decimal.NewFromInt(12*60), minutes))
	l := labour.Log{ID: newID(), Order: c.Order, Step: c.Step, Minutes: minutes, Day: stock.Day(c.Began), Note: note, Rework: rework, By: by, Written: now}
	if err := l.Check(now); err != nil {
		return l, err
	}
	if _, err := tx.AddLog(ctx, l); err != nil {
		return l, err
	}
	return l, tx.SetClock(ctx, labour.Clock{By: by})
}

// Clock is what somebody is at; false when nothing runs.
func (s *Service) Clock(ctx context.Context, by string) (c labour.Clock, runs bool, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		c, err = tx.Clock(ctx, by)
		return err
	})
	if fault.KindOf(err) == fault.NotFound && err != nil {
		return c, false, nil
	}
	return c, err == nil, err
}

// Logs are the time logged on an order, corrected ones with it.
func (s *Service) Logs(ctx context.Context, order string) ([]labour.Log, error) {
	return read(ctx, s, func(tx Tx) ([]labour.Log, error) { return tx.Logs(ctx, order) })
}

// LoggedSince are the times that were logged for a day and later, corrected ones with them.
func (s *Service) LoggedSince(ctx context.Context, day time.Time) ([]labour.Log, error) {
	return read(ctx, s, func(tx Tx) ([]labour.Log, error) { return tx.LogsSince(ctx, day) })
}
