package db

import (
	"context"

	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

const (
	orderColumns = `o.id::text, o.series, o.year, o.no, o.quote_id::text, q.series, q.year, q.no, q.version, o.customer_id::text, c.name, o.title, o.state,
		o.accepted, o.deposit_due, o.paid, o.starts, o.ended, o.reason, o.edit, o.terms, o.currency, o.deposit, o.agreed`
	orderTables = " FROM sales_order o JOIN quote q ON q.id = o.quote_id JOIN customer c ON c.id = o.customer_id "
)

func scanOrder(row pgx.CollectableRow) (o sales.Order, err error) {
	var currency money.Currency
	var deposit decimal.Decimal
	err = row.Scan(&o.ID, &o.Number.Series, &o.Number.Year, &o.Number.No, &o.QuoteID, &o.Quote.Series, &o.Quote.Year, &o.Quote.No, &o.Version,
		&o.CustomerID, &o.Customer, &o.Title, &o.State, &o.Accepted, &o.DepositDue, (*zeronull.Timestamptz)(&o.Paid), &o.Starts,
		(*zeronull.Timestamptz)(&o.Ended), &o.Reason, &o.Edit, &o.Terms, &currency, &deposit, &o.Agreed)
	o.Deposit = amountOf(deposit, currency)
	return o, err
}

func (t salesTx) order(ctx context.Context, where, id string) (sales.Order, error) {
	o, err := oneOf(ctx, t, "order", scanOrder, "SELECT "+orderColumns+orderTables+where, id)
	if err != nil {
		return o, err
	}
	o.Lines, err = t.orderLines(ctx, o)
	return o, err
}

func (t salesTx) Order(ctx context.Context, id string) (sales.Order, error) {
	return t.order(ctx, "WHERE o.id = $1", id)
}

func (t salesTx) LockOrder(ctx context.Context, id string) (sales.Order, error) {
	return t.order(ctx, "WHERE o.id = $1 FOR NO KEY UPDATE OF o", id)
}

func (t salesTx) OrderOf(ctx context.Context, quoteID string) (sales.Order, error) {
	return t.order(ctx, "WHERE o.quote_id = $1", quoteID)
}

func (t salesTx) Orders(ctx context.Context, f sales.Found) ([]sales.Order, error) {
	pattern, limit := narrowed(f)
	rows, _ := t.Query(ctx, "SELECT "+orderColumns+orderTables+`WHERE (o.title ILIKE $1 OR c.name ILIKE $1
		OR concat(o.series, ' ', o.no, ' of ', o.year) ILIKE $1) AND ($3 = '' OR o.customer_id::text = $3)
		AND (NOT $4 OR o.state IN ('accepted', 'booked'))
		ORDER BY o.accepted DESC, o.id DESC LIMIT $2`, pattern, limit, f.Customer, f.Open)
	return pgx.CollectRows(rows, scanOrder)
}

// orderLines are what an order comes to, in the order they were agreed on.
func (t salesTx) orderLines(ctx context.Context, o sales.Order) ([]sales.OrderLine, error) {
	rows, _ := t.Query(ctx, "SELECT kind, key, label, quantity, amount FROM order_line WHERE order_id = $1 ORDER BY nth", o.ID)
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (l sales.OrderLine, err error) {
		var amount decimal.Decimal
		err = row.Scan(&l.Kind, &l.Key, &l.Text, &l.Quantity, &amount)
		l.Amount = amountOf(amount, o.Deposit.Currency())
		return l, err
	})
}

func (t salesTx) AddOrder(ctx context.Context, o sales.Order) error {
	_, err := t.Exec(ctx, `INSERT INTO sales_order (id, series, year, no, quote_id, customer_id, title, state, accepted, deposit_due, paid, starts, ended, reason, edit,
		terms, currency, deposit, agreed) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19)`,
		o.ID, o.Number.Series, o.Number.Year, o.Number.No, o.QuoteID, o.CustomerID, o.Title, o.State, o.Accepted, date(o.DepositDue),
		zeronull.Timestamptz(o.Paid), date(o.Starts), zeronull.Timestamptz(o.Ended), o.Reason, o.Edit,
		o.Terms, o.Deposit.Currency(), o.Deposit.Decimal(), o.Agreed)
	if err != nil {
		return err
	}
	if err := t.AddLines(ctx, o.ID, 0, o.Lines); err != nil {
		return err
	}
	return t.keepOrderFigures(ctx, o)
}

func (t salesTx) AddLines(ctx context.Context, order string, from int, lines []sales.OrderLine) error {
	for i, l := range lines {
		if _, err := t.Exec(ctx, "INSERT INTO order_line (order_id, nth, kind, key, label, quantity, amount) VALUES ($1, $2, $3, $4, $5, $6, $7)",
			order, from+i, l.Kind, l.Key, l.Text, l.Quantity, l.Amount.Decimal()); err != nil {
			return err
		}
	}
	return nil
}

func (t salesTx) SaveOrder(ctx context.Context, o sales.Order) error {
	_, err := t.Exec(ctx, `UPDATE sales_order SET state = $2, paid = $3, starts = $4, ended = $5, reason = $6, edit = $7, deposit = $8, agreed = $9 WHERE id = $1`,
		o.ID, o.State, zeronull.Timestamptz(o.Paid), date(o.Starts), zeronull.Timestamptz(o.Ended), o.Reason, o.Edit, o.Deposit.Decimal(), o.Agreed)
	if err != nil {
		return err
	}
	return t.keepOrderFigures(ctx, o)
}

const movementColumns = "m.id, m.at, m.item, coalesce(m.lot::text, ''), m.kind, m.quantity, m.cost, m.lot_cost, m.currency, coalesce(m.order_id::text, ''), coalesce((SELECT concat(o.no, ' of ', o.year, ', ', o.title) FROM sales_order o WHERE o.id = m.order_id), ''), m.note, m.by_whom"

func scanMovement(row pgx.CollectableRow) (m stock.Movement, err error) {
	var cost, lotCost decimal.Decimal
	var currency money.Currency
	err = row.Scan(&m.ID, &m.At, &m.Item, &m.Lot, &m.Kind, &m.Quantity, &cost, &lotCost, &currency, &m.Order, &m.Label, &m.Note, &m.By)
	m.Cost, m.LotCost = amountOf(cost, currency), amountOf(lotCost, currency)
	return m, err
}

func (t salesTx) MovementsOf(ctx context.Context, order string) ([]stock.Movement, error) {
	rows, _ := t.Query(ctx, "SELECT "+movementColumns+" FROM movement m WHERE m.order_id = $1 ORDER BY m.id", nullKey(order))
	return pgx.CollectRows(rows, scanMovement)
}
