package db

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

// Stock is the store of the shelf. An act locks an order or quote first, then balances in the order of their
// codes, and the number of its document last.
func (d *DB) Stock() stock.Store { return salesStore{d} }

func (s salesStore) ActOnStock(ctx context.Context, act func(stock.Tx) error) error {
	return s.DB.Act(ctx, func(tx pgx.Tx) error { return act(salesTx{tx, s.DB}) })
}

func (t salesTx) Terms(ctx context.Context) (stock.Terms, error) {
	w, err := t.settings(ctx)
	return stock.Terms{
		Currency: w.Figures.Rates.Currency, Costing: w.Costing, OffcutShare: w.Figures.Rates.OffcutShare, ScrapDays: w.ScrapDays,
	}, err
}

const balanceColumns = "b.item, b.unit, b.currency, b.on_hand, b.offcuts, b.reserved, b.value, b.offcut_value"

// balanceFields are where a row's balanceColumns go; settle makes money of what was read.
type balanceRow struct {
	stock.Balance
	currency        money.Currency
	value, cutValue decimal.Decimal
}

func (r *balanceRow) fields() []any {
	return []any{&r.Item, &r.Unit, &r.currency, &r.OnHand, &r.Offcuts, &r.Reserved, &r.value, &r.cutValue}
}

func (r *balanceRow) settle() stock.Balance {
	r.Value, r.OffcutValue = amountOf(r.value, r.currency), amountOf(r.cutValue, r.currency)
	return r.Balance
}

func (t salesTx) LockBalances(ctx context.Context, items []string) (map[string]stock.Balance, error) {
	rows, _ := t.Query(ctx, "SELECT "+balanceColumns+" FROM balance b WHERE b.item = ANY($1) ORDER BY b.item FOR NO KEY UPDATE", items)
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (stock.Balance, error) {
		var r balanceRow
		err := row.Scan(r.fields()...)
		return r.settle(), err
	})
	if err != nil {
		return nil, err
	}
	found := make(map[string]stock.Balance, len(list))
	for _, b := range list {
		found[b.Item] = b
	}
	for _, item := range items {
		if _, ok := found[item]; !ok {
			return nil, fault.New(fault.NotFound, "The catalogue has no item %q.", fault.Shorten(item))
		}
	}
	return found, nil
}

func (t salesTx) Lots(ctx context.Context, items []string) ([]stock.Lot, error) {
	rows, _ := t.Query(ctx, "SELECT "+lotColumns+" FROM lot l JOIN balance b ON b.item = l.item WHERE l.item = ANY($1) AND l.left_over > 0 ORDER BY l.item, l.received, l.id", items)
	return pgx.CollectRows(rows, scanLot)
}

const lotColumns = "l.id::text, l.item, l.received, coalesce(l.supplier::text, ''), l.label, l.opened, l.best_before, l.shape, l.left_over, l.value, b.currency"

func scanLot(row pgx.CollectableRow) (l stock.Lot, err error) {
	var value decimal.Decimal
	var currency money.Currency
	var opened, best *time.Time
	err = row.Scan(&l.ID, &l.Item, &l.Received, &l.Supplier, &l.Label, &opened, &best, &l.Shape, &l.Left, &value, &currency)
	l.Opened, l.BestBefore, l.Value = day(opened), day(best), amountOf(value, currency)
	return l, err
}

func (t salesTx) AddLots(ctx context.Context, lots []stock.Lot) error {
	b := &pgx.Batch{}
	for _, l := range lots {
		supplier, err := optional(l.Supplier)
		if err != nil {
			return err
		}
		b.Queue(`INSERT INTO lot (id, item, received, supplier, label, opened, best_before, shape) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
			l.ID, l.Item, l.Received, supplier, l.Label, date(l.Opened), date(l.BestBefore), l.Shape)
	}
	return t.SendBatch(ctx, b).Close()
}

func (t salesTx) MarkLot(ctx context.Context, l stock.Lot) error {
	k, err := key(l.ID)
	if err != nil {
		return err
	}
	tag, err := t.Exec(ctx, "UPDATE lot SET label = $2, opened = $3, best_before = $4 WHERE id = $1", k, l.Label, date(l.Opened), date(l.BestBefore))
	if err == nil && tag.RowsAffected() == 0 {
		err = pgx.ErrNoRows
	}
	return missing(err, "lot")
}

func (t salesTx) Move(ctx context.Context, moves []stock.Movement) error {
	b := &pgx.Batch{}
	for _, m := range moves {
		b.Queue(`INSERT INTO movement (at, item, unit, currency, lot, kind, quantity, cost, lot_cost, order_id, note, by_whom)
			SELECT $1, b.item, b.unit, $3, $4, $5, $6, $7, $8, $9, $10, $11 FROM balance b WHERE b.item = $2`,
			m.At, m.Item, m.Cost.Currency(), nullKey(m.Lot), m.Kind, m.Quantity, m.Cost.Decimal(), m.LotCost.Decimal(), nullKey(m.Order), m.Note, m.By)
	}
	return t.SendBatch(ctx, b).Close()
}

// promiseColumns are what scanPromise reads, and where from.
const promiseColumns = "p.order_id::text, p.item, concat(o.no, ' of ', o.year, ', ', o.title), p.needed, p.reserved, p.firm, p.until, p.due, p.asked FROM promise p JOIN sales_order o ON o.id = p.order_id"

func scanPromise(row pgx.CollectableRow) (p stock.Promise, err error) {
	err = row.Scan(&p.Order, &p.Item, &p.Label, &p.Needed, &p.Reserved, &p.Firm, (*zeronull.Timestamptz)(&p.Until), &p.Due, &p.Asked)
	return p, err
}

func (t salesTx) Promises(ctx context.Context, items []string) ([]stock.Promise, error) {
	rows, _ := t.Query(ctx, "SELECT "+promiseColumns+" WHERE p.item = ANY($1) AND p.needed > 0 ORDER BY p.item, p.firm DESC, p.asked, p.order_id", items)
	return pgx.CollectRows(rows, scanPromise)
}

func (t salesTx) PromisesOf(ctx context.Context, order string) ([]stock.Promise, error) {
	rows, _ := t.Query(ctx, "SELECT "+promiseColumns+" WHERE p.order_id = $1 AND p.needed > 0 ORDER BY p.item", nullKey(order))
	return pgx.CollectRows(rows, scanPromise)
}

func (t salesTx) KeepPromises(ctx context.Context, promises []stock.Promise) error {
	b := &pgx.Batch{}
	for _, p := range promises {
		b.Queue(`INSERT INTO promise (order_id, item, needed, reserved, firm, until, due, asked) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
			ON CONFLICT (order_id, item) DO UPDATE SET needed = excluded.needed, reserved = excluded.reserved, firm = excluded.firm, until = excluded.until, due = excluded.due`,
			p.Order, p.Item, p.Needed, p.Reserved, p.Firm, zeronull.Timestamptz(p.Until), p.Due, p.Asked)
	}
	return t.SendBatch(ctx, b).Close()
}

func (t salesTx) Lapsed(ctx context.Context, now time.Time) ([]string, error) {
	rows, _ := t.Query(ctx, "SELECT DISTINCT item FROM promise WHERE NOT firm AND reserved > 0 AND until < $1", now)
	return pgx.CollectRows(rows, pgx.RowTo[string])
}
