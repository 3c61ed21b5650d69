package db_test

import (
	"context"
	"testing"
	"time"

	"foamwright/db"
	"foamwright/materials/geom"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// Whatever came and went under the weighted average: after going over to first in, first out the books of every item
// equal its lots to the cent, what is left of the ledger adds up, and every issue from then on keeps it so. Offcuts,
// which are worth what they are, stay.
func TestRecostMakesTheBooksEqualTheLots(t *testing.T) {
	t.Parallel()
	d := shelfOf(t, stock.Average)
	now := noon
	service := stock.NewService(d.Stock(), func() time.Time { return now })
	items := []string{"latex-a", "latex-b", "latex-never"}
	for _, code := range items {
		keepTin(t, d, code)
	}
	setting := func(t rapid.TB, costing stock.Costing) {
		err := d.Sales().Act(context.Background(), func(tx sales.Tx) error {
			w, err := tx.Workshop(context.Background(), now)
			if err != nil {
				return err
			}
			was := w.Costing
			w.Costing = costing
			if err := tx.SetWorkshop(context.Background(), w); err != nil || was == costing || costing == stock.Average {
				return err
			}
			return stock.Recost(context.Background(), tx, "wren", now)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	offcut(t, d, "latex-a")
	kept := balance(t, d, "latex-a").OffcutValue
	rapid.Check(t, func(t *rapid.T) {
		setting(t, stock.Average)
		for range rapid.IntRange(1, 6).Draw(t, "acts") {
			now = now.Add(time.Hour)
			code := rapid.SampledFrom(items[:2]).Draw(t, "item")
			if rapid.Bool().Draw(t, "in") {
				_, err := service.Receive(context.Background(), stock.Delivery{Item: code, Quantity: decimal.New(rapid.Int64Range(1, 3_000).Draw(t, "ml"), -3), Cost: decimal.New(rapid.Int64Range(0, 9_999).Draw(t, "cents"), -2)}, "wren")
				if err != nil {
					t.Fatal(err)
				}
			} else if there := balance(t, d, code).OnHand; there.IsPositive() {
				part := there.Mul(decimal.New(rapid.Int64Range(1, 10).Draw(t, "tenths"), -1)).RoundUp(3)
				if err := service.Waste(context.Background(), code, "", part, "spilt", "wren"); err != nil {
					t.Fatal(err)
				}
			}
		}
		setting(t, stock.FirstIn)
		equal := func() {
			for _, code := range items {
				card, err := service.Card(context.Background(), code, 0, 1000)
				if err != nil {
					t.Fatal(err)
				}
				worth := money.Round(decimal.Zero, "EUR")
				for _, l := range card.Lots {
					if l.Shape == nil {
						worth = worth.Add(l.Value)
					}
				}
				if !card.Balance.Value.Equal(worth) {
					t.Fatalf("%s: the books say %s, its lots cost %s", code, card.Balance.Value, worth)
				}
			}
		}
		equal()
		addsUp(t, d, "latex-b")
		if there := balance(t, d, "latex-a").OnHand; there.IsPositive() {
			if err := service.Waste(context.Background(), "latex-a", "", there.DivRound(decimal.New(3, 0), 3), "spilt", "wren"); err != nil && there.GreaterThan(dec("0.002")) {
				t.Fatal(err)
			}
			equal()
		}
	})
	if got := balance(t, d, "latex-a").OffcutValue; !got.Equal(kept) {
		t.Errorf("an offcut of %s is worth %s now", kept, got)
	}
}

// offcut puts a piece with a shape on the shelf.
func offcut(t testing.TB, d *db.DB, code string) {
	t.Helper()
	err := d.Stock().ActOnStock(t.Context(), func(tx stock.Tx) error {
		lot := stock.Lot{ID: uuid.NewString(), Item: code, Received: noon, Label: "A corner", Shape: &geom.Shape{}}
		if err := tx.AddLots(t.Context(), []stock.Lot{lot}); err != nil {
			return err
		}
		cost := money.Round(dec("1.50"), "EUR")
		return tx.Move(t.Context(), []stock.Movement{{At: noon, Item: code, Lot: lot.ID, Kind: stock.Kept, Quantity: dec("0.25"), Cost: cost, LotCost: cost}})
	})
	if err != nil {
		t.Fatal(err)
	}
}
