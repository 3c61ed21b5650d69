package stock

import (
	"context"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/geom"
	"foamwright/materials/measure"
	"foamwright/pricing/money"
)

// Kind is why something moved.
type Kind string

// The kinds of movement. In come receipts, returns and kept offcuts, out go issues and waste; a count goes either
// way; a revaluation moves money alone.
const (
	Receipt  Kind = "receipt"
	Issue    Kind = "issue"
	Return   Kind = "return"
	Waste    Kind = "waste"
	Counted  Kind = "count"
	Kept     Kind = "offcut"
	Revalued Kind = "revalue"
)

// Movement is one line of the ledger. Quantity and costs are negative for what goes out.
type Movement struct {
	ID       int64
	At       time.Time
	Item     string
	Lot      string // empty for a revaluation
	Kind     Kind
	Quantity decimal.Decimal
	Cost     money.Amount // as the books value it
	LotCost  money.Amount // at the lot's own cost; the two differ where the books use an average
	Order    string       // it was for; empty for none
	Label    string       // number and title of the order, for lists
	Note, By string
}

// Balance is what lies on the shelf of one item. On hand is whole stock; offcuts are counted as the share of
// whole sheets that they are.
type Balance struct {
	Item                      string
	Unit                      measure.Unit
	OnHand, Offcuts, Reserved decimal.Decimal
	Value, OffcutValue        money.Amount
}

// Free is what is on hand and promised to nobody.
func (b Balance) Free() decimal.Decimal { return b.OnHand.Sub(b.Reserved) }

// Lot is what came in together and can go out together: a tin, a delivery, an offcut (which has a shape, in mm).
type Lot struct {
	ID, Item   string
	Received   time.Time
	Supplier   string // empty where it was made here
	Label      string
	Opened     time.Time // the day it was opened; zero while it is sealed
	BestBefore time.Time // as printed on it; zero for none
	Shape      *geom.Shape
	Left       decimal.Decimal
	Value      money.Amount // of what is left, at its own cost
}

// Until is the last day a lot of an item is good for: as printed, or as long as it lasts once opened, whichever
// comes first; zero for as long as you like.
func (l Lot) Until(i Item) time.Time {
	until := l.BestBefore
	sooner := func(from time.Time, days int) {
		if end := from.AddDate(0, 0, days); days > 0 && !from.IsZero() && (until.IsZero() || end.Before(until)) {
			until = end
		}
	}
	if l.BestBefore.IsZero() {
		sooner(Day(l.Received), i.SealedDays)
	}
	sooner(l.Opened, i.OpenedDays)
	return until
}

// LedgerTx is the shelf within one transaction. A lot or item that is not there gives a NotFound fault.
type LedgerTx interface {
	// Terms are the workshop's settings that the shelf follows.
	Terms(ctx context.Context) (Terms, error)
	// LockBalances locks the balances of items in the order of their codes, whatever order is asked, so that no
	// two acts wait for each other; nobody else changes them until the end.
	LockBalances(ctx context.Context, items []string) (map[string]Balance, error)
	// Lots are what is left of some items, oldest first.
	Lots(ctx context.Context, items []string) ([]Lot, error)
	AddLots(ctx context.Context, lots []Lot) error
	// MarkLot changes the label and the days of a lot; nothing else of it can be changed.
	MarkLot(ctx context.Context, l Lot) error
	// Move adds to the ledger. Balances and lots follow.
	Move(ctx context.Context, moves []Movement) error
	// Promises of some items, first those that come first: firm before held, then as they were asked.
	Promises(ctx context.Context, items []string) ([]Promise, error)
	// PromisesOf an order, by item.
	PromisesOf(ctx context.Context, order string) ([]Promise, error)
	// KeepPromises adds or changes them, one after the other.
	KeepPromises(ctx context.Context, promises []Promise) error
	// Lapsed are the items that are held past their time at a moment.
	Lapsed(ctx context.Context, now time.Time) ([]string, error)
}

// Terms are the workshop's settings that the shelf follows.
type Terms struct {
	Currency    money.Currency
	Costing     Costing
	OffcutShare decimal.Decimal // what a kept offcut is worth of new by area, 0.50
	ScrapDays   int             // an offcut that lay so long is offered for the bin
}
