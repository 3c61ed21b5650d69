package db

import (
	"context"

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
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (c stock.Cutting, err error) {
		var written cutJob
		err = row.Scan(&c.ID, &c.Order, &c.Item, &written, &c.Plan, &c.At, &c.By)
		c.Job, c.Lots = written.Job, written.Lots
		return c, err
	})
}

func (t salesTx) AddCutting(ctx context.Context, c stock.Cutting) error {
	_, err := t.Exec(ctx, "INSERT INTO cutting (id, order_id, item, job, plan, at, by_whom) VALUES ($1, $2, $3, $4, $5, $6, $7)",
		c.ID, c.Order, c.Item, cutJob{c.Job, c.Lots}, c.Plan, c.At, c.By)
	return err
}

func (t salesTx) Snapshot(ctx context.Context, of string) ([]byte, error) {
	var body []byte
	err := t.QueryRow(ctx, "SELECT body FROM snapshot WHERE hash = $1", hash(of)).Scan(&body)
	return body, missing(err, "snapshot")
}
