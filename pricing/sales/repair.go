package sales

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/workshop"
)

// RepairState is where a repair stands.
type RepairState string

// The states of a repair.
const (
	CameIn    RepairState = "came in"
	Inspected RepairState = "inspected"
	AtBench   RepairState = "at the bench"
	Mended    RepairState = "ready"
	GivenBack RepairState = "given back"
	Scrapped  RepairState = "scrapped"
)

// Next are the states that may follow.
func (s RepairState) Next() []RepairState {
	switch s {
	case CameIn:
		return []RepairState{Scrapped} // and inspected, by the inspection
	case Inspected:
		return []RepairState{AtBench, GivenBack, Scrapped} // given back unmended where the price is too high
	case AtBench:
		return []RepairState{Mended, Scrapped}
	case Mended:
		return []RepairState{GivenBack}
	}
	return nil
}

// Repair is a piece that came in to be mended, by the tag on it.
type Repair struct {
	ID         string
	Tag        Number // of a series of its own
	CustomerID string
	Customer   string // name
	OrderID    string // it was made for; empty where that is not known
	Order      Number
	What       string
	Condition  string
	Came       time.Time
	State      RepairState
	Since      time.Time // it stands so
	Warranty   bool      // as the maker decided on inspection
	Decided    bool
	Findings   string // of the inspection
	Reason     string // it was scrapped for
	QuoteID    string // its price after inspection; empty for none
	Edit       int
	By         string
}

// Waits tells that it is still in the workshop.
func (r Repair) Waits() bool { return r.State != GivenBack && r.State != Scrapped }

// RepairTx is repairs within one transaction.
type RepairTx interface {
	Repair(ctx context.Context, id string) (Repair, error)
	LockRepair(ctx context.Context, id string) (Repair, error)
	Repairs(ctx context.Context, f RepairFound) ([]Repair, error)
	AddRepair(ctx context.Context, r Repair) error
	SaveRepair(ctx context.Context, r Repair) error
}

// RepairFound narrows a list: those that wait, longest first, or those that are over, the newest first; of one order.
type RepairFound struct {
	Over  bool
	Order string
	Quote string // of which quote
}

// Repairs lists repairs.
func (s *Service) Repairs(ctx context.Context, f RepairFound) ([]Repair, error) {
	return read(ctx, s, func(tx Tx) ([]Repair, error) { return tx.Repairs(ctx, f) })
}

// Repair is one repair, with the last day on which its order is mended free; zero where that is not known.
func (s *Service) Repair(ctx context.Context, id string) (r Repair, free time.Time, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		if r, err = tx.Repair(ctx, id); err != nil || r.OrderID == "" {
			return err
		}
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return err
		}
		free, err = mendedFree(ctx, tx, w, r.OrderID)
		return err
	})
	return r, free, err
}

// mendedFree is the last day of an order's warranty, counted from its last delivery.
func mendedFree(ctx context.Context, tx Tx, w workshop.Workshop, order string) (time.Time, error) {
	last, err := supplied(ctx, tx, order)
	if err != nil || last.IsZero() || w.WarrantyDays == 0 {
		return time.Time{}, err
	}
	return last.AddDate(0, 0, w.WarrantyDays), nil
}

// InWarranty tells whether a piece that came in on a day is mended free until another.
func InWarranty(came, free time.Time) bool { return !free.IsZero() && !came.After(free) }

