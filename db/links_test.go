package db_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"foamwright/db/dbtest"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// What customers wrote stays as they wrote it, whoever asks: only that it was settled is noted, once. A link is kept as a
// digest of the right length and nothing else.
func TestMessagesAndLinksStay(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	do := func(statement string, args ...any) error {
		return d.Act(t.Context(), func(tx pgx.Tx) error {
			_, err := tx.Exec(context.Background(), statement, args...)
			return err
		})
	}
	for _, statement := range []string{
		"INSERT INTO customer (id, name, email, phone, address, note, changed) VALUES ('01890000-0000-7000-8000-000000000001', 'Ilse', '', '', '', '', now())",
		`INSERT INTO quote (id, series, year, no, version, state, customer_id, title, form, edit, created, changed) VALUES ('01890000-0000-7000-8000-000000000002', '', 0, 0, 1, 'draft', '01890000-0000-7000-8000-000000000001', '', '{}', 0, now(), now())`,
		`INSERT INTO quote_message (id, quote_id, kind, at, name, body, options, language) VALUES ('01890000-0000-7000-8000-000000000003', '01890000-0000-7000-8000-000000000002', 'question', now(), 'Ilse', 'Why?', '{}', 'en')`,
	} {
		if err := do(statement); err != nil {
			t.Fatal(err, errors.Unwrap(err))
		}
	}
	refused := func(statement string, args ...any) {
		t.Helper()
		var pg *pgconn.PgError
		if err := do(statement, args...); !errors.As(err, &pg) || pg.Code != "23001" && pg.Code != "23514" {
			t.Errorf("%s: %v", statement, err)
		}
	}
	refused("UPDATE quote_message SET body = 'because'")
	refused("UPDATE quote_message SET body = 'because', settled = now()")
	if err := do("UPDATE quote_message SET settled = now()"); err != nil {
		t.Error(err)
	}
	refused("UPDATE quote_message SET settled = NULL")
	refused("UPDATE quote_message SET settled = $1", time.Now().Add(time.Hour))
	refused("DELETE FROM quote_message")
	refused("TRUNCATE quote_message")
	refused("INSERT INTO quote_link (id, digest, series, year, no, made, by_whom) VALUES ('01890000-0000-7000-8000-000000000004', 'the secret itself', '', 2026, 1, now(), 'x')")
	refused("INSERT INTO quote_message (id, quote_id, kind, at, name, body, options, language) VALUES ('01890000-0000-7000-8000-000000000005', '01890000-0000-7000-8000-000000000002', 'question', now(), 'Ilse', '', '{}', 'en')")
}
