package db_test

import (
	"slices"
	"testing"
	"time"

	"foamwright/materials/stock"
)

// BenchmarkShelf is what the stock page and the purchase list read, from 5 000 items sold by 20 suppliers at two
// packs each with four prices, and 100 000 movements: 20 an item. The 95th of 100 is told beside the mean.
func BenchmarkShelf(b *testing.B) {
	d := shelfOf(b, stock.Average)
	run(b, d,
		`INSERT INTO item (code, kind, name, unit, place, body, least) SELECT 'item-' || n, 'liquid', 'Item ' || n, 'l', n, json_build_object('Code', 'item-' || n, 'Name', 'Item ' || n, 'Use', 'latex'), n % 9 FROM generate_series(1, 5000) n`,
		`INSERT INTO balance (item, unit, currency) SELECT code, unit, 'EUR' FROM item`,
		`INSERT INTO supplier SELECT gen_random_uuid(), 'Supplier ' || n, '', '', n FROM generate_series(1, 20) n`,
		`INSERT INTO offer (id, item, supplier, pack, article, usual) SELECT gen_random_uuid(), i.code, s.id, p, '', p = 5
			FROM item i JOIN (SELECT id, row_number() OVER () AS no FROM supplier) s ON s.no = i.place % 20 + 1, unnest(ARRAY[1, 5]) p`,
		`INSERT INTO offer_price (offer, valid_from, amount, noted, noted_by) SELECT id, date '2031-01-01' + 20 * n, 10 + n, now(), '' FROM offer, generate_series(1, 4) n`,
		`INSERT INTO lot (id, item, received, label) SELECT gen_random_uuid(), code, timestamptz '2031-01-01', '' FROM item`,
		`INSERT INTO movement (at, item, unit, currency, lot, kind, quantity, cost, lot_cost, note, by_whom)
			SELECT timestamptz '2031-02-01' + n * interval '4 days', l.item, 'l', 'EUR', l.id, CASE WHEN n % 2 = 1 THEN 'receipt' ELSE 'issue' END,
				CASE WHEN n % 2 = 1 THEN 1.5 ELSE -1 END, CASE WHEN n % 2 = 1 THEN 15 ELSE -10 END, CASE WHEN n % 2 = 1 THEN 15 ELSE -10 END, '', 'wren'
			FROM generate_series(1, 20) n, lot l`,
		`ANALYZE`,
	)
	service := stock.NewService(d.Stock(), func() time.Time { return noon })
	for name, act := range map[string]func() error{
		"page":     func() error { _, err := service.List(b.Context(), stock.Found{Most: 100}); return err },
		"search":   func() error { _, err := service.List(b.Context(), stock.Found{Words: "77", Most: 100}); return err },
		"card":     func() error { _, err := service.Card(b.Context(), "item-77", 0, 50); return err },
		"purchase": func() error { _, _, err := service.ToBuy(b.Context()); return err },
		"today":    func() error { _, err := service.Today(b.Context()); return err },
	} {
		b.Run(name, func(b *testing.B) {
			var took []time.Duration
			for b.Loop() {
				began := time.Now()
				if err := act(); err != nil {
					b.Fatal(err)
				}
				took = append(took, time.Since(began))
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
		})
	}
}
