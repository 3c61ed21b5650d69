package db

import (
	"context"

	"foamwright/pricing"
	"foamwright/pricing/figures"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

// took are the columns of what a job took, worked out of f as pricing.Costing.Took does: each rounded for each job, so
// that sums are those of the jobs to the cent. The currency's places are those of its own net price.
const (
	tookHours  = "round((f.took_minutes + f.took_rework) / 60, 2)"
	tookShare  = "CASE WHEN f.material = 0 THEN f.handling ELSE round(f.took_material * f.handling / f.material, scale(f.net)) END"
	tookLabour = "CASE WHEN f.hours = 0 THEN f.labour ELSE round(" + tookHours + " * f.labour / f.hours, scale(f.net)) END"
	jobsDone   = " FROM sales_order o JOIN order_figures f ON f.order_id = o.id WHERE o.state = 'done' AND f.fee IS NOT NULL AND ($1::timestamptz IS NULL OR o.ended >= $1) AND ($2::timestamptz IS NULL OR o.ended < $2) "
)

// costed reads a costing out of its plain figures.
type costed struct {
	quantity                                                    int
	net, fee, material, handling, labour, boughtIn, contingency decimal.Decimal
	hours, low, high, former, drying                            decimal.Decimal
	tookMaterial, tookHandling, tookLabour, tookHours, rework   decimal.Decimal
}

func (c *costed) into() []any {
	return []any{&c.quantity, &c.net, &c.fee, &c.material, &c.handling, &c.labour, &c.boughtIn, &c.contingency, &c.hours, &c.low, &c.high, &c.former, &c.drying,
		&c.tookMaterial, &c.tookHandling, &c.tookLabour, &c.tookHours, &c.rework}
}

func (c *costed) told(currency money.Currency) (planned, actual pricing.Costing) {
	in := func(d decimal.Decimal) money.Amount { return money.Round(d, currency) }
	planned = pricing.Costing{
		Quantity: c.quantity, Net: in(c.net), Fee: in(c.fee), Material: in(c.material), Handling: in(c.handling), Labour: in(c.labour), BoughtIn: in(c.boughtIn), Contingency: in(c.contingency),
		Hours: c.hours, Low: c.low, High: c.high, Former: c.former, Drying: c.drying,
	}
	actual = planned
	actual.Material, actual.Handling, actual.Labour, actual.Contingency = in(c.tookMaterial), in(c.tookHandling), in(c.tookLabour), in(decimal.Zero)
	actual.Hours, actual.Low, actual.High = c.tookHours, c.tookHours, c.tookHours
	return planned, actual
}

func (t figuresTx) Done(ctx context.Context, in figures.Span) (map[sales.MadeFrom]figures.Done, error) {
	rows, _ := t.Query(ctx, `SELECT coalesce(f.design_id::text, ''), coalesce(f.design_version, 0), f.currency, count(*), sum(f.quantity)::integer, sum(f.net), sum(f.fee), sum(f.material), sum(f.handling), sum(f.labour),
		sum(f.bought_in), sum(f.contingency), sum(f.hours), sum(f.low), sum(f.high), sum(f.former_days), sum(f.drying_days),
		sum(f.took_material), sum(`+tookShare+`), sum(`+tookLabour+`), sum(`+tookHours+`), round(sum(f.took_rework) / 60, 2)`+jobsDone+`GROUP BY 1, 2, 3`,
		zeronull.Timestamptz(in.From), zeronull.Timestamptz(in.To))
	defer rows.Close()
	all := map[sales.MadeFrom]figures.Done{}
	for rows.Next() {
		var c costed
		var of sales.MadeFrom
		var currency money.Currency
		var d figures.Done
		if err := rows.Scan(append([]any{&of.ID, &of.Version, &currency, &d.Jobs}, c.into()...)...); err != nil {
			return nil, err
		}
		d.Planned, d.Actual = c.told(currency)
		d.Rework = c.rework
		all[of] = d
	}
	return all, translate(rows.Err())
}

func (t figuresTx) Jobs(ctx context.Context, in figures.Span, design string, most int) ([]figures.Job, error) {
	k, err := key(design)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, `SELECT o.id::text, o.series, o.year, o.no, o.title, (SELECT name FROM customer c WHERE c.id = o.customer_id), coalesce(f.design_id::text, ''), coalesce(f.design_version, 0), o.ended, f.currency,
		f.quantity, f.net, f.fee, f.material, f.handling, f.labour, f.bought_in, f.contingency, f.hours, f.low, f.high, f.former_days, f.drying_days,
		f.took_material, `+tookShare+`, `+tookLabour+`, `+tookHours+`, round(f.took_rework / 60, 2)`+jobsDone+`AND f.design_id = $3 ORDER BY o.ended DESC, o.id DESC LIMIT $4`,
		zeronull.Timestamptz(in.From), zeronull.Timestamptz(in.To), k, most)
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (j figures.Job, err error) {
		var c costed
		var currency money.Currency
		err = row.Scan(append([]any{&j.OrderID, &j.Number.Series, &j.Number.Year, &j.Number.No, &j.Title, &j.Customer, &j.Design.ID, &j.Design.Version, &j.Ended, &currency}, c.into()...)...)
		j.Planned, j.Actual = c.told(currency)
		j.Rework = c.rework
		return j, err
	})
	return list, translate(err)
}

func (t figuresTx) Versions(ctx context.Context, design string) ([]figures.DesignVersion, error) {
	k, err := key(design)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, `SELECT v.version, v.name, v.since, (SELECT count(*) FROM quote q WHERE q.design_id = v.design_id AND q.design_version = v.version AND q.state NOT IN ('draft', 'replaced'))
		FROM design_version v WHERE v.design_id = $1 ORDER BY v.version DESC`, k)
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (v figures.DesignVersion, err error) {
		return v, row.Scan(&v.Version, &v.Name, &v.Since, &v.Quotes)
	})
	return list, translate(err)
}

func (t figuresTx) Asked(ctx context.Context, in figures.Span) (map[string]money.Amount, error) {
	rows, _ := t.Query(ctx, `SELECT q.design_id::text, f.currency, sum(f.net) / sum(f.quantity) FROM quote q JOIN quote_figures f ON f.quote_id = q.id
		WHERE q.design_id IS NOT NULL AND q.state NOT IN ('draft', 'replaced') AND ($1::timestamptz IS NULL OR q.issued_at >= $1) AND ($2::timestamptz IS NULL OR q.issued_at < $2) GROUP BY 1, 2`,
		zeronull.Timestamptz(in.From), zeronull.Timestamptz(in.To))
	defer rows.Close()
	all := map[string]money.Amount{}
	for rows.Next() {
		var id string
		var currency money.Currency
		var mean decimal.Decimal
		if err := rows.Scan(&id, &currency, &mean); err != nil {
			return nil, err
		}
		all[id] = money.Round(mean, currency)
	}
	return all, translate(rows.Err())
}
