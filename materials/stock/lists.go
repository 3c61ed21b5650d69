package stock

import (
	"context"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
)

// ListsTx is what pages and lists read.
type ListsTx interface {
	// Rows are items with their balances, in the catalogue's order.
	Rows(ctx context.Context, f Found) ([]Row, error)
	// Movements of an item, newest first, older than a number; 0 for the newest.
	Movements(ctx context.Context, item string, before int64, most int) ([]Movement, error)
	// Minded are lots that are good for no longer than a day, and offcuts received before another.
	Minded(ctx context.Context, until, scrap time.Time) ([]Mind, error)
	// OffcutsKept are the offcuts on the shelf, by foam, oldest first.
	OffcutsKept(ctx context.Context) ([]Mind, error)
	// Taken is what an order took of an item less what came back, and its cost.
	Taken(ctx context.Context, order, item string) (decimal.Decimal, money.Amount, error)
	// Used is what orders took of an item since a day.
	Used(ctx context.Context, item string, since time.Time) (decimal.Decimal, error)
	// UnitPrice is what a stock unit is bought at on a day; zero where nobody sells it.
	UnitPrice(ctx context.Context, item string, day time.Time) (decimal.Decimal, error)
}

// Found is what a list is narrowed by: words in code or name; one item; how many rows at most.
type Found struct {
	Words, Item string
	Retired     bool // those no longer offered too
	Most, Skip  int
	At          time.Time // what is held up to then counts
}

// Row is an item with what the shelf says of it.
type Row struct {
	Item    Item
	Balance Balance
	Wanted  decimal.Decimal // what orders still wait for
	Coming  decimal.Decimal // ordered of suppliers and not here yet
	Pieces  int             // offcuts
}

// Low tells that an item is to be bought: less is free, with what is coming, than the least that is wanted.
func (r Row) Low() bool {
	return r.Balance.Free().Add(r.Coming).Sub(r.Wanted).LessThan(r.Item.Least)
}
