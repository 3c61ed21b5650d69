package db

import (
	"context"
	"time"

	"foamwright/pricing/figures"
	"foamwright/pricing/money"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// Offered looks up first versions by their day. A number has one version that was not replaced: mostly that one.
func (t figuresTx) Offered(ctx context.Context, from, before, today time.Time) ([]figures.Offered, error) {
	rows, err := t.Query(ctx, `
		WITH first AS MATERIALIZED (SELECT id, series, year, no, state, created, issued_at, customer_id FROM quote WHERE version = 1 AND issued_at >= $1 AND issued_at < $2),
		last AS (
			SELECT f.id AS first, f.id AS last FROM first f WHERE f.state <> 'replaced'
			UNION ALL SELECT f.id, q.id FROM first f JOIN quote q ON q.series = f.series AND q.year = f.year AND q.no = f.no AND q.no > 0 AND q.state IN ('issued', 'accepted', 'declined') WHERE f.state = 'replaced'),
		ordered AS (SELECT customer_id, min(accepted) AS since FROM sales_order GROUP BY customer_id)
		SELECT q.id::text, q.series, q.year, q.no, q.version, q.title, c.name, coalesce(ordered.since < f.issued_at, false), coalesce(q.design_id::text, ''), coalesce(d.name, ''), q.gross, q.currency,
			coalesce(e.created, f.created), f.issued_at, q.issued_at, a.at, coalesce(a.reason, ''),
			CASE WHEN q.state = 'issued' AND q.valid_until < $3 THEN 'ran out' WHEN q.state = 'issued' THEN 'open' ELSE q.state END
		FROM first f JOIN last ON last.first = f.id JOIN quote q ON q.id = last.last JOIN customer c ON c.id = q.customer_id
			LEFT JOIN ordered ON ordered.customer_id = q.customer_id LEFT JOIN design d ON d.id = q.design_id LEFT JOIN answer a ON a.quote_id = q.id
			LEFT JOIN (SELECT quote_id, min(created) AS created FROM enquiry WHERE quote_id IS NOT NULL GROUP BY quote_id) e ON e.quote_id = f.id
			LEFT JOIN sales_order o ON o.quote_id = q.id
		WHERE NOT EXISTS (SELECT FROM ready_shield r WHERE r.sold_as = o.id)
		ORDER BY f.issued_at, f.id`, from, before, today)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (o figures.Offered, err error) {
		var gross decimal.Decimal
		var currency money.Currency
		var answered *time.Time
		if err := row.Scan(&o.Quote, &o.Number.Series, &o.Number.Year, &o.Number.No, &o.Version, &o.Title, &o.Customer, &o.Before, &o.Design, &o.DesignName, &gross, &currency,
			&o.Asked, &o.First, &o.Issued, &answered, &o.Reason, &o.Outcome); err != nil {
			return o, err
		}
		if answered != nil {
			o.Answered = *answered
		}
		o.Gross, err = money.New(gross, currency)
		return o, err
	})
}
