package db

import (
	"context"

	"foamwright/pricing/labour"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
)

func (t salesTx) LockWorkshop(ctx context.Context) error {
	_, err := t.Exec(ctx, "SELECT FROM workshop FOR UPDATE")
	return err
}

// made are orders that are done and have time logged the first time.
const made = `FROM sales_order o WHERE o.state = 'done'
	AND EXISTS (SELECT FROM time_log l WHERE l.order_id = o.id AND l.rework = '' AND l.minutes > 0 AND NOT EXISTS (SELECT FROM time_log c WHERE c.corrects = l.id))`

func (t salesTx) MadeJobs(ctx context.Context) (n int, err error) {
	err = t.QueryRow(ctx, "SELECT count(*) "+made).Scan(&n)
	return n, err
}

func (t salesTx) Made(ctx context.Context, most int) ([]sales.Made, error) {
	rows, _ := t.Query(ctx, `SELECT d.id::text, d.series, d.year, d.no, q.printed->'Tasks', convert_from(s.body, 'UTF8')::json->'Steps'
		FROM (SELECT o.* `+made+` ORDER BY o.ended DESC, o.id LIMIT $1) d
		JOIN quote q ON q.id = d.quote_id JOIN snapshot s ON s.hash = q.snapshot ORDER BY d.ended DESC, d.id`, most)
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (m sales.Made, err error) {
		return m, row.Scan(&m.ID, &m.Number.Series, &m.Number.Year, &m.Number.No, &m.Tasks, &m.Steps)
	})
}

func (t salesTx) AddLesson(ctx context.Context, l labour.Taught) error {
	_, err := t.Exec(ctx, "INSERT INTO lesson (step, was, is_now, jobs, at, by_whom) VALUES ($1, $2, $3, $4, $5, $6)", l.Step, l.Was, l.Is, l.Jobs, l.At, l.ByWhom)
	return err
}

func (t salesTx) Lessons(ctx context.Context) ([]labour.Taught, error) {
	rows, _ := t.Query(ctx, "SELECT step, was, is_now, jobs, at, by_whom FROM lesson ORDER BY id DESC")
	return pgx.CollectRows(rows, pgx.RowToStructByPos[labour.Taught])
}
