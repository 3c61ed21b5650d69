package db

import (
	"context"
	"errors"
	"math/rand/v2"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

const (
	tries = 6                    // runs of one act before its author is asked to try again
	pause = 5 * time.Millisecond // mean wait before the second run; doubles each time: 155 ms in all
)

// Act runs one act of the workshop as one READ COMMITTED transaction: all of its rows or none. When
// PostgreSQL gives it up for a serialization failure or a deadlock it runs again from the start, a bounded
// number of times, here and nowhere else: so do's only effects are rows. The error of do comes back as it is
// when it is a fault, otherwise translated; when ctx ends, the transaction is rolled back.
func (d *DB) Act(ctx context.Context, do func(pgx.Tx) error) error {
	var err error
	for try := range tries {
		err = pgx.BeginTxFunc(ctx, d.pool, pgx.TxOptions{IsoLevel: pgx.ReadCommitted}, do)
		if err == nil || !lostRace(err) || try == tries-1 || !rest(ctx, pause<<try) {
			break
		}
	}
	return translate(err)
}

// lostRace tells that PostgreSQL ended a transaction only because of what others did at the same time.
func lostRace(err error) bool {
	var refused *pgconn.PgError
	return errors.As(err, &refused) && (refused.Code == serializationFailure || refused.Code == deadlockDetected)
}

// rest waits about mean, at random between half and one and a half so that two losers do not meet again;
// false when ctx ended first.
func rest(ctx context.Context, mean time.Duration) bool {
	timer := time.NewTimer(mean/2 + rand.N(mean))
	defer timer.Stop()
	select {
	case <-timer.C:
		return true
	case <-ctx.Done():
		return false
	}
}
