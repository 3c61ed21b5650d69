package dbtest_test

import (
	"context"
	"errors"
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"foamwright/db/dbtest"

	"github.com/jackc/pgx/v5"
)

// TestNewApart: what one test writes no other test sees, and many may begin at once.
func TestNewApart(t *testing.T) {
	var databases sync.Map
	for range 8 {
		t.Run("", func(t *testing.T) {
			t.Parallel()
			var name string
			var others int
			err := dbtest.New(t).Act(t.Context(), func(tx pgx.Tx) error {
				if _, err := tx.Exec(t.Context(), `CREATE TABLE mine (n integer)`); err != nil {
					return err
				}
				if err := tx.QueryRow(t.Context(), `SELECT fits(1.25, 2)::int - 1`).Scan(&others); err != nil {
					return err
				}
				return tx.QueryRow(t.Context(), `SELECT current_database()`).Scan(&name)
			})
			if err != nil || others != 0 {
				t.Fatal(err, others)
			}
			if _, twice := databases.LoadOrStore(name, true); twice {
				t.Errorf("two tests share %s", name)
			}
		})
	}
}

// TestFilledOnce: what is filled under a name is filled once, and every test writes into a copy of its own.
func TestFilledOnce(t *testing.T) {
	var filled atomic.Int32
	act := func(ctx context.Context, url, statement string) error {
		conn, err := pgx.Connect(ctx, url)
		if err != nil {
			return err
		}
		_, err = conn.Exec(ctx, statement)
		return errors.Join(err, conn.Close(ctx))
	}
	for range 4 {
		t.Run("", func(t *testing.T) {
			t.Parallel()
			url := dbtest.Filled(t, "once", func(ctx context.Context, url string) error {
				filled.Add(1)
				return act(ctx, url, `CREATE TABLE mine (n integer PRIMARY KEY)`)
			})
			if err := act(t.Context(), url, `INSERT INTO mine VALUES (1)`); err != nil || filled.Load() != 1 {
				t.Errorf("filled %d times; %v", filled.Load(), err)
			}
		})
	}
}

// TestNewCleansUp: the database is gone when its test has ended.
func TestNewCleansUp(t *testing.T) {
	var url string
	t.Run("has one", func(t *testing.T) { url = dbtest.URL(t) })
	conn, err := pgx.Connect(t.Context(), url)
	if err == nil {
		conn.Close(context.Background())
		t.Errorf("%s is still there", url)
	}
}

// round is a benchmark whose cleanups run at the end of each iteration.
type round struct {
	testing.TB
	cleanups []func()
}

func (r *round) Cleanup(f func()) { r.cleanups = append(r.cleanups, f) }

func (r *round) end() {
	for _, f := range slices.Backward(r.cleanups) {
		f()
	}
}

// BenchmarkNew is the price of a database per test: make, open, drop.
func BenchmarkNew(b *testing.B) {
	dbtest.New(b) // starts the server and makes the template
	for b.Loop() {
		r := &round{TB: b}
		dbtest.New(r)
		r.end()
	}
}
