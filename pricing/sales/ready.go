package sales

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/money"
)

// Ready is a finished shield that lies ready to be sold. It leaves once, sold or not.
type Ready struct {
	ID       string
	DesignID string
	Design   string       // name
	Cost     money.Amount // net, what it took to make
	Place    string
	Note     string
	MadeBy   string // ID of the order it was made in; empty for one made for stock
	Made     Number
	Added    time.Time
	By       string
	SoldAs   string // ID of the order it was sold as
	Sold     Number
	Token    string // of the form it was sold with
	Gone     time.Time
	Reason   string // it left unsold for
}

// ReadyShields are those that lie ready; or those that left, the newest first.
func (s *Service) ReadyShields(ctx context.Context, gone bool) ([]Ready, error) {
	return read(ctx, s, func(tx Tx) ([]Ready, error) { return tx.Ready(ctx, gone) })
}

// mostAtOnce is how many finished shields are put down in one act.
const mostAtOnce = 50

// AddReady puts finished shields of a design down, so many alike. cost is that of one; nil for what the design would
// cost today.
func (s *Service) AddReady(ctx context.Context, r Ready, count int, cost *decimal.Decimal, by string) error {
	d, err := s.Design(ctx, r.DesignID)
	if fault.KindOf(err) == fault.NotFound {
		return problem("design", r.DesignID, "Choose which design it is.")
	}
	if err != nil {
		return err
	}
	if cost == nil {
		one := d.Form
		one.Quantity, one.Delivery.By = orderform.T("1"), orderform.Text{}
		e, err := s.Estimate(ctx, "", one)
		if err != nil {
			return problem("cost", "", "The design cannot be priced as it is written. Write what one took to make.")
		}
		c := e.Price.Cost.Decimal()
		cost = &c
	}
	return s.store.Act(ctx, func(tx Tx) error {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return err
		}
		var l fault.List
		if r.Cost, err = money.New(*cost, w.Figures.Rates.Currency); err != nil {
			_ = l.Take("cost", err) // always a fault
		}
		if cost.IsNegative() || cost.GreaterThan(decimal.NewFromInt(mostPaid)) {
			l.Add("cost", cost.String(), fmt.Sprintf("Write what one took to make, from 0 to %d.", mostPaid))
		}
		if count < 1 || count > mostAtOnce {
			l.Add("count", fmt.Sprint(count), fmt.Sprintf("Write how many, from 1 to %d.", mostAtOnce))
		}
		r.lies(&l)
		if r.MadeBy != "" {
			if _, err := tx.Order(ctx, r.MadeBy); fault.KindOf(err) == fault.NotFound {
				l.Add("order", r.MadeBy, "There is no such order. Choose one of the list, or none.")
			} else if err != nil {
				return err
			}
		}
		if err := l.Err(); err != nil {
			return err
		}
		r.Added, r.By = s.now(), by
		for range count {
			r.ID = newID()
			if err := tx.AddReady(ctx, r); err != nil {
				return err
			}
		}
		return nil
	})
}

func (r *Ready) lies(l *fault.List) {
	r.Place, r.Note = strings.TrimSpace(r.Place), strings.TrimSpace(r.Note)
	oneLine(l, "place", r.Place)
	long(l, "place", r.Place, 120)
	long(l, "note", r.Note, 400)
}

// MoveReady says where a finished shield lies now.
func (s *Service) MoveReady(ctx context.Context, id, place, note string) error {
	return s.readyAct(ctx, id, func(r *Ready) error {
		var l fault.List
		r.Place, r.Note = place, note
		r.lies(&l)
		return l.Err()
	})
}

// DropReady notes that a finished shield left without being sold, and why.
func (s *Service) DropReady(ctx context.Context, id, reason string) error {
	return s.readyAct(ctx, id, func(r *Ready) error {
		if reason = strings.TrimSpace(reason); reason == "" || len([]rune(reason)) > 400 {
			return problem("reason", reason, "Say in a few words what became of it.")
		}
		r.Gone, r.Reason = s.now(), reason
		return nil
	})
}

func (s *Service) readyAct(ctx context.Context, id string, act func(*Ready) error) error {
	return s.store.Act(ctx, func(tx Tx) error {
		r, err := tx.LockReady(ctx, id)
		if err != nil {
			return err
		}
		if err := r.here(); err != nil {
			return err
		}
		if err := act(&r); err != nil {
			return err
		}
		return tx.SaveReady(ctx, r)
	})
}

// here refuses what is not there any more.
func (r Ready) here() error {
	switch {
	case r.SoldAs != "":
		return fault.New(fault.State, "This %s was sold already, as order %s on %s.", r.Design, r.Sold, r.Gone.Format("2 January at 15:04"))
	case !r.Gone.IsZero():
		return fault.New(fault.State, "This %s left on %s: %s", r.Design, r.Gone.Format("2 January"), r.Reason)
	}
	return nil
}
