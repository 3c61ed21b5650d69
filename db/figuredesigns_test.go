package db_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"foamwright/db/dbtest"
	"foamwright/pricing"
	"foamwright/pricing/figures"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// pastJob is an order of a history: what was planned for it, what it took, how it stands.
type pastJob struct {
	of                     sales.MadeFrom
	planned                pricing.Costing
	told                   bool // its plan was kept
	material, work, rework decimal.Decimal
	state                  string
	ended                  time.Time
}

const aDesign = "00000000-0000-4000-8000-000000000001"

func pastJobs(r *rapid.T, from time.Time) (all []pastJob) {
	cents := func(name string, most int) money.Amount {
		return money.Round(decimal.New(int64(rapid.IntRange(0, most).Draw(r, name)), -2), "EUR")
	}
	for range rapid.IntRange(0, 12).Draw(r, "jobs") {
		j := pastJob{told: rapid.IntRange(0, 5).Draw(r, "told") > 0, state: rapid.SampledFrom([]string{"done", "done", "done", "booked", "cancelled"}).Draw(r, "state")}
		if v := rapid.IntRange(0, 2).Draw(r, "version"); v > 0 {
			j.of = sales.MadeFrom{ID: aDesign, Version: v}
		}
		j.ended = from.AddDate(0, 0, rapid.IntRange(-3, 400).Draw(r, "ended"))
		j.planned = pricing.Costing{
			Quantity: rapid.IntRange(1, 9).Draw(r, "pieces"), Net: cents("net", 99_999), Fee: cents("fee", 999), Material: cents("material", 30_000), Handling: cents("handling", 3000),
			Labour: cents("labour", 60_000), BoughtIn: cents("bought in", 5000), Contingency: cents("contingency", 5000), Hours: decimal.New(int64(rapid.IntRange(0, 3000).Draw(r, "hours")), -2),
		}
		j.planned.Low, j.planned.High = j.planned.Hours, j.planned.Hours
		j.material = cents("took", 40_000).Decimal()
		j.work, j.rework = decimal.New(int64(rapid.IntRange(0, 100_000).Draw(r, "work")), -2), decimal.New(int64(rapid.IntRange(0, 9999).Draw(r, "rework")), -2)
		all = append(all, j)
	}
	return all
}

// write puts a job into the books past the program, the way the program leaves it.
func (j pastJob) write(ctx context.Context, tx pgx.Tx, no int) error {
	id := fmt.Sprintf("%08d-0000-4000-8000-000000000009", no)
	var design, version any
	if j.of.ID != "" {
		design, version = j.of.ID, j.of.Version
	}
	if _, err := tx.Exec(ctx, `INSERT INTO quote (id, series, year, no, version, state, customer_id, title, form, edit, created, changed, issued_at, issued_by, valid_until, currency, net, gross, snapshot, document, printed, design_id, design_version)
		VALUES ($1, 'T', 2026, $2, 1, 'accepted', $1, 'Kite', '{}', 1, $3, $3, $3, 'Wren', $3, 'EUR', $4, $4, sha256(''), sha256(''), '{}', $5, $6)`, id, no, j.ended, j.planned.Net.Decimal(), design, version); err != nil {
		return err
	}
	ended := &j.ended
	if j.state == "booked" {
		ended = nil
	}
	if _, err := tx.Exec(ctx, `INSERT INTO sales_order (id, series, year, no, quote_id, customer_id, title, state, accepted, deposit_due, paid, starts, ended, reason, edit, terms, currency, deposit)
		VALUES ($1, 'T', 2026, $2, $1, $1, 'Kite', $3, $4::timestamptz, $4::timestamptz, $4::timestamptz, $4::timestamptz, $5, '', 1, '{}', 'EUR', 0)`, id, no, j.state, j.ended, ended); err != nil {
		return err
	}
	c := j.planned
	parts := []any{c.Fee.Decimal(), c.Material.Decimal(), c.Handling.Decimal(), c.Labour.Decimal(), c.BoughtIn.Decimal(), c.Contingency.Decimal(), c.Hours, c.Low, c.High, 0, 0}
	if !j.told {
		parts = make([]any, len(parts))
	}
	if _, err := tx.Exec(ctx, "INSERT INTO quote_figures (quote_id, quantity, currency, net, fee, material, handling, labour, bought_in, contingency, hours, low, high, former_days, drying_days) VALUES ($1, $2, 'EUR', $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)",
		append([]any{id, c.Quantity, c.Net.Decimal()}, parts...)...); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, `INSERT INTO order_figures (order_id, quantity, currency, net, gross, fee, material, handling, labour, bought_in, contingency, hours, low, high, former_days, drying_days, took_material, took_minutes, took_rework, design_id, design_version)
		VALUES ($1, $2, 'EUR', $3, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19)`,
		append(append([]any{id, c.Quantity, c.Net.Decimal()}, parts...), j.material, j.work, j.rework, design, version)...)
	return err
}

