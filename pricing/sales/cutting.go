package sales

import (
	"context"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// CuttingTx is what cutting keeps, within one transaction.
type CuttingTx interface {
	// Cuttings of an order, by item.
	Cuttings(ctx context.Context, order string) ([]stock.Cutting, error)
	AddCutting(ctx context.Context, c stock.Cutting) error
	// Snapshot is one that was kept, by its hash.
	Snapshot(ctx context.Context, hash string) ([]byte, error)
}

// Cut takes a foam of a booked order off the shelf as the plan with this digest says, and keeps the plan. The plan
// is made anew; when the shelf has changed since it was shown, nothing moves and the Conflict fault says so. Cutting
// what was cut by the same plan gives what is kept.
func (s *Service) Cut(ctx context.Context, id, foam, shown, by string) (Layout, error) {
	l, err := s.layout(ctx, id, foam)
	if err != nil {
		return Layout{}, err
	}
	i := slices.IndexFunc(l.Foams, func(l Layout) bool { return l.Foam.Code == foam })
	switch {
	case i < 0 && l.Order.Open():
		return Layout{}, fault.New(fault.NotFound, "Order %s takes no foam %q.", l.Order.Number, fault.Shorten(foam))
	case i < 0:
		return Layout{}, ended(l.Order)
	}
	one := l.Foams[i]
	if one.Done() {
		return already(one, shown)
	}
	if one.Short != nil {
		return one, one.Short
	}
	if one.Digest != shown {
		return one, fault.New(fault.Conflict, "The shelf changed since this plan of %s was made. Look at the new one, then cut.", one.Foam.Name)
	}
	if err := cutplan.Verify(one.Cutting.Job, one.Cutting.Plan); err != nil {
		return one, fmt.Errorf("cut plan of %s for order %s: %w", foam, id, err)
	}
	return read(ctx, s, func(tx Tx) (Layout, error) {
		o, err := tx.LockOrder(ctx, id)
		if err != nil {
			return one, err
		}
		cuttings, err := tx.Cuttings(ctx, id)
		if err != nil {
			return one, err
		}
		for _, c := range cuttings {
			if c.Item == foam {
				return already(Layout{Foam: one.Foam, Cutting: c, Digest: digest(c)}, shown)
			}
		}
		switch {
		case !o.Open():
			return one, ended(o)
		case o.State != Booked:
			return one, fault.New(fault.State, "The deposit of order %s has not come yet. Note it first, then cut.", o.Number)
		}
		if err := approved(ctx, tx, o); err != nil {
			return one, err
		}
		cut := one
		cut.Cutting.ID, cut.Cutting.At, cut.Cutting.By = newID(), s.now(), by
		if err := stock.Cut(ctx, tx, cut.Cutting, one.Foam.Name, o.Number.String()); err != nil {
			return one, err
		}
		return cut, tx.AddCutting(ctx, cut.Cutting)
	})
}

func already(l Layout, shown string) (Layout, error) {
	if l.Digest != shown {
		return l, fault.New(fault.Conflict, "%s was cut by another plan meanwhile, by %s at %s. Look at what was cut.", l.Foam.Name, l.Cutting.By, l.Cutting.At.Format("15:04 on 2 January 2006"))
	}
	return l, nil
}

// Left is what an order is still to take of the shelf, by the slip: nothing more of what was cut or used, for its
// promise has ended with that.
func (t Taken) Left() []Taking {
	left := slices.Clone(t.Quote.Printed.Takes)
	for i := range left {
		left[i].Quantity = decimal.Zero
		for _, p := range t.Promises {
			if p.Item == left[i].Item {
				left[i].Quantity = p.Needed
			}
		}
	}
	return left
}
