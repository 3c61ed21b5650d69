package db

import (
	"context"
	"encoding/hex"
	"errors"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/money"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// one reads the only row of a query; what names it where there is none.
func one[T any](ctx context.Context, t salesTx, what string, scan pgx.RowToFunc[T], sql string, args ...any) (T, error) {
	rows, _ := t.Query(ctx, sql, args...) // its error comes with the rows
	found, err := pgx.CollectExactlyOneRow(rows, scan)
	return found, missing(err, what)
}

// oneOf is one by an id that came from outside, $1 of the query.
func oneOf[T any](ctx context.Context, t salesTx, what string, scan pgx.RowToFunc[T], sql, id string) (T, error) {
	k, err := key(id)
	if err != nil {
		return *new(T), err
	}
	return one(ctx, t, what, scan, sql, k)
}

// missing names what a query did not find.
func missing(err error, what string) error {
	if errors.Is(err, pgx.ErrNoRows) {
		return fault.New(fault.NotFound, "There is no such %s. It may have been removed.", what).Because(err)
	}
	return err
}

// key reads an id that came from outside; what is no id belongs to nothing.
func key(id string) (uuid.UUID, error) {
	k, err := uuid.Parse(id)
	if err != nil || len(id) != 36 {
		return k, fault.New(fault.NotFound, "There is no such entry. It may have been removed.")
	}
	return k, nil
}

// keysOf are ids that came from outside.
func keysOf(ids []string) ([]uuid.UUID, error) {
	keys := make([]uuid.UUID, len(ids))
	for i, id := range ids {
		k, err := key(id)
		if err != nil {
			return nil, fault.New(fault.NotFound, "There is no such order. It may have been removed.")
		}
		keys[i] = k
	}
	return keys, nil
}

// optional is a reference that may be empty.
func optional(id string) (uuid.NullUUID, error) {
	if id == "" {
		return uuid.NullUUID{}, nil
	}
	k, err := key(id)
	return uuid.NullUUID{UUID: k, Valid: true}, err
}

// nullKey is an id of ours, null for none.
func nullKey(id string) any {
	if id == "" {
		return nil
	}
	return id
}

// day is a date that was read; zero for null.
func day(read *time.Time) time.Time {
	if read == nil {
		return time.Time{}
	}
	return *read
}

// date is a day to be written, null for none.
func date(day time.Time) any {
	if day.IsZero() {
		return nil
	}
	return day.Format(time.DateOnly)
}

// amountOf is money as a row has it; none without a currency.
func amountOf(value decimal.Decimal, c money.Currency) money.Amount {
	if c == "" {
		return money.Amount{}
	}
	return money.Round(value, c)
}

// hash is a SHA-256 as the books have it: written hexadecimal by what is outside, and empty for null.
type hash string

// ScanBytes reads it.
func (h *hash) ScanBytes(sum []byte) error {
	*h = hash(hex.EncodeToString(sum))
	return nil
}

// BytesValue is what is written.
func (h hash) BytesValue() ([]byte, error) {
	if h == "" {
		return nil, nil
	}
	return hex.DecodeString(string(h))
}
