package db

import (
	"context"
	"time"

	"foamwright/pricing/figures"
	"foamwright/pricing/money"

	"github.com/shopspring/decimal"
)

// atBench are orders with what was put into each at cost until the beginning and until the end of a stretch: those
// that were unfinished at its beginning, and those that something happened to within it.
const atBench = `
	SELECT f.order_id, f.accepted, f.ended IS NOT NULL AND f.ended < @from AS gone, f.ended IS NOT NULL AND f.ended < @to AS ended,
		-coalesce(m.was, 0) AS material_was, -coalesce(m.now, 0) AS material_now,
		CASE WHEN f.hours > 0 THEN round(round(coalesce(w.was, 0) / 60, 2) * f.labour / f.hours, @digits) ELSE 0 END AS labour_was,
		CASE WHEN f.hours > 0 THEN round(round(coalesce(w.now, 0) / 60, 2) * f.labour / f.hours, @digits) ELSE 0 END AS labour_now
	FROM (
		SELECT order_id FROM order_figures WHERE currency = @currency AND accepted < @to AND ended IS NULL
		UNION SELECT order_id FROM order_figures WHERE currency = @currency AND accepted < @to AND ended >= @from
		UNION SELECT order_id FROM worked WHERE day >= @first AND day < @after
		UNION SELECT order_id FROM movement WHERE at >= @from AND at < @to AND flow = 1 AND order_id IS NOT NULL
	) o JOIN order_figures f ON f.order_id = o.order_id AND f.currency = @currency
	LEFT JOIN LATERAL (SELECT sum(cost) FILTER (WHERE at < @from) AS was, sum(cost) AS now FROM movement WHERE order_id = o.order_id AND at < @to AND flow = 1) m ON true
	LEFT JOIN LATERAL (SELECT sum(minutes) FILTER (WHERE day < @first) AS was, sum(minutes) AS now FROM worked WHERE order_id = o.order_id AND day < @after) w ON true`

func (t figuresTx) Bench(ctx context.Context, s figures.Within) (b figures.BenchFlow, err error) {
	var begin, material, labour, finished decimal.Decimal
	err = t.QueryRow(ctx, `SELECT coalesce(sum(material_was + labour_was) FILTER (WHERE NOT gone), 0), coalesce(sum(material_now - material_was), 0), coalesce(sum(labour_now - labour_was), 0),
			coalesce(sum(material_now + labour_now - CASE WHEN gone THEN material_was + labour_was ELSE 0 END) FILTER (WHERE ended), 0)
		FROM (`+atBench+`) b`, cutting(s.Currency, []time.Time{s.From, s.To})).Scan(&begin, &material, &labour, &finished)
	round := func(d decimal.Decimal) money.Amount { return money.Round(d, s.Currency) }
	return figures.BenchFlow{Begin: round(begin), Material: round(material), Labour: round(labour), Finished: round(finished)}, err
}
