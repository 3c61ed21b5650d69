package db

import (
	"cmp"
	"context"
	"slices"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/money"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// rowTables join items with what the shelf says of them. $1 is the moment that what is held has to outlast.
const (
	rowColumns   = itemColumns + ", " + shelfColumns
	shelfColumns = "b.currency, b.on_hand, b.offcuts, b.reserved, b.value, b.offcut_value, coalesce(w.wanted, 0), coalesce(c.coming, 0), coalesce(cut.pieces, 0)"
	rowTables    = ` FROM item JOIN (SELECT item AS of, currency, on_hand, offcuts, reserved, value, offcut_value FROM balance) b ON b.of = item.code
		LEFT JOIN (SELECT item AS of, sum(needed - reserved) AS wanted, min(due) AS due FROM promise
			WHERE reserved < needed AND (firm OR until >= $1) GROUP BY item) w ON w.of = item.code
		LEFT JOIN (SELECT o.item AS of, sum((l.packs - l.came) * o.pack) AS coming FROM purchase p JOIN purchase_line l ON l.purchase = p.id
			JOIN offer o ON o.id = l.offer WHERE p.closed IS NULL GROUP BY o.item) c ON c.of = item.code
		LEFT JOIN (SELECT item AS of, count(*)::int AS pieces FROM lot WHERE left_over > 0 AND shape IS NOT NULL GROUP BY item) cut ON cut.of = item.code `
)

// planned has PostgreSQL plan a list for what is asked. A plan for whatever may be asked takes one item for all and
// joins thousands one by one: twenty times as long.
const planned = pgx.QueryExecModeCacheDescribe

// longer is a row that has more columns than the scan knows: the rest go to more.
type longer struct {
	pgx.CollectableRow
	more []any
}

func (r longer) Scan(to ...any) error { return r.CollectableRow.Scan(append(to, r.more...)...) }

// shelfFields are where a row's shelfColumns go; settled puts what was read into the row.
func shelfFields(r *stock.Row, b *balanceRow) []any {
	return []any{&b.currency, &b.OnHand, &b.Offcuts, &b.Reserved, &b.value, &b.cutValue, &r.Wanted, &r.Coming, &r.Pieces}
}

func settled(r *stock.Row, b *balanceRow) {
	b.Item, b.Unit = r.Item.Code, r.Item.Unit
	r.Balance = b.settle()
}

func scanRow(row pgx.CollectableRow) (r stock.Row, err error) {
	var b balanceRow
	if r.Item, err = scanItem(longer{row, shelfFields(&r, &b)}); err == nil {
		settled(&r, &b)
	}
	return r, err
}

func (t salesTx) Rows(ctx context.Context, f stock.Found) ([]stock.Row, error) {
	limit := f.Most
	if limit <= 0 {
		limit = most
	}
	rows, _ := t.Query(ctx, "SELECT "+rowColumns+rowTables+`WHERE ($2 = '' OR code = $2) AND (code ILIKE $3 OR name ILIKE $3) AND ($4 OR NOT retired OR b.on_hand > 0)
		ORDER BY place, code LIMIT $5 OFFSET $6`, planned, f.At, f.Item, "%"+likeEscape(f.Words)+"%", f.Retired, limit, f.Skip)
	return pgx.CollectRows(rows, scanRow)
}

func (t salesTx) Wants(ctx context.Context, now, since time.Time) ([]stock.Want, error) {
	r, err := t.db.stocked.read(ctx, t, stock.Day(now)) // with thousands of items, decoding them takes longer than finding them
	if err != nil {
		return nil, err
	}
	// The longest lead time of all makes the list, each supplier's own what is bought.
	rows, _ := t.Query(ctx, "SELECT code, w.due, coalesce(u.used, 0), "+shelfColumns+rowTables+`
		LEFT JOIN (SELECT item AS of, -sum(quantity) AS used FROM movement WHERE kind = 'issue' AND at >= $2 GROUP BY item) u ON u.of = item.code
		WHERE b.on_hand - b.reserved + coalesce(c.coming, 0) - coalesce(w.wanted, 0)
			< CASE WHEN retired THEN 0 ELSE least + coalesce(u.used, 0) * (SELECT coalesce(max(lead_days), 0) FROM supplier) / GREATEST(1, extract(day FROM $1 - $2)) END
		ORDER BY w.due, place, code LIMIT 1000`, planned, now, since) // what orders wait for before all else
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (w stock.Want, err error) {
		var code string
		var due *time.Time
		var b balanceRow
		if err := row.Scan(append([]any{&code, &due, &w.Used}, shelfFields(&w.Row, &b)...)...); err != nil {
			return w, err
		}
		w.Due, w.Item = day(due), r.items[code]
		settled(&w.Row, &b)
		return w, nil
	})
	list = slices.DeleteFunc(list, func(w stock.Want) bool { return w.Item.Code == "" }) // came this moment: the next list has it
	slices.SortStableFunc(list, func(a, b stock.Want) int {
		return cmp.Or(cmp.Compare(a.Item.Place, b.Item.Place), cmp.Compare(a.Item.Code, b.Item.Code))
	})
	return list, err
}

