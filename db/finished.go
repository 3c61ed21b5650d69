package db

import (
	"context"

	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

func (t salesTx) Finished(ctx context.Context, order string) ([]sales.Finished, error) {
	k, err := key(order)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, `SELECT coalesce(width_mm, 0), coalesce(depth_mm, 0), coalesce(weight_kg, 0), note, at, by_whom FROM finished WHERE order_id = $1 ORDER BY id DESC`, k)
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (sales.Finished, error) {
		f := sales.Finished{Order: order}
		return f, row.Scan(&f.Stands.Width, &f.Stands.Depth, &f.Weight, &f.Note, &f.At, &f.By)
	})
}

func (t salesTx) KeepFinished(ctx context.Context, f sales.Finished) error {
	_, err := t.Exec(ctx, `INSERT INTO finished (order_id, width_mm, depth_mm, weight_kg, note, at, by_whom) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		f.Order, orUnknown(f.Stands.Width), orUnknown(f.Stands.Depth), orUnknown(f.Weight), f.Note, f.At, f.By)
	return err
}

// orUnknown is null for what was not measured.
func orUnknown(d decimal.Decimal) decimal.NullDecimal {
	return decimal.NullDecimal{Decimal: d, Valid: !d.IsZero()}
}

func (t salesTx) AddMaterialLesson(ctx context.Context, l sales.MaterialLesson) error {
	_, err := t.Exec(ctx, "INSERT INTO material_lesson (what, was, is_now, jobs, at, by_whom) VALUES ($1, $2, $3, $4, $5, $6)", l.What, l.Was, l.Is, l.Jobs, l.At, l.By)
	return err
}

func (t salesTx) MaterialLessons(ctx context.Context) ([]sales.MaterialLesson, error) {
	rows, _ := t.Query(ctx, "SELECT what, was, is_now, jobs, at, by_whom FROM material_lesson ORDER BY id DESC")
	return pgx.CollectRows(rows, pgx.RowToStructByPos[sales.MaterialLesson])
}
