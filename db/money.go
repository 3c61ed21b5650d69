package db

import (
	"context"
	"time"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

// AddInvoice writes an invoice for good.
func (t salesTx) AddInvoice(ctx context.Context, i sales.Invoice) error {
	_, err := t.Exec(ctx, `INSERT INTO invoice (id, token, kind, series, year, no, order_id, customer_id, buyer, title, issued, day, due, currency, net, tax, gross,
		credits, reference, document, xml, body) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22)`,
		i.ID, i.Token, i.Kind, i.Number.Series, i.Number.Year, i.Number.No, i.OrderID, i.CustomerID, i.Buyer.Name, i.Title, i.Issued, date(i.Issued), date(i.Due),
		i.Totals.Gross.Currency(), i.Totals.Net.Decimal(), i.Totals.Tax.Decimal(), i.Totals.Gross.Decimal(), zeronull.Text(i.Credits.ID),
		i.Reference, hash(i.Document), hash(i.XML), i)
	return err
}

const invoiceBody = "SELECT i.body FROM invoice i "

func scanInvoice(row pgx.CollectableRow) (i sales.Invoice, err error) { return i, row.Scan(&i) }

func (t salesTx) Invoice(ctx context.Context, id string) (sales.Invoice, error) {
	return oneOf(ctx, t, "invoice", scanInvoice, invoiceBody+"WHERE i.id = $1", id)
}

func (t salesTx) InvoiceBy(ctx context.Context, token string) (sales.Invoice, error) {
	return one(ctx, t, "invoice", scanInvoice, invoiceBody+"WHERE i.token = $1", token)
}

func (t salesTx) InvoicesOf(ctx context.Context, orders ...string) ([]sales.Invoice, error) {
	keys, err := keysOf(orders)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, invoiceBody+"WHERE i.order_id = ANY ($1) ORDER BY i.issued, i.id", keys)
	return pgx.CollectRows(rows, scanInvoice)
}

// span are days as bounds that are always there.
func span(f sales.MoneyFound) (from, to time.Time) {
	from, to = f.From, f.To
	if f.From.IsZero() {
		from = time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	if f.To.IsZero() {
		to = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC)
	}
	return from, to
}

// atMost is a limit; null is none.
func atMost(n int) *int {
	if n <= 0 {
		return nil
	}
	return &n
}

func (t salesTx) Invoices(ctx context.Context, f sales.MoneyFound) ([]sales.Invoice, error) {
	from, to := span(f)
	rows, _ := t.Query(ctx, invoiceBody+`WHERE (i.buyer ILIKE $1 OR i.title ILIKE $1 OR concat(i.series, ' ', i.no, ' of ', i.year) ILIKE $1 OR i.reference ILIKE replace($1, ' ', ''))
		AND ($2 = '' OR i.order_id::text = $2) AND ($3 = '' OR i.customer_id::text = $3)
		AND i.day BETWEEN $4 AND $5
		ORDER BY i.issued DESC, i.id DESC LIMIT $6`,
		"%"+likeEscape(f.Words)+"%", f.Order, f.Customer, from, to, atMost(f.Most))
	return pgx.CollectRows(rows, scanInvoice)
}

// AddPayment writes a payment for good.
func (t salesTx) AddPayment(ctx context.Context, p sales.Payment) error {
	_, err := t.Exec(ctx, `INSERT INTO payment (id, token, order_id, day, amount, currency, way, note, by_whom, at, takes_back)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
		p.ID, p.Token, p.OrderID, date(p.Day), p.Amount.Decimal(), p.Amount.Currency(), p.Way, p.Note, p.By, p.At, zeronull.Text(p.TakesBack))
	return err
}

const paymentColumns = `SELECT p.id::text, p.token, p.order_id::text, p.day, p.amount, p.currency, p.way, p.note, p.by_whom, p.at, coalesce(p.takes_back::text, ''),
	o.series, o.year, o.no, c.name FROM payment p JOIN sales_order o ON o.id = p.order_id JOIN customer c ON c.id = o.customer_id `

func scanPayment(row pgx.CollectableRow) (p sales.Payment, err error) {
	var amount decimal.Decimal
	var currency money.Currency
	err = row.Scan(&p.ID, &p.Token, &p.OrderID, &p.Day, &amount, &currency, &p.Way, &p.Note, &p.By, &p.At, &p.TakesBack,
		&p.Order.Series, &p.Order.Year, &p.Order.No, &p.Customer)
	p.Amount = amountOf(amount, currency)
	return p, err
}

func (t salesTx) PaymentBy(ctx context.Context, token string) (sales.Payment, error) {
	return one(ctx, t, "payment", scanPayment, paymentColumns+"WHERE p.token = $1", token)
}

func (t salesTx) PaymentsOf(ctx context.Context, orders ...string) ([]sales.Payment, error) {
	keys, err := keysOf(orders)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, paymentColumns+"WHERE p.order_id = ANY ($1) ORDER BY p.at, p.id", keys)
	return pgx.CollectRows(rows, scanPayment)
}

func (t salesTx) Payments(ctx context.Context, f sales.MoneyFound) ([]sales.Payment, error) {
	from, to := span(f)
	rows, _ := t.Query(ctx, paymentColumns+`WHERE (c.name ILIKE $1 OR p.note ILIKE $1 OR o.title ILIKE $1 OR concat(o.series, ' ', o.no, ' of ', o.year) ILIKE $1)
		AND ($2 = '' OR p.order_id::text = $2) AND ($3 = '' OR o.customer_id::text = $3) AND p.day BETWEEN $4 AND $5
		ORDER BY p.day DESC, p.at DESC, p.id DESC LIMIT $6`,
		"%"+likeEscape(f.Words)+"%", f.Order, f.Customer, from, to, atMost(f.Most))
	return pgx.CollectRows(rows, scanPayment)
}

func (t salesTx) Unsettled(ctx context.Context) ([]string, error) {
	rows, _ := t.Query(ctx, `SELECT order_id::text FROM (
			SELECT order_id, CASE kind WHEN 'credit' THEN -gross ELSE gross END AS owed FROM invoice
			UNION ALL SELECT order_id, -amount FROM payment) m
		GROUP BY order_id HAVING sum(owed) <> 0 ORDER BY order_id`)
	return pgx.CollectRows(rows, pgx.RowTo[string])
}

func (t salesTx) MadeUninvoiced(ctx context.Context) ([]string, error) {
	rows, _ := t.Query(ctx, `SELECT o.id::text FROM sales_order o WHERE o.state = 'done'
			AND NOT EXISTS (SELECT FROM invoice i WHERE i.order_id = o.id AND i.kind IN ('balance', 'sale'))
		ORDER BY o.ended DESC LIMIT 30`)
	return pgx.CollectRows(rows, pgx.RowTo[string])
}
