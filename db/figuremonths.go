package db

import (
	"context"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/figures"
	"foamwright/pricing/money"
	"foamwright/pricing/workshop"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// cutting are the arguments of queries over stretches of time.
func cutting(c money.Currency, cuts []time.Time) pgx.NamedArgs {
	days := make([]time.Time, len(cuts))
	for i, at := range cuts {
		days[i] = stock.Day(at)
	}
	return pgx.NamedArgs{"currency": c, "digits": c.Digits(), "cuts": cuts, "days": days, "from": cuts[0], "to": cuts[len(cuts)-1], "first": days[0], "after": days[len(days)-1]}
}

func (t figuresTx) Sums(ctx context.Context, c money.Currency, cuts []time.Time) ([]figures.Sums, error) {
	all, args := make([]figures.Sums, len(cuts)-1), cutting(c, cuts)
	for i := range all {
		all[i] = nothing(c)
	}
	for _, read := range []func(context.Context, []figures.Sums, money.Currency, pgx.NamedArgs) error{
		t.sumQuotes, t.sumOrders, t.sumEnded, t.sumMoney, t.sumOwed, t.sumShelf, t.sumWorked,
	} {
		if err := read(ctx, all, c, args); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// nothing is a month in which nothing happened.
func nothing(c money.Currency) figures.Sums {
	no := money.Sum(c)
	none, job := figures.Counted{Amount: no}, pricing.Costing{Net: no, Fee: no, Material: no, Handling: no, Labour: no, BoughtIn: no, Contingency: no}
	return figures.Sums{
		Quoted: none, Ordered: none, Cancelled: none, Invoiced: none, Paid: none, Owed: no, Stock: no, Bought: no, Taken: no, Lost: no,
		Ended: figures.Ended{Planned: job, Took: job, Kept: no, Wasted: no},
	}
}

// counted reads sums by stretch, from 1.
func (t figuresTx) counted(ctx context.Context, sql string, args pgx.NamedArgs, c money.Currency, into func(i int) *figures.Counted) error {
	rows, _ := t.Query(ctx, sql, args)
	var at, n int
	var sum decimal.Decimal
	_, err := pgx.ForEachRow(rows, []any{&at, &n, &sum}, func() error {
		*into(at - 1) = figures.Counted{Amount: money.Round(sum, c), N: n}
		return nil
	})
	return err
}

func (t figuresTx) sumQuotes(ctx context.Context, all []figures.Sums, c money.Currency, args pgx.NamedArgs) error {
	return t.counted(ctx, `SELECT width_bucket(first, @cuts::timestamptz[]), count(*), sum(net) FROM quoted
		WHERE currency = @currency AND first >= @from AND first < @to GROUP BY 1`, args, c, func(i int) *figures.Counted { return &all[i].Quoted })
}

func (t figuresTx) sumOrders(ctx context.Context, all []figures.Sums, c money.Currency, args pgx.NamedArgs) error {
	rows, _ := t.Query(ctx, `SELECT width_bucket(accepted, @cuts::timestamptz[]), count(*), sum(net), coalesce(sum(hours) FILTER (WHERE state <> 'cancelled'), 0)
		FROM order_figures WHERE currency = @currency AND accepted >= @from AND accepted < @to GROUP BY 1`, args)
	var at, n int
	var net, hours decimal.Decimal
	_, err := pgx.ForEachRow(rows, []any{&at, &n, &net, &hours}, func() error {
		all[at-1].Ordered, all[at-1].Sold = figures.Counted{Amount: money.Round(net, c), N: n}, hours
		return nil
	})
	return err
}

func (t figuresTx) sumEnded(ctx context.Context, all []figures.Sums, c money.Currency, args pgx.NamedArgs) error {
	rows, _ := t.Query(ctx, `SELECT width_bucket(f.ended, @cuts::timestamptz[]), f.state = 'cancelled', count(*), sum(f.quantity), sum(f.net), sum(f.net_off),
			coalesce(sum(f.fee), 0), coalesce(sum(f.material), 0), coalesce(sum(f.handling), 0), coalesce(sum(f.labour), 0), coalesce(sum(f.bought_in), 0), coalesce(sum(f.contingency), 0),
			coalesce(sum(f.hours), 0), coalesce(sum(f.low), 0), coalesce(sum(f.high), 0), coalesce(sum(f.former_days), 0), coalesce(sum(f.drying_days), 0),
			sum(f.took_material), coalesce(sum(`+tookShare+`), 0), coalesce(sum(`+tookLabour+`), 0), sum(`+tookHours+`), sum(f.took_minutes + f.took_rework)
		FROM order_figures f WHERE f.currency = @currency AND f.ended >= @from AND f.ended < @to GROUP BY 1, 2`, args)
	var at, n, pieces int
	var dropped bool
	var net, off, fee, material, handling, labour, bought, contingency, tookMaterial, handled, worked, hours, minutes decimal.Decimal
	var p pricing.Costing
	_, err := pgx.ForEachRow(rows, []any{&at, &dropped, &n, &pieces, &net, &off, &fee, &material, &handling, &labour, &bought, &contingency,
		&p.Hours, &p.Low, &p.High, &p.Former, &p.Drying, &tookMaterial, &handled, &worked, &hours, &minutes}, func() error {
		m, sum := &all[at-1], func(d decimal.Decimal) money.Amount { return money.Round(d, c) }
		e := &m.Ended
		e.Minutes = e.Minutes.Add(minutes)
		if dropped {
			m.Cancelled = figures.Counted{Amount: sum(off), N: n}
			e.Dropped, e.Kept, e.Wasted = n, sum(net), sum(tookMaterial)
			return nil
		}
		e.Done = n
		p.Quantity, p.Net, p.Fee, p.Material, p.Handling, p.Labour, p.BoughtIn, p.Contingency = pieces, sum(net), sum(fee), sum(material), sum(handling), sum(labour), sum(bought), sum(contingency)
		e.Planned, e.Took = p, p
		e.Took.Material, e.Took.Handling, e.Took.Labour, e.Took.Contingency = sum(tookMaterial), sum(handled), sum(worked), money.Sum(c)
		e.Took.Hours, e.Took.Low, e.Took.High = hours, hours, hours
		return nil
	})
	return err
}

func (t figuresTx) sumMoney(ctx context.Context, all []figures.Sums, c money.Currency, args pgx.NamedArgs) error {
	err := t.counted(ctx, `SELECT width_bucket(day, @days::date[]), count(*), sum(CASE kind WHEN 'credit' THEN -net ELSE net END) FROM invoice
		WHERE currency = @currency AND day >= @first AND day < @after GROUP BY 1`, args, c, func(i int) *figures.Counted { return &all[i].Invoiced })
	if err != nil {
		return err
	}
	return t.counted(ctx, `SELECT width_bucket(day, @days::date[]), count(*), sum(amount) FROM payment
		WHERE currency = @currency AND day >= @first AND day < @after GROUP BY 1`, args, c, func(i int) *figures.Counted { return &all[i].Paid })
}

// sumOwed adds up from the beginning of the books.
func (t figuresTx) sumOwed(ctx context.Context, all []figures.Sums, c money.Currency, args pgx.NamedArgs) error {
	moved := make([]figures.Counted, len(all)+1)
	for i := range moved {
		moved[i].Amount = money.Sum(c)
	}
	err := t.counted(ctx, `SELECT width_bucket(day, @days::date[]) + 1, count(*), sum(moved) FROM owed WHERE currency = @currency AND day < @after GROUP BY 1`,
		args, c, func(i int) *figures.Counted { return &moved[i] })
	owed := moved[0].Amount
	for i := range all {
		owed = owed.Add(moved[i+1].Amount)
		all[i].Owed = owed
	}
	return err
}

// sumShelf goes back from what lies on the shelf now: the ledger before the stretch need not be read.
func (t figuresTx) sumShelf(ctx context.Context, all []figures.Sums, c money.Currency, args pgx.NamedArgs) error {
	var now decimal.Decimal
	if err := t.QueryRow(ctx, "SELECT coalesce(sum(value + offcut_value), 0) FROM balance WHERE currency = @currency", args).Scan(&now); err != nil {
		return err
	}
	rows, _ := t.Query(ctx, `SELECT width_bucket(at, @cuts::timestamptz[]), flow, sum(cost) FROM movement WHERE currency = @currency AND at >= @from GROUP BY 1, 2`, args)
	moved := make([][3]decimal.Decimal, len(all)+1)
	var at, flow int
	var sum decimal.Decimal
	_, err := pgx.ForEachRow(rows, []any{&at, &flow, &sum}, func() error {
		moved[at-1][flow] = sum
		return nil
	})
	for i := len(all); i > 0; i-- {
		now = now.Sub(moved[i][0]).Sub(moved[i][1]).Sub(moved[i][2])
		m, was := &all[i-1], moved[i-1]
		m.Stock, m.Bought, m.Taken, m.Lost = money.Round(now, c), money.Round(was[0], c), money.Round(was[1].Neg(), c), money.Round(was[2].Neg(), c)
	}
	return err
}

func (t figuresTx) sumWorked(ctx context.Context, all []figures.Sums, _ money.Currency, args pgx.NamedArgs) error {
	rows, _ := t.Query(ctx, `SELECT width_bucket(day, @days::date[]), sum(minutes) FROM worked WHERE day >= @first AND day < @after GROUP BY 1`, args)
	var at int
	var sum decimal.Decimal
	_, err := pgx.ForEachRow(rows, []any{&at, &sum}, func() error {
		all[at-1].Minutes = sum
		return nil
	})
	return err
}

func (t figuresTx) Taxes(ctx context.Context, s figures.Within) ([]figures.TaxRow, error) {
	rows, _ := t.Query(ctx, `SELECT code, percent, category, sum(net), sum(tax), count(*) FROM invoice_tax
		WHERE currency = @currency AND day >= @first AND day < @after GROUP BY 1, 2, 3 ORDER BY percent DESC, code, category`, cutting(s.Currency, []time.Time{s.From, s.To}))
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (r figures.TaxRow, err error) {
		var net, tax decimal.Decimal
		err = row.Scan(&r.Code, &r.Percent, &r.Category, &net, &tax, &r.N)
		r.Net, r.Tax = money.Round(net, s.Currency), money.Round(tax, s.Currency)
		return r, err
	})
}

func (t figuresTx) Elsewhere(ctx context.Context, c money.Currency) (n int, err error) {
	err = t.QueryRow(ctx, `SELECT (SELECT count(*) FROM invoice WHERE currency < $1) + (SELECT count(*) FROM invoice WHERE currency > $1)
		+ (SELECT count(*) FROM payment WHERE currency < $1) + (SELECT count(*) FROM payment WHERE currency > $1)`, c).Scan(&n)
	return n, err
}

func (t figuresTx) Standings(ctx context.Context) ([]workshop.Standing, error) {
	rows, _ := t.Query(ctx, "SELECT until, fixed_costs, people, calendar FROM standing ORDER BY until")
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (s workshop.Standing, err error) {
		return s, row.Scan(&s.Until, &s.FixedCosts, &s.People, &s.Calendar)
	})
}
