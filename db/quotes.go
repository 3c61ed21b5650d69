package db

import (
	"context"
	"strings"
	"time"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

// likeEscape makes words stand for themselves in a LIKE pattern.
func likeEscape(words string) string {
	return strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`).Replace(strings.TrimSpace(words))
}

// quoteColumns are what scanQuote reads; a list leaves the spec out.
const (
	quoteColumns = `q.id::text, q.series, q.year, q.no, q.version, q.state, q.customer_id::text, c.name, q.title, q.edit,
		q.created, q.changed, q.issued_at, q.issued_by, q.valid_until, q.currency, q.net, q.gross, q.snapshot, q.document, coalesce(q.printed, 'null'), q.options, coalesce(q.design_id::text, ''), coalesce(q.design_version, 0)`
	quoteTables = " FROM quote q JOIN customer c ON c.id = q.customer_id "
	wholeQuote  = "SELECT " + quoteColumns + ", q.form" + quoteTables
)

func scanQuote(row pgx.CollectableRow) (q sales.Quote, err error) {
	var currency money.Currency
	var net, gross decimal.NullDecimal
	err = row.Scan(&q.ID, &q.Number.Series, &q.Number.Year, &q.Number.No, &q.Version, &q.State, &q.CustomerID, &q.Customer,
		&q.Title, &q.Edit, &q.Created, &q.Changed, (*zeronull.Timestamptz)(&q.IssuedAt), (*zeronull.Text)(&q.IssuedBy),
		(*zeronull.Timestamptz)(&q.ValidUntil), (*zeronull.Text)(&currency), &net, &gross, (*hash)(&q.Snapshot), (*hash)(&q.Document), &q.Printed, &q.Options, &q.Design.ID, &q.Design.Version, &q.Form)
	q.Net, q.Gross = amountOf(net.Decimal, currency), amountOf(gross.Decimal, currency)
	return q, err
}

func (t salesTx) Quote(ctx context.Context, id string) (sales.Quote, error) {
	return oneOf(ctx, t, "quote", scanQuote, wholeQuote+"WHERE q.id = $1", id)
}

func (t salesTx) LockQuote(ctx context.Context, id string) (sales.Quote, error) {
	return oneOf(ctx, t, "quote", scanQuote, wholeQuote+"WHERE q.id = $1 FOR UPDATE OF q", id)
}

func (t salesTx) Quotes(ctx context.Context, f sales.Found) ([]sales.Quote, error) {
	pattern, limit := narrowed(f)
	rows, _ := t.Query(ctx, "SELECT "+quoteColumns+", 'null'::json"+quoteTables+`WHERE (q.title ILIKE $1 OR c.name ILIKE $1
		OR q.no > 0 AND concat(q.series, ' ', q.no, ' of ', q.year) ILIKE $1) AND ($3 = '' OR q.customer_id::text = $3)
		AND ($4 = '' OR $4 = CASE WHEN q.state <> 'issued' THEN q.state WHEN q.valid_until >= $5 THEN 'open' ELSE 'expired' END)
		ORDER BY q.changed DESC, q.id DESC LIMIT $2`, pattern, limit, f.Customer, string(f.Standing), f.Today)
	return pgx.CollectRows(rows, scanQuote)
}

func (t salesTx) Versions(ctx context.Context, n sales.Number) ([]sales.Quote, error) {
	rows, _ := t.Query(ctx, wholeQuote+"WHERE q.series = $1 AND q.year = $2 AND q.no = $3 AND q.no > 0 ORDER BY q.version FOR UPDATE OF q", n.Series, n.Year, n.No)
	return pgx.CollectRows(rows, scanQuote)
}

// quoteValues are a quote's columns but its id, in the order that AddQuote and SaveQuote write them.
func quoteValues(q sales.Quote) ([]any, error) {
	customer, err := key(q.CustomerID)
	if err != nil {
		return nil, err
	}
	if q.Options == nil {
		q.Options = []sales.Option{}
	}
	var net, gross decimal.NullDecimal
	var printed *sales.Printed
	if q.State != sales.Draft {
		printed = &q.Printed
		net, gross = decimal.NewNullDecimal(q.Net.Decimal()), decimal.NewNullDecimal(q.Gross.Decimal())
	}
	return []any{
		q.Number.Series, q.Number.Year, q.Number.No, q.Version, q.State, customer, q.Title, q.Form, q.Edit, q.Created, q.Changed,
		zeronull.Timestamptz(q.IssuedAt), zeronull.Text(q.IssuedBy), zeronull.Timestamptz(q.ValidUntil),
		zeronull.Text(q.Gross.Currency()), net, gross, hash(q.Snapshot), hash(q.Document), printed, q.Options, zeronull.Text(q.Design.ID), zeronull.Int4(q.Design.Version),
	}, nil
}

func (t salesTx) AddQuote(ctx context.Context, q sales.Quote) error {
	return t.writeQuote(ctx, q, `INSERT INTO quote (id, series, year, no, version, state, customer_id, title, form, edit, created, changed,
		issued_at, issued_by, valid_until, currency, net, gross, snapshot, document, printed, options, design_id, design_version)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23::uuid, $24)`)
}

func (t salesTx) SaveQuote(ctx context.Context, q sales.Quote) error {
	return t.writeQuote(ctx, q, `UPDATE quote SET (series, year, no, version, state, customer_id, title, form, edit, created, changed,
		issued_at, issued_by, valid_until, currency, net, gross, snapshot, document, printed, options, design_id, design_version)
		= ($2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23::uuid, $24) WHERE id = $1`)
}

func (t salesTx) writeQuote(ctx context.Context, q sales.Quote, statement string) error {
	k, err := key(q.ID)
	if err != nil {
		return err
	}
	values, err := quoteValues(q)
	if err != nil {
		return err
	}
	if _, err = t.Exec(ctx, statement, append([]any{k}, values...)...); err != nil || q.State == sales.Draft {
		return err
	}
	return t.keepQuoteFigures(ctx, k, q)
}

func (t salesTx) DropQuote(ctx context.Context, id string) error {
	k, err := key(id)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "DELETE FROM quote WHERE id = $1", k)
	return translateDelete(err)
}

func (t salesTx) OpenQuotes(ctx context.Context, today time.Time) ([]sales.Quote, error) {
	columns := strings.Replace(quoteColumns, "coalesce(q.printed, 'null')", "'null'::json", 1)
	rows, _ := t.Query(ctx, "SELECT "+columns+", q.form"+quoteTables+`WHERE q.state = 'draft' OR q.state = 'issued' AND q.valid_until >= $1
		ORDER BY q.changed DESC, q.id DESC`, today)
	return pgx.CollectRows(rows, scanQuote)
}