// TakeIn takes a piece in for repair and gives it a tag.
func (s *Service) TakeIn(ctx context.Context, r Repair, by string) (Repair, error) {
	return read(ctx, s, func(tx Tx) (Repair, error) {
		now := s.now()
		var l fault.List
		r.What, r.Condition = strings.TrimSpace(r.What), strings.TrimSpace(r.Condition)
		if r.What == "" {
			l.Add("what", "", "Write what it is, for example a kite with a heron.")
		}
		if r.Condition == "" {
			l.Add("condition", "", "Write in what condition it came in.")
		}
		oneLine(&l, "what", r.What)
		long(&l, "what", r.What, 120)
		long(&l, "condition", r.Condition, 2000)
		if r.Came.IsZero() {
			r.Came = stock.Day(now)
		}
		if r.Came.After(stock.Day(now)) {
			l.Add("came", iso(r.Came), "That day has not come yet. Write the day it came in.")
		}
		if r.OrderID != "" {
			o, err := tx.Order(ctx, r.OrderID)
			switch {
			case fault.KindOf(err) == fault.NotFound:
				l.Add("order", r.OrderID, "There is no such order. Choose one of the list, or none.")
			case err != nil:
				return r, err
			case r.CustomerID == "":
				r.CustomerID = o.CustomerID
			}
			if err == nil && r.Came.Before(stock.Day(o.Accepted)) {
				l.Add("came", iso(r.Came), "That is before it was ordered. Write the day it came in.")
			}
		}
		if r.CustomerID == "" {
			l.Add("customer", "", "Choose whose it is.")
		}
		if err := l.Err(); err != nil {
			return r, err
		}
		if _, err := tx.Customer(ctx, r.CustomerID); err != nil {
			return r, noCustomer(r.CustomerID, err)
		}
		w, err := tx.Workshop(ctx, now)
		if err != nil {
			return r, err
		}
		r.ID, r.State, r.Since, r.By, r.Tag = newID(), CameIn, now, by, Number{Series: w.Series, Year: now.Year()}
		if r.Tag.No, err = tx.NextNumber(ctx, strings.TrimSpace(w.Series+" repair"), r.Tag.Year); err != nil {
			return r, err
		}
		if err := tx.AddRepair(ctx, r); err != nil {
			return r, err
		}
		return tx.Repair(ctx, r.ID)
	})
}

// repair changes a locked repair.
func (s *Service) repair(ctx context.Context, id string, edit int, act func(Tx, *Repair) error) (Repair, error) {
	return read(ctx, s, func(tx Tx) (Repair, error) {
		r, err := tx.LockRepair(ctx, id)
		if err != nil {
			return r, err
		}
		if r.Edit != edit {
			return r, fault.New(fault.Conflict, "Repair %s has changed since this page was opened. Look at it again first.", r.Tag)
		}
		if err := act(tx, &r); err != nil {
			return r, err
		}
		r.Edit++
		if err := tx.SaveRepair(ctx, r); err != nil {
			return r, err
		}
		return tx.Repair(ctx, id)
	})
}

// Inspect notes what was found, and whether it is mended free: the day only proposes, the maker decides.
func (s *Service) Inspect(ctx context.Context, id string, edit int, findings string, warranty bool) (Repair, error) {
	return s.repair(ctx, id, edit, func(_ Tx, r *Repair) error {
		if r.State != CameIn && r.State != Inspected {
			return fault.New(fault.State, "Repair %s is %s: it was inspected before.", r.Tag, r.State)
		}
		if findings = strings.TrimSpace(findings); findings == "" || len([]rune(findings)) > 2000 {
			return problem("findings", findings, "Say in a few words what is to be done.")
		}
		r.State, r.Since, r.Findings, r.Warranty, r.Decided = Inspected, s.now(), findings, warranty, true
		return nil
	})
}

// MoveRepair brings a repair to a state that may follow. One that is scrapped says why.
func (s *Service) MoveRepair(ctx context.Context, id string, edit int, to RepairState, reason string) (Repair, error) {
	return s.repair(ctx, id, edit, func(tx Tx, r *Repair) error {
		if !slices.Contains(r.State.Next(), to) {
			return fault.New(fault.State, "Repair %s is %s and cannot be %s next.", r.Tag, r.State, to)
		}
		reason = strings.TrimSpace(reason)
		if to == Scrapped && (reason == "" || len([]rune(reason)) > 400) {
			return problem("reason", reason, "Say in a few words why it is scrapped.")
		}
		if to == Scrapped {
			r.Reason = reason
		}
		if to == AtBench && !r.Warranty {
			if err := agreedTo(ctx, tx, *r); err != nil {
				return err
			}
		}
		r.State, r.Since = to, s.now()
		return nil
	})
}

// agreedTo refuses to mend at a price that the customer did not say yes to.
func agreedTo(ctx context.Context, tx Tx, r Repair) error {
	if r.QuoteID == "" {
		return fault.New(fault.State, "Repair %s is not in warranty and has no price yet. Quote it first.", r.Tag)
	}
	q, err := tx.Quote(ctx, r.QuoteID)
	if err != nil {
		return err
	}
	versions := []Quote{q}
	if q.Number.No > 0 {
		if versions, err = tx.Versions(ctx, q.Number); err != nil {
			return err
		}
	}
	if _, found, err := accepted(ctx, tx, versions); err != nil || found {
		return err
	}
	return fault.New(fault.State, "The customer has not accepted the price of repair %s yet. Note their answer on its quote first.", r.Tag)
}

// tagged is a name for the tag in words.
func (r Repair) tagged() string { return fmt.Sprintf("Repair %s", r.Tag) }
