package db

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/labour"
	"foamwright/pricing/schedule"

	"github.com/jackc/pgx/v5"
)

func (t salesTx) LockBench(ctx context.Context) error {
	_, err := t.Exec(ctx, "SELECT pg_advisory_xact_lock(hashtext('the bench'))")
	return err
}

func (t salesTx) Booked(ctx context.Context) (map[string]schedule.Plan, error) {
	rows, _ := t.Query(ctx, `SELECT s.order_id::text, s.nth, s.task, s.people, s.begins, s.ends, s.ready, s.why, s.for_nth, s.behind, p.not_before, p.again, p.planned
		FROM slot s JOIN sales_order o ON o.id = s.order_id JOIN bench_plan p ON p.order_id = s.order_id WHERE o.state = 'booked' ORDER BY s.order_id, s.nth`)
	booked := map[string]schedule.Plan{}
	var s schedule.Slot
	var of schedule.Plan
	_, err := pgx.ForEachRow(rows, []any{&s.Job, &s.Index, &s.Task, &s.People, &s.Start, &s.End, &s.Ready, &s.Why, &s.For, &s.Behind, &of.From, &of.Again, &of.Planned}, func() error {
		s.Start, s.End, s.Ready = s.Start.UTC(), s.End.UTC(), s.Ready.UTC()
		p := booked[s.Job]
		p.Job, p.From, p.Slots, p.Again, p.Planned = s.Job, of.From.UTC(), append(p.Slots, s), of.Again, of.Planned.UTC()
		if s.Ready.After(p.Ready) {
			p.Ready = s.Ready
		}
		booked[s.Job] = p
		return nil
	})
	return booked, err
}

func (t salesTx) Book(ctx context.Context, p schedule.Plan) error {
	b := &pgx.Batch{}
	b.Queue("DELETE FROM slot WHERE order_id = $1", p.Job)
	b.Queue(`INSERT INTO bench_plan AS p (order_id, not_before, again, planned) VALUES ($1, $2, 0, $3)
		ON CONFLICT (order_id) DO UPDATE SET not_before = excluded.not_before, again = p.again + 1, planned = excluded.planned`, p.Job, p.From, p.Planned)
	for _, s := range p.Slots {
		b.Queue(`INSERT INTO slot (order_id, nth, task, people, begins, ends, ready, why, for_nth, behind) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
			p.Job, s.Index, s.Task, s.People, s.Start, s.End, s.Ready, s.Why, s.For, s.Behind)
	}
	return t.SendBatch(ctx, b).Close()
}

const logColumns = "id::text, order_id::text, step, minutes, day, rework, note, by_whom, written, coalesce(corrects::text, '')"

func scanLog(row pgx.CollectableRow) (l labour.Log, err error) {
	err = row.Scan(&l.ID, &l.Order, &l.Step, &l.Minutes, &l.Day, &l.Rework, &l.Note, &l.By, &l.Written, &l.Corrects)
	return l, err
}

func (t salesTx) AddLog(ctx context.Context, l labour.Log) (bool, error) {
	tag, err := t.Exec(ctx, `INSERT INTO time_log (id, order_id, step, minutes, day, rework, note, by_whom, written, kept, corrects)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, now(), $10) ON CONFLICT (id) DO NOTHING`,
		l.ID, l.Order, l.Step, l.Minutes, date(l.Day), l.Rework, l.Note, l.By, l.Written, nullKey(l.Corrects))
	return tag.RowsAffected() > 0, err
}

func (t salesTx) Logs(ctx context.Context, order string) ([]labour.Log, error) {
	k, err := key(order)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, "SELECT "+logColumns+" FROM time_log WHERE order_id = $1 ORDER BY day, written, id", k)
	return pgx.CollectRows(rows, scanLog)
}

func (t salesTx) LogsSince(ctx context.Context, since time.Time) ([]labour.Log, error) {
	rows, _ := t.Query(ctx, "SELECT "+logColumns+" FROM time_log WHERE day >= $1 ORDER BY day, written, id", date(since))
	return pgx.CollectRows(rows, scanLog)
}

func (t salesTx) Clock(ctx context.Context, by string) (labour.Clock, error) {
	c := labour.Clock{By: by}
	err := t.QueryRow(ctx, "SELECT order_id::text, step, began FROM running_clock WHERE by_whom = $1", by).Scan(&c.Order, &c.Step, &c.Began)
	return c, missing(err, "clock that runs")
}

func (t salesTx) SetClock(ctx context.Context, c labour.Clock) error {
	if c.Order == "" {
		_, err := t.Exec(ctx, "DELETE FROM running_clock WHERE by_whom = $1", c.By)
		return err
	}
	if c.Step == "" || len(c.Step) > 60 {
		var l fault.List
		l.Add("step", c.Step, "Choose what is worked on.")
		return l.Err()
	}
	_, err := t.Exec(ctx, `INSERT INTO running_clock (by_whom, order_id, step, began) VALUES ($1, $2, $3, $4)
		ON CONFLICT (by_whom) DO UPDATE SET order_id = excluded.order_id, step = excluded.step, began = excluded.began`, c.By, c.Order, c.Step, c.Began)
	return err
}
