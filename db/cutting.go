package db

import (
	"context"
	"encoding/json"
	"fmt"

	"foamwright/materials/cutplan"
	"foamwright/materials/stock"

	"github.com/jackc/pgx/v5"
)

// cutJob is a job as it is written: with the offcuts that its sheets are.
type cutJob struct {
	cutplan.Job
	Lots []string
}

func (t salesTx) Cuttings(ctx context.Context, order string) ([]stock.Cutting, error) {
	rows, _ := t.Query(ctx, "SELECT id::text, order_id::text, item, job, plan, at, by_whom FROM cutting WHERE order_id = $1 ORDER BY item", nullKey(order))
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (c stock.Cutting, err error) {
		var job, plan []byte
		if err := row.Scan(&c.ID, &c.Order, &c.Item, &job, &plan, &c.At, &c.By); err != nil {
			return c, err
		}
		var written cutJob
		if err := json.Unmarshal(job, &written); err != nil {
			return c, fmt.Errorf("job of cutting %s: %w", c.ID, err)
		}
		if err := json.Unmarshal(plan, &c.Plan); err != nil {
			return c, fmt.Errorf("plan of cutting %s: %w", c.ID, err)
		}
		c.Job, c.Lots = written.Job, written.Lots
		return c, nil
	})
	return list, translate(err)
}

func (t salesTx) AddCutting(ctx context.Context, c stock.Cutting) error {
	job, err := json.Marshal(cutJob{c.Job, c.Lots})
	if err != nil {
		return fmt.Errorf("job of cutting %s: %w", c.ID, err)
	}
	plan, err := json.Marshal(c.Plan)
	if err != nil {
		return fmt.Errorf("plan of cutting %s: %w", c.ID, err)
	}
	_, err = t.Exec(ctx, "INSERT INTO cutting (id, order_id, item, job, plan, at, by_whom) VALUES ($1, $2, $3, $4, $5, $6, $7)",
		c.ID, c.Order, c.Item, string(job), string(plan), c.At, c.By)
	return translate(err, stockRefusals)
}

func (t salesTx) Snapshot(ctx context.Context, hash string) ([]byte, error) {
	d, err := digest(hash)
	if err != nil {
		return nil, err
	}
	var body []byte
	err = t.QueryRow(ctx, "SELECT body FROM snapshot WHERE hash = $1", d).Scan(&body)
	return body, missing(err, "snapshot")
}
