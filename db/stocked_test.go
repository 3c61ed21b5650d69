package db_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"

	"github.com/google/uuid"
)

// glue is what a litre of the contact adhesive costs by the settings that a program reads.
func glue(t testing.TB, d *db.DB) string {
	t.Helper()
	var w workshop.Workshop
	err := d.Sales().Act(t.Context(), func(tx sales.Tx) (err error) {
		w, err = tx.Workshop(t.Context(), march)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range w.Figures.Prices {
		if p.Item == "contact" {
			return p.Amount.String()
		}
	}
	return ""
}

// Two programs share a database: what one commits the other reads at its next estimate, and what is undone nobody.
func TestProgramsReadWhatOthersCommit(t *testing.T) {
	t.Parallel()
	url := dbtest.URL(t)
	var programs [2]*db.DB
	for i := range programs {
		d, err := db.Open(t.Context(), url)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(d.Close)
		programs[i] = d
	}
	began(t, programs[0])
	line, err := stock.NewCatalogue(programs[1].Catalogue(), time.Now).Line(t.Context(), "contact")
	if err != nil {
		t.Fatal(err)
	}
	note := func(ctx context.Context, tx stock.CatalogueTx, amount int) error {
		return tx.NotePrice(ctx, line.Offers[0].ID, stock.Price{From: stock.Day(march), Amount: num(fmt.Sprint(amount)), Noted: march})
	}
	undone := errors.New("undone")
	for amount := 70; amount < 90; amount++ {
		writer, reader := programs[amount%2], programs[1-amount%2]
		before := glue(t, reader)
		err := writer.Sales().Act(t.Context(), func(tx sales.Tx) error {
			if err := note(t.Context(), tx, 1000+amount); err != nil {
				return err
			}
			if w, err := tx.Workshop(t.Context(), march); err != nil || fmt.Sprint(w.Figures.Prices) == "" {
				return err
			}
			if got := glue(t, reader); got != before {
				t.Errorf("%s is read before it is everybody's", got)
			}
			return undone
		})
		if !errors.Is(err, undone) {
			t.Fatal(err)
		}
		if a, b := glue(t, writer), glue(t, reader); a != before || b != before {
			t.Errorf("after it was undone they read %s and %s, not %s", a, b, before)
		}
		catalogue(t, writer, func(ctx context.Context, tx stock.CatalogueTx) error { return note(ctx, tx, amount) })
		if a, b := glue(t, writer), glue(t, reader); a != fmt.Sprint(amount) || b != a {
			t.Errorf("they read %s and %s, not %d", a, b, amount)
		}
	}
}

// big is a catalogue of the demo and of goods up to n items, each with two packs.
func big(n int) stock.List {
	list := demo.Stock(march)
	for i := len(list.Items); i < n; i++ {
		item := stock.Of(materials.Good{Code: fmt.Sprintf("good-%05d", i), Name: fmt.Sprint("Good ", i), Unit: measure.Each, Mass: num("0.012")})
		item.Place = i + 1
		list.Items = append(list.Items, item)
		for pack := 1; pack <= 10; pack *= 10 {
			list.Offers = append(list.Offers, stock.Offer{
				ID: uuid.NewString(), Item: item.Code, Supplier: list.Suppliers[i%3].ID, Pack: num(fmt.Sprint(pack)), Usual: pack == 1,
				Prices: []stock.Price{{From: march.AddDate(0, 0, -30), Amount: num(fmt.Sprintf("%d.%02d", i%50, i%100)), Noted: march}},
			})
		}
	}
	return list
}

// BenchmarkWorkshop is what a live estimate waits for before it can begin, with 5 000 items.
func BenchmarkWorkshop(b *testing.B) {
	d := dbtest.New(b)
	w, err := demo.Workshop(march)
	if err != nil {
		b.Fatal(err)
	}
	s := sales.NewService(d.Sales(), nil, func() time.Time { return march })
	if err := s.Begin(b.Context(), w, big(5000)); err != nil {
		b.Fatal(err)
	}
	read := func(b *testing.B) {
		if w, err := s.Workshop(b.Context()); err != nil || len(w.Figures.Prices) != 5000 {
			b.Fatal(err, len(w.Figures.Prices))
		}
	}
	b.Run("unchanged", func(b *testing.B) {
		for b.Loop() {
			read(b)
		}
	})
	b.Run("changed", func(b *testing.B) {
		for b.Loop() {
			run(b, d, "UPDATE item SET least = least + 1 WHERE code = 'mat-10'")
			read(b)
		}
	})
}