// TestJobsSumToTheCent: on random histories what the books sum by design and version is what its jobs sum to, each
// worked out by Costing.Took; and every job that is listed says the same. Histories lie ten years apart in one database.
func TestJobsSumToTheCent(t *testing.T) {
	t.Parallel()
	ctx, books := t.Context(), dbtest.New(t)
	fatal(t, books.Act(ctx, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, `INSERT INTO snapshot (hash, body) VALUES (sha256(''), '{}'); INSERT INTO document (hash, name, bytes) VALUES (sha256(''), 'quote.pdf', '');
			INSERT INTO design (id, name, note, form, changed) VALUES ('`+aDesign+`', 'Kite', '', '{}', now());
			INSERT INTO design_version (design_id, version, name, form, since) SELECT id, v, name, form, changed FROM design, generate_series(1, 2) v;
			ALTER TABLE order_figures DISABLE TRIGGER took_follows`) // what orders took is written here, not logged
		return err
	}))
	no, histories := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		if histories == 30 { // enough, each is a transaction of its own
			return
		}
		histories++
		span := figures.Span{From: time.Date(1900+10*histories, 6, 1, 0, 0, 0, 0, time.UTC), Currency: "EUR"}
		span.To = span.From.AddDate(1, 0, 0)
		past := pastJobs(r, span.From)
		fatal(t, books.Act(ctx, func(tx pgx.Tx) error {
			for _, j := range past {
				no++
				if _, err := tx.Exec(ctx, `INSERT INTO customer (id, name, email, phone, address, note, changed) VALUES ($1, 'Bram', '', '', '', '', now())`, fmt.Sprintf("%08d-0000-4000-8000-000000000009", no)); err != nil {
					return err
				}
				if err := j.write(ctx, tx, no); err != nil {
					return err
				}
			}
			return nil
		}))
		want, quoted := map[sales.MadeFrom]figures.Done{}, map[sales.MadeFrom]figures.Quoted{}
		for _, j := range past {
			if j.ended.Before(span.From) || !j.ended.Before(span.To) {
				continue
			}
			if j.of.ID != "" {
				quoted[j.of] = quoted[j.of].Of(figures.Quoted{
					Quotes: 1, Pieces: j.planned.Quantity, Net: j.planned.Net,
					Sizes: map[int]figures.Quoted{j.planned.Quantity: {Quotes: 1, Pieces: j.planned.Quantity, Net: j.planned.Net}},
				})
			}
			switch d := (figures.Done{Untold: 1}); {
			case j.state != "done":
			case !j.told:
				want[j.of] = want[j.of].Of(d)
			default:
				took := j.planned.Took(money.Round(j.material, "EUR"), j.work.Add(j.rework))
				want[j.of] = want[j.of].Of(figures.Done{Jobs: 1, Planned: j.planned, Actual: took, Rework: j.rework.DivRound(decimal.NewFromInt(60), 2)})
			}
		}
		fatal(t, books.Figures().Look(ctx, func(tx figures.Tx) error {
			done, err := tx.Done(ctx, span)
			fatal(t, err)
			if diff := cmp.Diff(want, done, same()); diff != "" {
				r.Fatalf("jobs (written, summed): %s", diff)
			}
			asked, err := tx.Quoted(ctx, span)
			fatal(t, err)
			if diff := cmp.Diff(quoted, asked, same()); diff != "" {
				r.Fatalf("quotes (written, summed): %s", diff)
			}
			one := span
			one.Design = aDesign
			jobs, err := tx.Jobs(ctx, one, 0, 0)
			fatal(t, err)
			rows := map[sales.MadeFrom]figures.Done{}
			for _, j := range jobs {
				rows[j.Design] = rows[j.Design].Of(j.Done)
			}
			alone, err := tx.Done(ctx, one)
			fatal(t, err)
			for of, d := range want {
				if of.ID != "" && !cmp.Equal(d, alone[of], same()) {
					r.Fatalf("of %v alone: %s", of, cmp.Diff(d, alone[of], same()))
				}
				if d.Untold = 0; of.ID != "" && d.Jobs > 0 && !cmp.Equal(d, rows[of], same()) {
					r.Fatalf("rows of %v: %s", of, cmp.Diff(d, rows[of], same()))
				}
			}
			return nil
		}))
	})
}

// same compares amounts and decimals by what they are worth.
func same() cmp.Options {
	return cmp.Options{
		cmp.Comparer(func(a, b decimal.Decimal) bool { return a.Equal(b) }),
		cmp.Comparer(func(a, b money.Amount) bool { return a.Decimal().Equal(b.Decimal()) }),
	}
}
