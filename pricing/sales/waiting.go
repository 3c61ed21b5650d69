package sales

import (
	"cmp"
	"context"
	"strings"
	"time"
	"unicode/utf8"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

// Waiting is somebody who waits for a free bench.
type Waiting struct {
	ID         string
	CustomerID string // empty for somebody who is no customer yet
	Who        string
	Wish       string
	Since      time.Time // a day
	Note       string
	EnquiryID  string // it came of; empty for none
	Added      time.Time
	By         string
	Ended      time.Time
	Reason     string // why it ended
}

// WaitingTx is the waiting list within one transaction.
type WaitingTx interface {
	Waiting(ctx context.Context, ended bool) ([]Waiting, error) // who waits, the longest first; or who waited, the latest first
	LockWaiting(ctx context.Context, id string) (Waiting, error)
	AddWaiting(ctx context.Context, w Waiting) error
	EndWaiting(ctx context.Context, id string, at time.Time, reason string) error
}

// mostWaiting is how many may wait.
const mostWaiting = 500

// WaitingList is who waits, the longest first; or, ended, who waited.
func (s *Service) WaitingList(ctx context.Context, ended bool) ([]Waiting, error) {
	return read(ctx, s, func(tx Tx) ([]Waiting, error) { return tx.Waiting(ctx, ended) })
}

// Wait puts somebody on the waiting list: a customer, somebody by name, or whoever an enquiry is of, whose name and wish
// it takes where none were written. An enquiry that waits already waits once.
func (s *Service) Wait(ctx context.Context, w Waiting, by string) (Waiting, error) {
	return read(ctx, s, func(tx Tx) (Waiting, error) {
		now := s.now()
		new := w
		list, err := tx.Waiting(ctx, false)
		if err != nil {
			return new, err
		}
		if len(list) >= mostWaiting {
			return new, fault.New(fault.State, "%d people wait already. Take somebody off the list first.", len(list))
		}
		if new.EnquiryID != "" {
			for _, is := range list {
				if is.EnquiryID == new.EnquiryID {
					return is, nil
				}
			}
			e, err := tx.Enquiry(ctx, new.EnquiryID)
			if err != nil {
				return new, err
			}
			all, err := s.enquired(ctx, tx, e)
			if err != nil {
				return new, err
			}
			new.of(all)
		}
		if new.CustomerID != "" {
			c, err := tx.Customer(ctx, new.CustomerID)
			if err != nil {
				return new, noCustomer(new.CustomerID, err)
			}
			new.Who = c.Name
		}
		if new.Since.IsZero() {
			new.Since = stock.Day(now)
		}
		new.ID, new.Added, new.By, new.Ended, new.Reason = newID(), now, by, time.Time{}, ""
		if err := new.check(now); err != nil {
			return new, err
		}
		return new, tx.AddWaiting(ctx, new)
	})
}

// of takes from an enquiry what was not written.
func (w *Waiting) of(e Enquired) {
	if w.Since.IsZero() {
		w.Since = stock.Day(e.Created)
	}
	if w.Who == "" && w.CustomerID == "" {
		w.Who = e.Name
		w.Who = cmp.Or(w.Who, e.Mail)
	}
	if w.Wish == "" {
		w.Wish = e.Reading.Title() + ": " + strings.Join(strings.Fields(e.Words), " ")
		if runes := []rune(w.Wish); len(runes) > 200 {
			w.Wish = string(runes[:199]) + "…"
		}
	}
}

func (w *Waiting) check(now time.Time) error {
	var l fault.List
	w.Who, w.Wish, w.Note = strings.TrimSpace(w.Who), strings.TrimSpace(w.Wish), strings.TrimSpace(w.Note)
	if w.Who == "" {
		l.Add("who", "", "Choose a customer, or write who waits.")
	}
	if w.Wish == "" {
		l.Add("wish", "", "Write what they wish for, in a few words.")
	}
	for _, f := range []struct {
		field, value string
		most         int
	}{{"who", w.Who, 120}, {"wish", w.Wish, 400}, {"note", w.Note, 2000}} {
		if utf8.RuneCountInString(f.value) > f.most {
			l.Add(f.field, f.value, "This is too long. Shorten it.")
		}
	}
	if w.Since.After(stock.Day(now)) {
		l.Add("since", w.Since.Format(time.DateOnly), "That day has not come yet. Write the day they asked.")
	}
	return l.Err()
}

// EndWait takes somebody off the list, with the reason.
func (s *Service) EndWait(ctx context.Context, id, reason string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		w, err := tx.LockWaiting(ctx, id)
		if err != nil || !w.Ended.IsZero() {
			return err
		}
		if reason = strings.TrimSpace(reason); reason == "" || utf8.RuneCountInString(reason) > 400 {
			return problem("reason", reason, "Say in a few words why they wait no longer, for example: quoted, or found somebody else.")
		}
		return tx.EndWaiting(ctx, id, s.now(), reason)
	})
}

// listed tells that an enquiry is on the waiting list.
func listed(ctx context.Context, tx Tx, enquiryID string) (bool, error) {
	list, err := tx.Waiting(ctx, false)
	for _, w := range list {
		if enquiryID != "" && w.EnquiryID == enquiryID {
			return true, err
		}
	}
	return false, err
}

// Turn is whose turn it is on the waiting list, and from which day on the bench is free.
type Turn struct {
	Waiting Waiting
	Free    time.Time // a day
	Behind  int       // others who wait
}

// freeAhead is how many days ahead a free bench is told; common practice, no source.
const freeAhead = 7

// Next is whose turn it is when the bench is free within a week; false while it is full, or nobody waits.
func (s *Service) Next(ctx context.Context) (t Turn, found bool, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		list, err := tx.Waiting(ctx, false)
		if err != nil || len(list) == 0 {
			return err
		}
		now := s.now()
		w, err := tx.Workshop(ctx, now)
		if err != nil {
			return err
		}
		booked, err := tx.Booked(ctx)
		if err != nil {
			return err
		}
		day, ok := freeDay(w, booked, Wall(now))
		t, found = Turn{list[0], day, len(list) - 1}, ok
		return nil
	})
	return t, found, err
}

// freeDay is the first working day within a week, and not before new orders are begun, of which half of the hands'
// time is free.
func freeDay(w workshop.Workshop, booked map[string]schedule.Plan, now time.Time) (time.Time, bool) {
	first := stock.Day(now)
	if until, full := w.Full(now); full {
		first = until
	}
	cal := w.Figures.Calendar
	for day := cal.WorkingDay(first); !day.After(stock.Day(now).AddDate(0, 0, freeAhead)); day = cal.WorkingDay(day.AddDate(0, 0, 1)) {
		var taken time.Duration
		for _, p := range booked {
			for _, slot := range p.Slots {
				from, to := schedule.Later(slot.Start, day), schedule.Earlier(slot.End, day.AddDate(0, 0, 1))
				if to.After(from) {
					taken += to.Sub(from) * time.Duration(slot.People)
				}
			}
		}
		if 2*taken <= cal.Hours[day.Weekday()]*time.Duration(max(1, w.People)) {
			return day, true
		}
	}
	return time.Time{}, false
}
