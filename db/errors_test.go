package db_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/fault"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// TestTranslate holds what the driver really says against the faults it becomes. Three of the constraints have names that
// are told of in words.
func TestTranslate(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	run(t, d, `CREATE TABLE items (id integer PRIMARY KEY)`,
		`CREATE TABLE lots (number integer CONSTRAINT credit_fits UNIQUE, sheets integer CONSTRAINT never_below_nothing CHECK (sheets > 0),
			item integer CONSTRAINT offer_item REFERENCES items, width integer CHECK (width < 5000), note text, extra jsonb)`,
		`INSERT INTO items VALUES (1)`, `INSERT INTO lots VALUES (1, 1, 1)`)
	nul := func(tx pgx.Tx) error {
		_, err := tx.Exec(t.Context(), `INSERT INTO lots (note) VALUES ($1)`, "a\x00b")
		return err
	}
	nothing := func(tx pgx.Tx) error {
		var n int
		return tx.QueryRow(t.Context(), `SELECT number FROM lots WHERE number = 7`).Scan(&n)
	}
	late := func(tx pgx.Tx) error {
		ctx, cancel := context.WithTimeout(t.Context(), 1)
		defer cancel()
		_, err := tx.Exec(ctx, `SELECT pg_sleep(1)`)
		return err
	}
	do := func(sql ...string) func(pgx.Tx) error { return executing(t.Context(), sql...) }
	for _, c := range []struct {
		name  string
		do    func(pgx.Tx) error
		kind  fault.Kind
		field string
		words string
	}{
		{"unique, known", do(`INSERT INTO lots (number) VALUES (1)`), fault.Conflict, "amount", "left of the invoice"},
		{"unique, not known", do(`INSERT INTO items VALUES (1)`), fault.Conflict, "", "already an entry"},
		{"check, known", do(`INSERT INTO lots (sheets) VALUES (0)`), fault.Invalid, "quantity", "more than the shelf has"},
		{"check, not known", do(`INSERT INTO lots (width) VALUES (9000)`), fault.Invalid, "", "outside what"},
		{"reference, known", do(`INSERT INTO lots (item) VALUES (2)`), fault.NotFound, "item", "no such item"},
		{"no row", nothing, fault.NotFound, "", "no such entry"},
		{"too large", do(`INSERT INTO lots (width) VALUES (9999999999)`), fault.Invalid, "", "larger"},
		{"U+0000", nul, fault.Invalid, "", "character"},
		{"U+0000 in JSON", do(`INSERT INTO lots (extra) VALUES ('"\u0000"')`), fault.Invalid, "", "character"},
		{"read only", do(`SET TRANSACTION READ ONLY`, `DELETE FROM lots`), fault.Unavailable, "", "only be read"},
		{"server's patience", do(`SET LOCAL statement_timeout = 1`, `SELECT pg_sleep(1)`), fault.Unavailable, "", "try again"},
		{"our patience", late, fault.Unavailable, "", "try again"},
		{"connection ended", do(`SELECT pg_terminate_backend(pg_backend_pid())`), fault.Unavailable, "", "try again"},
		{"disk full", do(`DO $$ BEGIN RAISE EXCEPTION 'x' USING ERRCODE = '53100'; END $$`), fault.Unavailable, "", "disk"},
		{"our own mistake", do(`SELECT no_such_column`), fault.Internal, "", "no_such_column"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var raw error
			d.Act(t.Context(), func(tx pgx.Tx) error {
				raw = c.do(tx)
				return raw
			})
			err := db.Translate(raw)
			if fault.KindOf(err) != c.kind || !strings.Contains(err.Error(), c.words) {
				t.Fatalf("%v became kind %v: %v", raw, fault.KindOf(err), err)
			}
			if !errors.Is(err, raw) {
				t.Errorf("the cause %v was lost", raw)
			}
			if c.kind == fault.Internal {
				return
			}
			if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Field != c.field {
				t.Errorf("problems %v, want field %q", p, c.field)
			}
			var refused *pgconn.PgError
			if errors.As(raw, &refused) {
				for _, text := range []string{refused.Message, refused.Code, refused.ConstraintName, refused.TableName} {
					if text != "" && len(text) > 4 && strings.Contains(err.Error(), text) {
						t.Errorf("%q shows the driver's %q", err, text)
					}
				}
			}
		})
	}
}

func TestTranslateDelete(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	run(t, d, `CREATE TABLE items (id integer PRIMARY KEY)`, `CREATE TABLE lots (item integer REFERENCES items)`,
		`INSERT INTO items VALUES (1)`, `INSERT INTO lots VALUES (1)`)
	err := d.Act(t.Context(), func(tx pgx.Tx) error {
		return db.TranslateDelete(executing(t.Context(), `DELETE FROM items`)(tx))
	})
	if fault.KindOf(err) != fault.State || !strings.Contains(err.Error(), "in use") {
		t.Error(err)
	}
}

// TestTranslateLeavesFaults: what a Service said itself goes through untouched.
func TestTranslateLeavesFaults(t *testing.T) {
	t.Parallel()
	mine := fault.New(fault.Shortage, "Three sheets are missing.")
	if err := db.Translate(mine); err != error(mine) {
		t.Error(err)
	}
	if err := db.Translate(nil); err != nil {
		t.Error(err)
	}
}
