package db_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/pricing/figures"

	"github.com/jackc/pgx/v5"
	"pgregory.net/rapid"
)

// pastQuote is a quote number as a history made it: so many versions, the last of which ended so.
type pastQuote struct {
	customer, versions int
	first              time.Time
	outcome            figures.Outcome
	gross              int
	reason             string
	design, enquiry    bool
}

// write puts it into the books past the program, the way the program leaves it.
func (p pastQuote) write(ctx context.Context, tx pgx.Tx, no int, today time.Time) error {
	year, last := p.first.Year(), ""
	for v := 1; v <= p.versions; v++ {
		state, until := "replaced", today.AddDate(0, 0, -1)
		if v == p.versions {
			switch p.outcome {
			case figures.Pending:
				state, until = "issued", today
			case figures.RanOut:
				state = "issued"
			default:
				state = string(p.outcome)
			}
		}
		last = fmt.Sprintf("%08d-0000-4000-8000-%012d", no, v)
		if _, err := tx.Exec(ctx, `INSERT INTO quote (id, series, year, no, version, state, customer_id, title, form, edit, created, changed, issued_at, issued_by, valid_until, currency, net, gross, snapshot, document, printed, design_id, design_version)
			SELECT $1, '', $2, $3, $4, $5, ('00000000-0000-4000-8000-' || lpad(($6::integer)::text, 12, '0'))::uuid, 'Kite', '{}', 1, $7, $7, $7, 'Wren', $8, 'EUR', $9, $9, sha256(''), sha256(''), '{}', d.id, d.version
			FROM (SELECT 1) one LEFT JOIN design d ON $10`, last, year, no, v, state, p.customer, p.first.AddDate(0, 0, v-1), until, p.gross, p.design); err != nil {
			return err
		}
		if v == 1 && p.enquiry {
			if _, err := tx.Exec(ctx, `INSERT INTO enquiry (id, state, words, name, mail, phone, language, answers, letter, quote_id, reason, edit, created, changed, by_whom)
				VALUES ($1, 'quoted', 'A kite', '', '', '', '', '{}', '', $1, '', 1, $2, $2, '')`, last, p.first.AddDate(0, 0, -5)); err != nil {
				return err
			}
		}
	}
	if p.outcome != figures.Won && p.outcome != figures.Lost {
		return nil
	}
	at := p.first.AddDate(0, 0, p.versions+1)
	if _, err := tx.Exec(ctx, `INSERT INTO answer (quote_id, outcome, at, name, by_whom, online, options, document, reason, gross, currency) VALUES ($1, $2, $3, '', 'Wren', false, '{}', sha256(''), $4, $5, 'EUR')`,
		last, string(p.outcome), at, p.reason, p.gross); err != nil {
		return err
	}
	if p.outcome == figures.Lost {
		return nil
	}
	_, err := tx.Exec(ctx, `INSERT INTO sales_order (id, series, year, no, quote_id, customer_id, title, state, accepted, deposit_due, starts, reason, edit, terms, currency, deposit)
		SELECT id, '', year, no, id, customer_id, title, 'accepted', $2::timestamptz, $2::timestamptz, $2::timestamptz, '', 1, '{}', 'EUR', 0 FROM quote WHERE id = $1`, last, at)
	return err
}

