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

// What a job took, worked out of f as pricing.Costing.Took does it, for each job, so that sums are those of the jobs to
// the cent: an amount is kept with exactly its currency's places. Quotients get the library's sixteen places before they
// are rounded to money.
const (
	tookMaterial = "round(f.took_material, scale(f.net))"
	tookHours    = "round((f.took_minutes + f.took_rework) / 60, 2)"
	tookShare    = "CASE WHEN f.material = 0 THEN f.handling ELSE round(round(round(" + tookMaterial + " * f.handling, 24) / f.material, 16), scale(f.net)) END"
	tookLabour   = "CASE WHEN f.hours > 0 THEN round(round(round(" + tookHours + " * f.labour, 24) / f.hours, 16), scale(f.net)) ELSE f.labour END"
	jobsDone     = `WHERE f.state = 'done' AND f.currency = $3 AND ($1::timestamptz IS NULL OR f.ended >= $1) AND ($2::timestamptz IS NULL OR f.ended < $2) AND ($4::uuid IS NULL OR f.design_id = $4) `
	quotesOut    = ` FROM quote q JOIN quote_figures f ON f.quote_id = q.id
		WHERE q.design_id IS NOT NULL AND q.state NOT IN ('draft', 'replaced') AND f.currency = $3 AND ($1::timestamptz IS NULL OR q.issued_at >= $1) AND ($2::timestamptz IS NULL OR q.issued_at < $2) AND ($4::uuid IS NULL OR q.design_id = $4) `
)

// spanned are what sums are narrowed by: $1 to $4.
func spanned(in figures.Span) ([]any, error) {
	args := []any{zeronull.Timestamptz(in.From), zeronull.Timestamptz(in.To), string(in.Currency), nil}
	if in.Design == "" {
		return args, nil
	}
	k, err := key(in.Design)
	args[3] = k
	return args, err
}

// costed reads the figures of jobs out of their plain columns.
type costed struct {
	jobs, quantity                                              int
	net, fee, material, handling, labour, boughtIn, contingency decimal.Decimal
	hours, low, high, former, drying                            decimal.Decimal
	tookMaterial, tookHandling, tookLabour, tookHours, rework   decimal.Decimal
}

func (c *costed) into() []any {
	return []any{&c.jobs, &c.quantity, &c.net, &c.fee, &c.material, &c.handling, &c.labour, &c.boughtIn, &c.contingency, &c.hours, &c.low, &c.high, &c.former, &c.drying,
		&c.tookMaterial, &c.tookHandling, &c.tookLabour, &c.tookHours, &c.rework}
}

func (c *costed) done(currency money.Currency) figures.Done {
	in := func(d decimal.Decimal) money.Amount { return money.Round(d, currency) }
	planned := pricing.Costing{
		Quantity: c.quantity, Net: in(c.net), Fee: in(c.fee), Material: in(c.material), Handling: in(c.handling), Labour: in(c.labour), BoughtIn: in(c.boughtIn), Contingency: in(c.contingency),
		Hours: c.hours, Low: c.low, High: c.high, Former: c.former, Drying: c.drying,
	}
	actual := planned
	actual.Material, actual.Handling, actual.Labour, actual.Contingency = in(c.tookMaterial), in(c.tookHandling), in(c.tookLabour), in(decimal.Zero)
	actual.Hours, actual.Low, actual.High = c.tookHours, c.tookHours, c.tookHours
	return figures.Done{Jobs: c.jobs, Planned: planned, Actual: actual, Rework: c.rework}
}

func (t figuresTx) Done(ctx context.Context, in figures.Span) (map[sales.MadeFrom]figures.Done, error) {
	args, err := spanned(in)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, `SELECT coalesce(f.design_id::text, ''), coalesce(f.design_version, 0), f.fee IS NOT NULL,
		count(*), sum(f.quantity)::integer, sum(f.net), coalesce(sum(f.fee), 0), coalesce(sum(f.material), 0), coalesce(sum(f.handling), 0), coalesce(sum(f.labour), 0),
		coalesce(sum(f.bought_in), 0), coalesce(sum(f.contingency), 0), coalesce(sum(f.hours), 0), coalesce(sum(f.low), 0), coalesce(sum(f.high), 0), coalesce(sum(f.former_days), 0), coalesce(sum(f.drying_days), 0),
		sum(`+tookMaterial+`), coalesce(sum(`+tookShare+`), 0), coalesce(sum(`+tookLabour+`), 0), sum(`+tookHours+`), sum(round(f.took_rework / 60, 2)) FROM order_figures f `+jobsDone+`GROUP BY f.design_id, f.design_version, f.fee IS NOT NULL`, args...)
	defer rows.Close()
	all := map[sales.MadeFrom]figures.Done{}
	for rows.Next() {
		var c costed
		var of sales.MadeFrom
		var told bool
		if err := rows.Scan(append([]any{&of.ID, &of.Version, &told}, c.into()...)...); err != nil {
			return nil, err
		}
		d := c.done(in.Currency)
		if !told {
			d = figures.Done{Untold: c.jobs}
		}
		all[of] = all[of].Of(d)
	}
	return all, rows.Err()
}

