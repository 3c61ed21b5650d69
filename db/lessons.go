package db

import (
	"context"
	"encoding/json"
	"fmt"

	"foamwright/pricing/labour"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
)

func (t salesTx) LockWorkshop(ctx context.Context) error {
	_, err := t.Exec(ctx, "SELECT FROM workshop FOR UPDATE")
	return translate(err)
}

// made are orders that are done and have time logged the first time.
const made = `FROM sales_order o WHERE o.state = 'done'
	AND EXISTS (SELECT FROM time_log l WHERE l.order_id = o.id AND l.rework = '' AND l.minutes > 0 AND NOT EXISTS (SELECT FROM time_log c WHERE c.corrects = l.id))`

func (t salesTx) MadeJobs(ctx context.Context) (n int, err error) {
	err = t.QueryRow(ctx, "SELECT count(*) "+made).Scan(&n)
	return n, translate(err)
}

func (t salesTx) Made(ctx context.Context, most int) ([]sales.Made, error) {
	rows, _ := t.Query(ctx, `SELECT d.id::text, d.series, d.year, d.no, q.printed->'Tasks', convert_from(s.body, 'UTF8')::json->'Steps'
		FROM (SELECT o.* `+made+` ORDER BY o.ended DESC, o.id LIMIT $1) d
		JOIN quote q ON q.id = d.quote_id JOIN snapshot s ON s.hash = q.snapshot ORDER BY d.ended DESC, d.id`, most)
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (m sales.Made, err error) {
		var tasks, steps []byte
		if err := row.Scan(&m.ID, &m.Number.Series, &m.Number.Year, &m.Number.No, &tasks, &steps); err != nil {
			return m, err
		}
		for _, part := range []struct {
			of   []byte
			into any
		}{{tasks, &m.Tasks}, {steps, &m.Steps}} {
			if err := json.Unmarshal(orNull(part.of), part.into); err != nil {
				return m, fmt.Errorf("order %s as it was planned: %w", m.ID, err)
			}
		}
		return m, nil
	})
	return list, translate(err)
}

// orNull is JSON that was not there yet when it was written.
func orNull(b []byte) []byte {
	if len(b) == 0 {
		return []byte("null")
	}
	return b
}

func (t salesTx) AddLesson(ctx context.Context, l labour.Taught) error {
	was, err := json.Marshal(l.Was)
	if err != nil {
		return fmt.Errorf("lesson of step %s: %w", l.Step, err)
	}
	is, err := json.Marshal(l.Is)
	if err != nil {
		return fmt.Errorf("lesson of step %s: %w", l.Step, err)
	}
	_, err = t.Exec(ctx, "INSERT INTO lesson (step, was, is_now, jobs, at, by_whom) VALUES ($1, $2, $3, $4, $5, $6)", l.Step, string(was), string(is), l.Jobs, l.At, l.ByWhom)
	return translate(err)
}

func (t salesTx) Lessons(ctx context.Context) ([]labour.Taught, error) {
	rows, _ := t.Query(ctx, "SELECT step, was, is_now, jobs, at, by_whom FROM lesson ORDER BY id DESC")
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (l labour.Taught, err error) {
		var was, is []byte
		if err := row.Scan(&l.Step, &was, &is, &l.Jobs, &l.At, &l.ByWhom); err != nil {
			return l, err
		}
		if err := json.Unmarshal(was, &l.Was); err != nil {
			return l, fmt.Errorf("lesson of step %s: %w", l.Step, err)
		}
		if err := json.Unmarshal(is, &l.Is); err != nil {
			return l, fmt.Errorf("lesson of step %s: %w", l.Step, err)
		}
		return l, nil
	})
	return list, translate(err)
}
