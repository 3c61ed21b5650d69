package db_test

import (
	"context"
	"errors"
	"sync"
	"testing"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/fault"

	"github.com/jackc/pgx/v5"
)

// shelf is a database with two rows of one sheet each.
func shelf(t testing.TB) *db.DB {
	t.Helper()
	d := dbtest.New(t)
	run(t, d, `CREATE TABLE shelf (item integer PRIMARY KEY, sheets integer NOT NULL)`, `INSERT INTO shelf VALUES (1, 1), (2, 1)`)
	return d
}

func TestActAllOrNothing(t *testing.T) {
	t.Parallel()
	d := shelf(t)
	add := `UPDATE shelf SET sheets = sheets + 1`
	mine := errors.New("changed my mind")
	err := d.Act(t.Context(), func(tx pgx.Tx) error {
		return errors.Join(executing(t.Context(), add)(tx), mine)
	})
	if !errors.Is(err, mine) {
		t.Error(err)
	}
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic was swallowed")
			}
		}()
		d.Act(t.Context(), func(tx pgx.Tx) error {
			executing(t.Context(), add)(tx)
			panic("in the middle")
		})
	}()
	if got := value[int](t, d, `SELECT sum(sheets)::int FROM shelf`); got != 2 {
		t.Errorf("%d sheets after two acts that failed", got)
	}
	run(t, d, add)
	if got := value[int](t, d, `SELECT sum(sheets)::int FROM shelf`); got != 4 {
		t.Errorf("%d sheets after one that did not", got)
	}
}

// TestActRepeatsSerializationFailure: a real one, since the act asks for a stricter isolation and another
// commits between its look and its change. The error passes through translate inside, as in a Store.
func TestActRepeatsSerializationFailure(t *testing.T) {
	t.Parallel()
	d := shelf(t)
	runs := 0
	err := d.Act(t.Context(), func(tx pgx.Tx) error {
		runs++
		if err := executing(t.Context(), `SET TRANSACTION ISOLATION LEVEL REPEATABLE READ`, `SELECT * FROM shelf`)(tx); err != nil {
			return err
		}
		if runs == 1 {
			run(t, d, `UPDATE shelf SET sheets = 10 WHERE item = 1`)
		}
		err := executing(t.Context(), `UPDATE shelf SET sheets = sheets + 1 WHERE item = 1`)(tx)
		return db.Translate(err)
	})
	if err != nil || runs != 2 {
		t.Errorf("%d runs: %v", runs, err)
	}
	if got := value[int](t, d, `SELECT sheets FROM shelf WHERE item = 1`); got != 11 {
		t.Errorf("%d sheets, want 11", got)
	}
}

// TestActRepeatsDeadlock: two acts that take two rows in opposite order both come through.
func TestActRepeatsDeadlock(t *testing.T) {
	t.Parallel()
	d := shelf(t)
	var both, acts sync.WaitGroup
	both.Add(2)
	var mutex sync.Mutex
	runs := 0
	for _, order := range [][2]string{{"1", "2"}, {"2", "1"}} {
		var once sync.Once
		acts.Go(func() {
			err := d.Act(t.Context(), func(tx pgx.Tx) error {
				mutex.Lock()
				runs++
				mutex.Unlock()
				if err := executing(t.Context(), `UPDATE shelf SET sheets = sheets + 1 WHERE item = `+order[0])(tx); err != nil {
					return err
				}
				once.Do(func() { // on the first run each waits until the other has its first row
					both.Done()
					both.Wait()
				})
				return executing(t.Context(), `UPDATE shelf SET sheets = sheets + 1 WHERE item = `+order[1])(tx)
			})
			if err != nil {
				t.Error(err)
			}
		})
	}
	acts.Wait()
	if got := value[int](t, d, `SELECT sum(sheets)::int FROM shelf`); got != 6 || runs < 3 {
		t.Errorf("%d sheets after %d runs, want 6 after 3 or more", got, runs)
	}
}

// TestActGivesUp: a race that is lost every time ends in a sentence, not in an endless loop.
func TestActGivesUp(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	runs := 0
	lose := executing(t.Context(), `DO $$ BEGIN RAISE EXCEPTION 'lost' USING ERRCODE = '40001'; END $$`)
	err := d.Act(t.Context(), func(tx pgx.Tx) error {
		runs++
		return lose(tx)
	})
	if fault.KindOf(err) != fault.Conflict || runs != db.Tries {
		t.Errorf("%d runs: %v", runs, err)
	}
}

// TestActEndsWithContext: an act whose author has gone is rolled back and not repeated.
func TestActEndsWithContext(t *testing.T) {
	t.Parallel()
	d := shelf(t)
	ctx, cancel := context.WithCancel(t.Context())
	runs := 0
	err := d.Act(ctx, func(tx pgx.Tx) error {
		runs++
		cancel()
		return executing(t.Context(), `DELETE FROM shelf`, `DO $$ BEGIN RAISE EXCEPTION 'lost' USING ERRCODE = '40001'; END $$`)(tx)
	})
	if err == nil || runs != 1 {
		t.Errorf("%d runs: %v", runs, err)
	}
	if err := d.Act(ctx, func(pgx.Tx) error { return nil }); !errors.Is(err, context.Canceled) || fault.KindOf(err) != fault.Internal {
		t.Error(err)
	}
	if got := value[int](t, d, `SELECT count(*)::int FROM shelf`); got != 2 {
		t.Errorf("%d rows", got)
	}
}
