package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/orderform"
	"foamwright/pricing/figures"
)

// written are the specs of the demo's designs and of testdata, as they were written.
func written(t testing.TB) (all []orderform.Form) {
	t.Helper()
	for _, pattern := range []string{"demo/designs/*.json", "../../testdata/shields/*.json"} {
		files, err := filepath.Glob(pattern)
		fatal(t, err)
		for _, file := range files {
			data, err := os.ReadFile(file)
			fatal(t, err)
			var within struct{ Spec json.RawMessage }
			fatal(t, json.Unmarshal(data, &within))
			if within.Spec != nil {
				data = within.Spec
			}
			f, err := orderform.Parse(data)
			fatal(t, err)
			all = append(all, f)
		}
	}
	return all
}

// BenchmarkWhatIf is everything on offer before and after a price moves, in PostgreSQL and through the real service:
// so many open quotes, no two of the same spec. Cold is the first time after the start, warm the next move. 500 are to
// be under 5 s on two cores.
func BenchmarkWhatIf(b *testing.B) {
	b.Cleanup(func(limit int64) func() { return func() { debug.SetMemoryLimit(limit) } }(debug.SetMemoryLimit(memory))) // as the program has it
	b.Cleanup(func(was int) func() { return func() { debug.SetGCPercent(was) } }(debug.SetGCPercent(pace)))
	for _, open := range []int{5, 50, 500} {
		b.Run(fmt.Sprint(open), func(b *testing.B) {
			at := dbtest.URL(b)
			till := openTill(b, at)
			forms := written(b)
			for i := range open {
				f := forms[i%len(forms)]
				change := map[string]string{"name": fmt.Sprintf("%s %d", f.Name, i)}
				spec, err := f.Spec()
				fatal(b, err)
				switch more := float64(i / len(forms)); {
				case !f.Outline.Width.IsZero():
					change["outline.width"] = fmt.Sprintf("%.0f mm", spec.Outline.Width.MM()+more)
				case !f.Outline.Diameter.IsZero():
					change["outline.diameter"] = fmt.Sprintf("%.0f mm", spec.Outline.Diameter.MM()+more)
				}
				f, err = f.With(change)
				fatal(b, err)
				_, err = till.NewQuote(b.Context(), till.customer.ID, f.Name.String(), f)
				fatal(b, err)
			}
			books, err := db.Open(b.Context(), at)
			fatal(b, err)
			b.Cleanup(books.Close)
			look := func(s *figures.Service, m figures.Move) {
				e, err := s.WhatIf(b.Context(), m, func(int, int) {})
				if err != nil || len(e.All) < open*9/10 {
					b.Fatal(len(e.All), len(e.Skipped), err)
				}
			}
			fresh := func() *figures.Service { return figures.NewService(books.Figures(), till.Service, nil, thursday) }
			b.Run("cold", func(b *testing.B) {
				for b.Loop() {
					look(fresh(), figures.Move{Foam: decimal.NewFromInt(12)})
				}
			})
			warm := fresh()
			look(warm, figures.Move{})
			for name, m := range map[string]figures.Move{"foam": {Foam: decimal.NewFromInt(12)}, "coats": {Coats: -2}, "hours": {HoursBy: decimal.NewFromInt(10)}} {
				b.Run("warm "+name, func(b *testing.B) {
					for b.Loop() {
						look(warm, m)
					}
				})
			}
		})
	}
}