func (t figuresTx) Jobs(ctx context.Context, in figures.Span, skip, most int) ([]figures.Job, error) {
	args, err := spanned(in)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, `SELECT o.id::text, o.series, o.year, o.no, o.title, (SELECT name FROM customer c WHERE c.id = o.customer_id), f.design_version, o.ended,
		1, f.quantity, f.net, f.fee, f.material, f.handling, f.labour, f.bought_in, f.contingency, f.hours, f.low, f.high, f.former_days, f.drying_days,
		`+tookMaterial+`, `+tookShare+`, `+tookLabour+`, `+tookHours+`, round(f.took_rework / 60, 2) FROM order_figures f JOIN sales_order o ON o.id = f.order_id `+jobsDone+`AND f.fee IS NOT NULL AND f.design_id IS NOT NULL
		ORDER BY f.ended DESC, f.order_id DESC OFFSET $5 LIMIT nullif($6, 0)`, append(args, skip, most)...)
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (j figures.Job, err error) {
		var c costed
		j.Design.ID = in.Design
		err = row.Scan(append([]any{&j.OrderID, &j.Number.Series, &j.Number.Year, &j.Number.No, &j.Title, &j.Customer, &j.Design.Version, &j.Ended}, c.into()...)...)
		j.Done = c.done(in.Currency)
		return j, err
	})
}

func (t figuresTx) Quoted(ctx context.Context, in figures.Span) (map[sales.MadeFrom]figures.Quoted, error) {
	args, err := spanned(in)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, `SELECT q.design_id::text, q.design_version, f.quantity, count(*), sum(f.quantity)::integer, sum(f.net)`+quotesOut+`GROUP BY q.design_id, q.design_version, f.quantity`, args...)
	defer rows.Close()
	all := map[sales.MadeFrom]figures.Quoted{}
	for rows.Next() {
		var of sales.MadeFrom
		var size figures.Quoted
		var pieces int
		var net decimal.Decimal
		if err := rows.Scan(&of.ID, &of.Version, &pieces, &size.Quotes, &size.Pieces, &net); err != nil {
			return nil, err
		}
		size.Net = money.Round(net, in.Currency)
		all[of] = all[of].Of(figures.Quoted{Quotes: size.Quotes, Pieces: size.Pieces, Net: size.Net, Sizes: map[int]figures.Quoted{pieces: size}})
	}
	return all, rows.Err()
}

func (t figuresTx) QuotesMade(ctx context.Context, in figures.Span, most int) ([]figures.QuoteMade, error) {
	args, err := spanned(in)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, `SELECT q.id::text, q.series, q.year, q.no, q.version, q.state, q.title, (SELECT name FROM customer c WHERE c.id = q.customer_id), q.design_version, q.issued_at, q.valid_until,
		f.net, q.gross, f.quantity, coalesce(f.hours, 0)`+quotesOut+`ORDER BY q.issued_at DESC, q.id DESC LIMIT nullif($5, 0)`, append(args, most)...)
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (q figures.QuoteMade, err error) {
		var net, gross decimal.Decimal
		q.Design.ID = in.Design
		err = row.Scan(&q.ID, &q.Number.Series, &q.Number.Year, &q.Number.No, &q.Version, &q.State, &q.Title, &q.Customer, &q.Design.Version, &q.IssuedAt, &q.ValidUntil, &net, &gross, &q.Pieces, &q.Hours)
		q.Net, q.Gross = money.Round(net, in.Currency), money.Round(gross, in.Currency)
		return q, err
	})
}

func (t figuresTx) DesignVersions(ctx context.Context, design string) ([]figures.DesignVersion, error) {
	k, err := key(design)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, "SELECT version, name, since, form FROM design_version WHERE design_id = $1 ORDER BY version DESC", k)
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (v figures.DesignVersion, err error) {
		return v, row.Scan(&v.Version, &v.Name, &v.Since, &v.Form)
	})
}
