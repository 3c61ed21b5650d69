package main

import (
	"io"
	"log/slog"
	"maps"
	"strings"
	"testing"
	"time"

	"foamwright/cmd/foamwright/demo"
	"foamwright/pricing/sales"
)

// TestHistory: the demo has half a year behind it whose numbers follow the calendar, with all that can become of a
// quote in it, and it opens a second time as it was.
func TestHistory(t *testing.T) {
	t.Parallel()
	ctx := t.Context()
	p := &program{in: strings.NewReader(""), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, now: time.Now, log: slog.New(slog.NewTextHandler(t.Output(), nil))}
	shop, err := p.open(ctx, settings{databaseURL: withHistory(t)}, theDemo())
	fatal(t, err)
	defer shop.close()
	again, err := demo.LoadWithHistory(ctx, shop.books(p.now))
	fatal(t, err)
	if again.Customer != "Ilse of the White Fen" {
		t.Errorf("opened again, the demo's quote is %s for %s", again.Number, again.Customer)
	}
	quotes, err := shop.sales.Quotes(ctx, sales.Found{Most: 500})
	fatal(t, err)
	stand := map[sales.Standing]int{}
	for _, q := range quotes {
		stand[shop.sales.Standing(q)]++
		for _, other := range quotes {
			if q.Number.Year == other.Number.Year && q.Version == 1 && other.Version == 1 && q.Number.No < other.Number.No && q.IssuedAt.After(other.IssuedAt) {
				t.Errorf("quote %s was issued after %s", q.Number, other.Number)
			}
		}
	}
	if want := (map[sales.Standing]int{"accepted": 14, "declined": 4, "expired": 2, "open": 3, "replaced": 1}); !maps.Equal(stand, want) {
		t.Errorf("quotes stand %v, want %v", stand, want)
	}
	orders, err := shop.sales.Orders(ctx, sales.Found{Most: 500})
	fatal(t, err)
	ended := map[sales.OrderState]int{}
	for _, o := range orders {
		ended[o.State]++
	}
	if want := (map[sales.OrderState]int{sales.Accepted: 2, sales.Booked: 2, sales.Done: 9, sales.Cancelled: 1}); !maps.Equal(ended, want) {
		t.Errorf("orders are %v, want %v", ended, want)
	}
	events, err := shop.sales.Events(ctx)
	fatal(t, err)
	ready, err := shop.sales.ReadyShields(ctx, false)
	fatal(t, err)
	if len(events) != 1 || len(ready) != 2 {
		t.Errorf("%d events and %d finished shields, want 1 and 2: opened again they are there once", len(events), len(ready))
	}
	owing, err := shop.sales.Owing(ctx)
	fatal(t, err)
	if len(owing.Debtors) == 0 || owing.Debtors[0].Customer != "Corin Hask" || owing.Debtors[0].Late().Sign() <= 0 || len(owing.Unmatched) > 0 {
		t.Errorf("owed is %+v, want Corin Hask late and nothing to be paid back", owing)
	}
}
