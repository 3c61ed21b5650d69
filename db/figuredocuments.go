package db

import (
	"context"
	"fmt"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// Where rows of documents come from. Names are joined from the left, so that a sum over all rows need not look them up.
const (
	orderRow = "f.order_id::text AS id, 'order' AS link, '' AS kind, o.series, o.year, o.no, o.title, c.name AS who"
	ofOrder  = " LEFT JOIN sales_order o ON o.id = f.order_id LEFT JOIN customer c ON c.id = o.customer_id "

	accepted = "SELECT f.accepted AS at, NULL::date AS day, " + orderRow + ", %s AS amount FROM order_figures f" + ofOrder + "WHERE f.currency = @currency AND f.accepted >= @from AND f.accepted < @to"
	ended    = "SELECT f.ended AS at, NULL::date AS day, " + orderRow + ", %s AS amount FROM order_figures f" + ofOrder + "WHERE f.currency = @currency AND f.ended >= @from AND f.ended < @to"

	moved = `SELECT m.at, NULL::date AS day, m.item AS id, 'item' AS link, m.kind, o.series, o.year, o.no, coalesce(i.name, m.item) AS title, coalesce(c.name, m.note) AS who, %s AS amount
		FROM movement m LEFT JOIN item i ON i.code = m.item LEFT JOIN sales_order o ON o.id = m.order_id LEFT JOIN customer c ON c.id = o.customer_id
		WHERE m.currency = @currency AND m.at >= @from AND m.at < @to AND m.flow = %d`

	invoiceRow = "i.id::text AS id, 'invoice' AS link, i.kind, i.series, i.year, i.no, i.title, i.buyer AS who"
	taxed      = "SELECT NULL::timestamptz AS at, t.day, " + invoiceRow + `, %s AS amount FROM invoice_tax t LEFT JOIN invoice i ON i.id = t.invoice_id
		WHERE t.currency = @currency AND t.day >= @first AND t.day < @after`

	benched = "SELECT f.accepted AS at, NULL::date AS day, " + orderRow + ", %s AS amount FROM (" + atBench + ") f" + ofOrder + "WHERE %s"
)

// documentsOf is the query of a kind of documents, by its key; the columns are those of accepted.
func documentsOf(key string) (string, bool) {
	sql, ok := map[string]string{
		"quoted": `SELECT q.first AS at, NULL::date AS day, q.quote_id::text AS id, 'quote' AS link, '' AS kind, q.series, q.year, q.no, d.title, c.name AS who, q.net AS amount
			FROM quoted q LEFT JOIN quote d ON d.id = q.quote_id LEFT JOIN customer c ON c.id = d.customer_id WHERE q.currency = @currency AND q.first >= @from AND q.first < @to`,
		"ordered":      fmt.Sprintf(accepted, "f.net"),
		"sold":         fmt.Sprintf(accepted, "coalesce(f.hours, 0)") + " AND f.state <> 'cancelled'",
		"cancelled":    fmt.Sprintf(ended, "f.net_off") + " AND f.state = 'cancelled'",
		"done":         fmt.Sprintf(ended, "f.net"),
		"fees":         fmt.Sprintf(ended, "coalesce(f.fee, 0)") + " AND f.state = 'done'",
		"bought in":    fmt.Sprintf(ended, "coalesce(f.bought_in, 0)") + " AND f.state = 'done'",
		"job material": fmt.Sprintf(ended, "f.took_material"),
		"job hours":    fmt.Sprintf(ended, "f.took_minutes + f.took_rework"),
		"invoiced": "SELECT NULL::timestamptz AS at, i.day, " + invoiceRow + `, CASE i.kind WHEN 'credit' THEN -i.net ELSE i.net END AS amount
			FROM invoice i WHERE i.currency = @currency AND i.day >= @first AND i.day < @after`,
		"paid": "SELECT NULL::timestamptz AS at, f.day, o.id::text AS id, 'order' AS link, f.way AS kind, o.series, o.year, o.no, o.title, c.name AS who, f.amount FROM payment f" + ofOrder +
			"WHERE f.currency = @currency AND f.day >= @first AND f.day < @after",
		"owed": "SELECT NULL::timestamptz AS at, NULL::date AS day, " + orderRow + ", f.amount FROM (SELECT order_id, sum(moved) AS amount FROM owed WHERE currency = @currency AND day < @after GROUP BY order_id HAVING sum(moved) <> 0) f" +
			ofOrder + "WHERE true",
		"tax":    fmt.Sprintf(taxed, "t.tax"),
		"taxed":  fmt.Sprintf(taxed, "t.net"),
		"worked": "SELECT NULL::timestamptz AS at, f.day, " + orderRow + ", f.minutes AS amount FROM worked f" + ofOrder + "WHERE f.day >= @first AND f.day < @after AND f.minutes <> 0",
		"bought": fmt.Sprintf(moved, "m.cost", 0),
		"taken":  fmt.Sprintf(moved, "-m.cost", 1),
		"lost":   fmt.Sprintf(moved, "-m.cost", 2),
		"stock": `SELECT NULL::timestamptz AS at, NULL::date AS day, b.item AS id, 'item' AS link, '' AS kind, NULL AS series, NULL::integer AS year, NULL::integer AS no, coalesce(i.name, b.item) AS title, '' AS who,
				b.value + b.offcut_value - coalesce(m.later, 0) AS amount
			FROM balance b LEFT JOIN (SELECT item, sum(cost) AS later FROM movement WHERE currency = @currency AND at >= @to GROUP BY item) m ON m.item = b.item
			LEFT JOIN item i ON i.code = b.item WHERE b.currency = @currency AND b.value + b.offcut_value - coalesce(m.later, 0) <> 0`,
		"at bench":        fmt.Sprintf(benched, "f.material_now + f.labour_now", "NOT f.ended AND f.material_now + f.labour_now <> 0"),
		"put in material": fmt.Sprintf(benched, "f.material_now - f.material_was", "f.material_now <> f.material_was"),
		"put in hours":    fmt.Sprintf(benched, "f.labour_now - f.labour_was", "f.labour_now <> f.labour_was"),
		"finished": fmt.Sprintf(benched, "f.material_now + f.labour_now - CASE WHEN f.gone THEN f.material_was + f.labour_was ELSE 0 END",
			"f.ended AND f.material_now + f.labour_now - CASE WHEN f.gone THEN f.material_was + f.labour_was ELSE 0 END <> 0"),
	}[key]
	return sql, ok
}

// narrowing is a condition for each key that documents can be narrowed by.
func narrowing(key string) string {
	return map[string]string{"code": " AND t.code = @code", "percent": " AND t.percent = @percent::numeric", "category": " AND t.category = @category"}[key]
}

func (t figuresTx) Documents(ctx context.Context, k figures.Kind, s figures.Within, by map[string]string, skip, most int) (list []figures.DocumentRow, n int, sum decimal.Decimal, err error) {
	sql, ok := documentsOf(k.Key)
	if !ok {
		return nil, 0, sum, fmt.Errorf("no documents of %q", k.Key)
	}
	args := cutting(s.Currency, []time.Time{s.From, s.To})
	for key, value := range by {
		if key == "percent" {
			if _, err := decimal.NewFromString(value); err != nil || len(value) > 20 {
				return nil, 0, sum, fault.New(fault.Invalid, "The percentage is no number. Open the figure again from the page of its month.")
			}
		}
		sql, args[key] = sql+narrowing(key), strings.ToValidUTF8(strings.ReplaceAll(value, "\x00", ""), "")
	}
	// What is worked out over many rows to give few is worked out once, with the sum beside each row; of what is read row
	// by row a sum of its own needs no names.
	beside := k.At || strings.HasPrefix(k.Key, "put in") || k.Key == "finished"
	sums := "0, 0::numeric"
	if beside {
		sums = "count(*) OVER (), sum(amount) OVER ()"
	}
	args["skip"], args["most"] = skip, atMost(most)
	rows, _ := t.Query(ctx, "SELECT at, day, link, id, kind, series, year, no, coalesce(title, ''), coalesce(who, ''), amount, "+sums+" FROM ("+sql+") d ORDER BY at, day, year, no, id OFFSET @skip LIMIT @most", args)
	list, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (r figures.DocumentRow, err error) {
		var at, day *time.Time
		var series *string
		var year, no *int
		err = row.Scan(&at, &day, &r.Link, &r.ID, &r.Kind, &series, &year, &no, &r.Title, &r.Who, &r.Amount, &n, &sum)
		if at != nil {
			r.Day = at.In(s.From.Location())
		} else if day != nil {
			r.Day = *day
		}
		if no != nil {
			r.Number.Series, r.Number.Year, r.Number.No = *series, *year, *no
		}
		return r, err
	})
	if err == nil && (!beside || len(list) == 0) {
		err = t.QueryRow(ctx, "SELECT count(*), coalesce(sum(amount), 0) FROM ("+sql+") d", args).Scan(&n, &sum)
	}
	return list, n, sum, err
}
