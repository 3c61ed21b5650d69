package db

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
)

const photoColumns = `SELECT id::text, CASE WHEN order_id IS NOT NULL THEN 'order' WHEN repair_id IS NOT NULL THEN 'repair' ELSE 'enquiry' END,
	coalesce(order_id, repair_id, enquiry_id)::text, width, height, words, taken, by_whom, at, consent, shared, secret_until::timestamp, deleted, deleted_by FROM photo `

func scanPhoto(row pgx.CollectableRow) (p sales.Photo, err error) {
	return p, row.Scan(&p.ID, &p.Of, &p.OfID, &p.Width, &p.Height, &p.Words, &p.Taken, &p.By, &p.At, &p.Consent, &p.Shared,
		(*zeronull.Timestamp)(&p.SecretUntil), (*zeronull.Timestamptz)(&p.Deleted), &p.DeletedBy)
}

// photoOf is the column of what a photo belongs to.
func photoOf(of sales.PhotoOf) (string, error) {
	switch of {
	case sales.PhotoOfOrder:
		return "order_id", nil
	case sales.PhotoOfRepair:
		return "repair_id", nil
	case sales.PhotoOfEnquiry:
		return "enquiry_id", nil
	}
	return "", fault.New(fault.NotFound, "There are photos of orders, repairs and enquiries.")
}

func (t salesTx) Photos(ctx context.Context, of sales.PhotoOf, id string) ([]sales.Photo, error) {
	column, err := photoOf(of)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, photoColumns+"WHERE "+column+" = $1 ORDER BY at DESC, id DESC", nullKey(id))
	return pgx.CollectRows(rows, scanPhoto)
}

func (t salesTx) Photo(ctx context.Context, id string) (sales.Photo, error) {
	return oneOf(ctx, t, "photo", scanPhoto, photoColumns+"WHERE id = $1", id)
}

func (t salesTx) PhotoBytes(ctx context.Context, id string, small bool) (body []byte, err error) {
	k, err := key(id)
	if err != nil {
		return nil, err
	}
	column := map[bool]string{true: "small", false: "jpeg"}[small]
	err = t.QueryRow(ctx, "SELECT "+column+" FROM photo WHERE id = $1 AND deleted IS NULL", k).Scan(&body)
	return body, missing(err, "photo")
}

func (t salesTx) AddPhoto(ctx context.Context, p sales.Photo, jpeg, small []byte) error {
	column, err := photoOf(p.Of)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "INSERT INTO photo (id, "+column+`, jpeg, small, width, height, words, taken, by_whom, at, consent, shared, secret_until)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)`,
		p.ID, p.OfID, jpeg, small, p.Width, p.Height, p.Words, date(p.Taken), p.By, p.At, p.Consent, p.Shared, date(p.SecretUntil))
	return err
}

func (t salesTx) SavePhoto(ctx context.Context, p sales.Photo) error {
	_, err := t.Exec(ctx, "UPDATE photo SET words = $2, taken = $3, consent = $4, shared = $5, secret_until = $6 WHERE id = $1 AND deleted IS NULL",
		p.ID, p.Words, date(p.Taken), p.Consent, p.Shared, date(p.SecretUntil))
	return err
}

func (t salesTx) DeletePhoto(ctx context.Context, id, by string, at time.Time) error {
	k, err := key(id)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "UPDATE photo SET jpeg = NULL, small = NULL, deleted = $2, deleted_by = $3 WHERE id = $1 AND deleted IS NULL", k, at, by)
	return err
}
