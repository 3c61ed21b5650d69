package db

import (
	"context"

	"foamwright/pricing/figures"

	"github.com/jackc/pgx/v5"
)

// figuresStore reads what pays: one read-only snapshot a look.
type figuresStore struct{ *DB }

// Figures is the store of figures.
func (d *DB) Figures() figures.Store { return figuresStore{d} }

func (s figuresStore) Look(ctx context.Context, look func(figures.Tx) error) error {
	return translate(pgx.BeginTxFunc(ctx, s.pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(tx pgx.Tx) error {
		return look(figuresTx{tx})
	}))
}

// figuresTx is one look.
type figuresTx struct{ pgx.Tx }