func (t salesTx) Movements(ctx context.Context, item string, before int64, limit int) ([]stock.Movement, error) {
	rows, _ := t.Query(ctx, "SELECT "+movementColumns+" FROM movement m WHERE m.item = $1 AND ($2 = 0 OR m.id < $2) ORDER BY m.id DESC LIMIT $3", item, before, limit)
	return pgx.CollectRows(rows, scanMovement)
}

// minded reads lots with their items; where says which.
func (t salesTx) minded(ctx context.Context, where string, args ...any) ([]stock.Mind, error) {
	rows, _ := t.Query(ctx, "SELECT "+lotColumns+" FROM lot l JOIN balance b ON b.item = l.item JOIN item i ON i.code = l.item WHERE l.left_over > 0 AND "+where+" ORDER BY l.item, l.received, l.id LIMIT 500", args...)
	lots, err := pgx.CollectRows(rows, scanLot)
	if err != nil {
		return nil, err
	}
	rows, _ = t.Query(ctx, "SELECT "+itemColumns+" FROM item WHERE code = ANY($1)", codesOf(lots))
	items, err := pgx.CollectRows(rows, scanItem)
	if err != nil {
		return nil, err
	}
	byCode := map[string]stock.Item{}
	for _, i := range items {
		byCode[i.Code] = i
	}
	list := make([]stock.Mind, len(lots))
	for i, l := range lots {
		list[i] = stock.Mind{Item: byCode[l.Item], Lot: l}
	}
	return list, nil
}

func codesOf(lots []stock.Lot) []string {
	codes := make([]string, len(lots))
	for i, l := range lots {
		codes[i] = l.Item
	}
	return codes
}

func (t salesTx) Minded(ctx context.Context, until, scrap time.Time) ([]stock.Mind, error) {
	return t.minded(ctx, `(l.shape IS NULL AND (l.best_before <= $1 OR l.opened + nullif(i.opened_days, 0) <= $1
		OR l.best_before IS NULL AND l.received::date + nullif(i.sealed_days, 0) <= $1) OR l.shape IS NOT NULL AND l.received < $2)`, date(until), scrap)
}

func (t salesTx) OffcutsKept(ctx context.Context) ([]stock.Mind, error) {
	return t.minded(ctx, "l.shape IS NOT NULL")
}

func (t salesTx) Taken(ctx context.Context, order, item string) (decimal.Decimal, money.Amount, error) {
	var quantity, cost decimal.Decimal
	var currency money.Currency
	k, err := key(order)
	if err != nil {
		return quantity, money.Amount{}, err
	}
	err = t.QueryRow(ctx, `SELECT -coalesce(sum(m.quantity), 0), -coalesce(sum(m.cost), 0), b.currency
		FROM balance b LEFT JOIN movement m ON m.item = b.item AND m.order_id = $1 WHERE b.item = $2 GROUP BY b.currency`, k, item).Scan(&quantity, &cost, &currency)
	return quantity, amountOf(cost, currency), missing(err, "item")
}

func (t salesTx) Used(ctx context.Context, item string, since time.Time) (decimal.Decimal, error) {
	var used decimal.Decimal
	err := t.QueryRow(ctx, "SELECT -coalesce(sum(quantity), 0) FROM movement WHERE item = $1 AND kind = 'issue' AND at >= $2", item, since).Scan(&used)
	return used, err
}

func (t salesTx) UnitPrice(ctx context.Context, item string, day time.Time) (decimal.Decimal, error) {
	var price decimal.Decimal
	err := t.QueryRow(ctx, `SELECT coalesce((SELECT p.amount / o.pack FROM offer o, LATERAL (SELECT amount FROM offer_price
			WHERE offer = o.id AND valid_from <= $2 ORDER BY valid_from DESC, id DESC LIMIT 1) p
		WHERE o.item = $1 AND NOT o.retired ORDER BY o.usual DESC, p.amount / o.pack LIMIT 1), 0)`, item, date(day)).Scan(&price)
	return price, err
}
