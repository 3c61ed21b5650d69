package db

import (
	"context"
	"time"

	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
)

const waitingColumns = "SELECT id::text, coalesce(customer_id::text, ''), who, wish, since, note, coalesce(enquiry_id::text, ''), added, by_whom, ended, reason FROM waiting "

func scanWaiting(row pgx.CollectableRow) (w sales.Waiting, err error) {
	return w, row.Scan(&w.ID, &w.CustomerID, &w.Who, &w.Wish, &w.Since, &w.Note, &w.EnquiryID, &w.Added, &w.By, (*zeronull.Timestamptz)(&w.Ended), &w.Reason)
}

func (t salesTx) Waiting(ctx context.Context, ended bool) ([]sales.Waiting, error) {
	rule := "WHERE ended IS NULL ORDER BY since, added, id LIMIT 501"
	if ended {
		rule = "WHERE ended IS NOT NULL ORDER BY ended DESC, id LIMIT 200"
	}
	rows, _ := t.Query(ctx, waitingColumns+rule)
	return pgx.CollectRows(rows, scanWaiting)
}

func (t salesTx) LockWaiting(ctx context.Context, id string) (sales.Waiting, error) {
	return oneOf(ctx, t, "entry of the waiting list", scanWaiting, waitingColumns+"WHERE id = $1 FOR UPDATE", id)
}

func (t salesTx) AddWaiting(ctx context.Context, w sales.Waiting) error {
	customer, err := optional(w.CustomerID)
	if err != nil {
		return err
	}
	enquiry, err := optional(w.EnquiryID)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, `INSERT INTO waiting (id, customer_id, who, wish, since, note, enquiry_id, added, by_whom, reason)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, '')`, w.ID, customer, w.Who, w.Wish, w.Since, w.Note, enquiry, w.Added, w.By)
	return err
}

func (t salesTx) EndWaiting(ctx context.Context, id string, at time.Time, reason string) error {
	_, err := t.Exec(ctx, "UPDATE waiting SET ended = $2, reason = $3 WHERE id = $1 AND ended IS NULL", id, at, reason)
	return err
}