// TestOutcomesAreTheQuotes: on random histories every number is there once with how its last version ended, and what is
// grouped sums to what was written. Histories lie ten years apart in one database.
func TestOutcomesAreTheQuotes(t *testing.T) {
	t.Parallel()
	ctx, books := t.Context(), dbtest.New(t)
	fatal(t, books.Act(ctx, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, `INSERT INTO snapshot (hash, body) VALUES (sha256(''), '{}'); INSERT INTO document (hash, name, bytes) VALUES (sha256(''), 'quote.pdf', '');
			INSERT INTO design (id, name, note, form, changed) VALUES ('00000000-0000-4000-8000-000000000001', 'Kite', '', '{}', now());
			INSERT INTO design_version (design_id, version, name, form, since) SELECT id, 1, name, form, changed FROM design`)
		return err
	}))
	no, histories := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		if histories == 40 { // enough, each is a transaction of its own
			return
		}
		histories++
		today := time.Date(2000+10*histories, 6, 1, 0, 0, 0, 0, time.UTC)
		var want figures.Tally
		var past []pastQuote
		for range rapid.IntRange(0, 14).Draw(r, "quotes") {
			p := pastQuote{
				customer: 10*histories + rapid.IntRange(0, 3).Draw(r, "customer"), versions: rapid.IntRange(1, 3).Draw(r, "versions"), first: today.AddDate(0, 0, -rapid.IntRange(5, 300).Draw(r, "first")),
				outcome: rapid.SampledFrom(figures.Endings()).Draw(r, "outcome"), gross: rapid.IntRange(80, 2000).Draw(r, "gross"), reason: rapid.SampledFrom([]string{"", "Too dear", "too  dear"}).Draw(r, "reason"),
				design: rapid.Bool().Draw(r, "design"), enquiry: rapid.Bool().Draw(r, "enquiry"),
			}
			past = append(past, p)
			switch p.outcome {
			case figures.Won:
				want.Accepted++
			case figures.Lost:
				want.Declined++
			case figures.RanOut:
				want.RanOut++
			case figures.Pending:
				want.Open++
			}
		}
		fatal(t, books.Act(ctx, func(tx pgx.Tx) error {
			if _, err := tx.Exec(ctx, `INSERT INTO customer (id, name, email, phone, address, note, changed) SELECT ('00000000-0000-4000-8000-' || lpad(n::text, 12, '0'))::uuid, 'C' || n, '', '', '', '', now() FROM generate_series($1::integer, $1 + 3) n`, 10*histories); err != nil {
				return err
			}
			for _, p := range past {
				no++
				if err := p.write(ctx, tx, no, today); err != nil {
					return err
				}
			}
			return nil
		}))
		o := judged(t, books, today)
		if o.All != want {
			r.Fatalf("counted %+v, written were %+v", o.All, want)
		}
		for _, g := range o.Groups {
			var sum figures.Tally
			for _, row := range g.Rows {
				sum = figures.Tally{Accepted: sum.Accepted + row.Accepted, Declined: sum.Declined + row.Declined, RanOut: sum.RanOut + row.RanOut, Open: sum.Open + row.Open}
				if list, _, found := o.Quotes(figures.Row{Group: g.Key, Key: row.Key}); !found || len(list) != row.All() {
					r.Fatalf("%s, %s counts %d and opens to %d", g.Name, row.Name, row.All(), len(list))
				}
			}
			if sum != want {
				r.Fatalf("rows by %s sum to %+v, all are %+v", g.Name, sum, want)
			}
		}
		list, _, _ := o.Quotes(figures.Row{})
		for _, q := range list {
			p := past[q.Number.No-1-(no-len(past))]
			before := false
			for _, other := range past {
				before = before || other.customer == p.customer && other.outcome == figures.Won && other.first.AddDate(0, 0, other.versions+1).Before(p.first)
			}
			asked := p.first
			if p.enquiry {
				asked = asked.AddDate(0, 0, -5)
			}
			if q.Outcome != p.outcome || q.Version != p.versions || q.Before != before || !q.Asked.Equal(asked) || !q.First.Equal(p.first) || (q.Design != "") != p.design || q.Gross.String() != fmt.Sprintf("%d.00", p.gross) {
				r.Fatalf("quote %s is %+v, was written as %+v, ordered before: %v", q.Number, q, p, before)
			}
		}
	})
}

func judged(t *testing.T, books *db.DB, today time.Time) (o figures.Outcomes) {
	t.Helper()
	fatal(t, books.Figures().Look(t.Context(), func(tx figures.Tx) error {
		list, err := tx.Offered(t.Context(), today.AddDate(-1, 0, 0), today.AddDate(0, 0, 1), today)
		o = figures.Judge(list)
		return err
	}))
	return o
}
