package main

import (
	"testing"

	"foamwright/db/dbtest"
	"foamwright/pricing/sales"
)

// BenchmarkDays is a bench with 200 booked orders in PostgreSQL: one planned anew, all read for the page, and when one
// more could be ready.
func BenchmarkDays(b *testing.B) {
	till := openTill(b, dbtest.URL(b))
	var last sales.Order
	for range 200 {
		got, err := till.Accept(b.Context(), till.issued("Target").ID, sales.Choice{}, "Hedda")
		fatal(b, err)
		got, err = till.DepositCame(b.Context(), got.Order.ID, thursday(), sales.OtherWay, "")
		fatal(b, err)
		last = got.Order
	}
	e, err := till.Estimate(b.Context(), "", till.form)
	fatal(b, err)
	b.Run("plan anew", func(b *testing.B) {
		for b.Loop() {
			fatal(b, till.Replan(b.Context(), last.ID))
		}
	})
	b.Run("all days", func(b *testing.B) {
		for b.Loop() {
			days, err := till.Days(b.Context())
			if err != nil || len(days) != 200 {
				b.Fatal(len(days), err)
			}
		}
	})
	b.Run("one more", func(b *testing.B) {
		for b.Loop() {
			_, err := till.Fit(b.Context(), e)
			fatal(b, err)
		}
	})
}
