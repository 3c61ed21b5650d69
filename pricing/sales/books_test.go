package sales_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"testing"
	"time"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"
)

// typist prints a sheet as its options and figures in plain text: the same sheet gives the same bytes.
type typist struct{ sales.Renderer }

func (typist) Quote(_ context.Context, s sales.Sheet) ([]byte, error) {
	text, err := json.Marshal(s.Options)
	return fmt.Appendf(text, " %s v%d %s", s.Number, s.Version, s.Estimate.Price.Gross), err
}
func (typist) Letter(_ context.Context, l sales.Letter) ([]byte, error) { return []byte(l.Name), nil }

func (typist) Picture(sales.Sheet) string { return "" }

// books are the demo workshop's on a real database, with a clock that stands.
type books struct {
	*sales.Service
	t        testing.TB
	store    *db.DB
	now      *time.Time
	customer sales.Customer
}

// openBooks begins books after change has had its way with the settings.
func openBooks(t testing.TB, change func(*workshop.Workshop)) *books {
	t.Helper()
	now := tuesday
	store := dbtest.New(t)
	b := &books{t: t, now: &now, store: store}
	b.Service = sales.NewService(store.Sales(), typist{}, func() time.Time { return *b.now })
	first, err := demo.Workshop(now)
	fatal(t, err)
	if change != nil {
		change(&first)
	}
	fatal(t, b.Begin(t.Context(), first, demo.Stock(now)))
	b.customer, err = b.KeepCustomer(t.Context(), sales.Customer{Name: "Mara Quist"})
	fatal(t, err)
	return b
}

// design is a design of the demo after changes.
func design(t testing.TB, name string, changes map[string]string) orderform.Form {
	t.Helper()
	data, err := os.ReadFile("../../cmd/foamwright/demo/designs/" + name + ".json")
	fatal(t, err)
	f, err := orderform.Parse(data)
	fatal(t, err)
	f, err = f.With(changes)
	fatal(t, err)
	return f
}

// small is a round without anything, quick to estimate.
func small(t testing.TB) orderform.Form {
	t.Helper()
	f, err := orderform.Parse([]byte(`{"name": "Target", "outline": {"shape": "round", "diameter": "30 cm"}, "core": {"foam": "mat-10", "layers": 2}}`))
	fatal(t, err)
	return f
}

func (b *books) draft(f orderform.Form, options ...sales.Option) sales.Quote {
	b.t.Helper()
	q, err := b.NewQuote(b.t.Context(), b.customer.ID, f.Name.String(), f)
	fatal(b.t, err)
	if len(options) > 0 {
		q, err = b.SaveOptions(b.t.Context(), q.ID, q.Edit, options)
		fatal(b.t, err)
	}
	return q
}

// shown is what an issuer sees of a draft.
func (b *books) shown(q sales.Quote) sales.Shown {
	b.t.Helper()
	e, err := b.Estimate(b.t.Context(), q.CustomerID, q.Form)
	fatal(b.t, err)
	return sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}
}

func (b *books) issue(q sales.Quote) sales.Quote {
	b.t.Helper()
	q, err := b.Issue(b.t.Context(), q.ID, b.shown(q), "Wren")
	fatal(b.t, err)
	q, err = b.Quote(b.t.Context(), q.ID)
	fatal(b.t, err)
	return q
}

// estimate is a form with today's figures, by the effort quotes are issued with.
func (b *books) estimate(f orderform.Form) pricing.Estimate {
	b.t.Helper()
	w, err := b.Workshop(b.t.Context())
	fatal(b.t, err)
	spec, err := f.Spec()
	fatal(b.t, err)
	e, err := pricing.Make(b.t.Context(), spec, w.Snapshot(*b.now), pricing.Issue)
	fatal(b.t, err)
	return e
}
