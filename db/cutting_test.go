package db_test

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"foamwright/db"
	"foamwright/materials"
	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing/money"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// mat is the side of the foam that the tests cut, mm.
const mat = 550

// keepMat lists a foam counted in sheets.
func keepMat(t rapid.TB, d *db.DB, code string) {
	mm := measure.Millimetre
	err := d.Stock().ActOnStock(context.Background(), func(tx stock.Tx) error {
		return tx.KeepItem(context.Background(), stock.Of(materials.Foam{
			Code: code, Name: "Mat " + code, Form: materials.Mat, Thickness: 10 * mm, Width: mat * mm, Height: mat * mm, Pitch: mat * mm, Density: dec("90"),
		}))
	})
	if err != nil {
		t.Fatal(err)
	}
}

func box(w, h float64) geom.Shape {
	return geom.Shape{Outer: geom.Ring{{}, {X: w}, {X: w, Y: h}, {Y: h}}}
}

// cutting opens whole mats, cuts from offcuts, and keeps of each a part of a random width.
func cutting(t *rapid.T, item, order string, opened int, offcuts []stock.Lot, at time.Time) stock.Cutting {
	c := stock.Cutting{
		ID: uuid.NewString(), Order: order, Item: item, By: "wren", At: at, Lots: []string{""},
		Job: cutplan.Job{Sheets: []cutplan.Sheet{{Width: mat, Height: mat}}},
	}
	for range opened {
		c.Plan.Sheets = append(c.Plan.Sheets, cutplan.Opened{})
	}
	for i, l := range offcuts {
		c.Lots = append(c.Lots, l.ID)
		c.Job.Sheets = append(c.Job.Sheets, cutplan.Sheet{Shape: *l.Shape, Limit: 1, Offcut: true})
		c.Plan.Sheets = append(c.Plan.Sheets, cutplan.Opened{Sheet: i + 1})
	}
	for i, o := range c.Plan.Sheets {
		room := geom.Rect{Max: geom.Point{X: mat, Y: mat}}
		if o.Sheet > 0 {
			room = c.Job.Sheets[o.Sheet].Shape.Outer.Bounds()
		}
		for range rapid.IntRange(0, 2).Draw(t, "kept") {
			w := rapid.Float64Range(0.01, 0.5).Draw(t, "width") * room.Width()
			shape := geom.Region{box(w, room.Height())}.Transform(geom.Translate(7, 9))[0]
			c.Plan.Offcuts = append(c.Plan.Offcuts, cutplan.Offcut{Sheet: i, Shape: shape, Area: w * room.Height()})
		}
	}
	return c
}

// However foam is bought, cut, kept and thrown away, the whole sheets and the offcuts together are worth what came in
// less what went out, to the cent; no order's foam costs less than nothing; and nobody cuts what is set aside for
// another.
func TestCuttingAddsUp(t *testing.T) {
	t.Parallel()
	for _, costing := range []stock.Costing{stock.Average, stock.FirstIn} {
		t.Run(string(costing), func(t *testing.T) {
			t.Parallel()
			d := shelfOf(t, costing)
			now := noon
			service := stock.NewService(d.Stock(), func() time.Time { return now })
			var count atomic.Int64
			rapid.Check(t, func(t *rapid.T) {
				ctx := context.Background()
				code := fmt.Sprintf("mat-%d", count.Add(1))
				keepMat(t, d, code)
				mine, other := anOrder(t, d, int(count.Add(1))), anOrder(t, d, int(count.Add(1)))
				act := func(do func(stock.Tx) error) error { return d.Stock().ActOnStock(ctx, do) }
				sheets := func(most int) int { return rapid.IntRange(1, most).Draw(t, "sheets") }
				for range rapid.IntRange(2, 10).Draw(t, "acts") {
					now = now.Add(time.Hour)
					before := balance(t, d, code)
					theirs := promised(t, d, other)
					kept := offcuts(t, d, code)
					var err error
					switch rapid.SampledFrom([]string{"receive", "receive", "hold", "reserve", "cut", "cut", "waste"}).Draw(t, "what") {
					case "receive":
						_, err = service.Receive(ctx, stock.Delivery{Item: code, Quantity: decimal.NewFromInt(int64(sheets(9))), Cost: decimal.New(rapid.Int64Range(0, 9_999).Draw(t, "cents"), -2)}, "wren")
					case "hold":
						err = act(func(tx stock.Tx) error {
							_, err := stock.Hold(ctx, tx, mine, []stock.Need{{Item: code, Quantity: decimal.NewFromInt(int64(sheets(4))), Due: now}}, now.Add(90*time.Minute), now)
							return err
						})
					case "reserve":
						err = act(func(tx stock.Tx) error {
							if _, err := stock.Hold(ctx, tx, other, []stock.Need{{Item: code, Quantity: decimal.NewFromInt(int64(sheets(4))), Due: now}}, now.Add(time.Hour), now); err != nil {
								return err
							}
							_, err := stock.Firm(ctx, tx, other, now, now)
							return err
						})
					case "cut":
						take := kept[:rapid.IntRange(0, min(2, len(kept))).Draw(t, "offcuts")]
						opened := rapid.IntRange(0, 4).Draw(t, "opened")
						free := before.OnHand.Sub(theirs)
						err = act(func(tx stock.Tx) error {
							return stock.Cut(ctx, tx, cutting(t, code, mine, opened, take, now), "Mat", "1 of 2026")
						})
						if wrong := decimal.NewFromInt(int64(opened)).GreaterThan(free); wrong != (fault.KindOf(err) == fault.Conflict) {
							t.Errorf("opening %d with %s on hand and %s set aside for another: %v", opened, before.OnHand, theirs, err)
						}
						if after := promised(t, d, other); after.LessThan(theirs) {
							t.Errorf("another's %s became %s", theirs, after)
						}
					case "waste":
						if len(kept) > 0 {
							err = service.Waste(ctx, code, kept[0].ID, decimal.Zero, "too small", "wren")
						}
					}
					if k := fault.KindOf(err); err != nil && k != fault.Conflict {
						t.Fatalf("%v", err)
					}
					cutsAddUp(t, d, code, mine)
				}
			})
		})
	}
}

// promised is what is set aside for an order.
func promised(t rapid.TB, d *db.DB, order string) (reserved decimal.Decimal) {
	if err := d.Stock().ActOnStock(context.Background(), func(tx stock.Tx) error {
		list, err := tx.PromisesOf(context.Background(), order)
		reserved = decimal.Zero
		for _, p := range list {
			reserved = reserved.Add(p.Reserved)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return reserved
}

func offcuts(t rapid.TB, d *db.DB, code string) (kept []stock.Lot) {
	if err := d.Stock().ActOnStock(context.Background(), func(tx stock.Tx) error {
		kept = nil
		lots, err := tx.Lots(context.Background(), []string{code})
		for _, l := range lots {
			if l.Shape != nil {
				kept = append(kept, l)
			}
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return kept
}

// cutsAddUp holds whole sheets and offcuts against the ledger and the lots.
func cutsAddUp(t rapid.TB, d *db.DB, code, order string) {
	ctx := context.Background()
	err := d.Stock().ActOnStock(ctx, func(tx stock.Tx) error {
		found, err := tx.LockBalances(ctx, []string{code})
		if err != nil {
			return err
		}
		b := found[code]
		moves, err := tx.Movements(ctx, code, 0, 1000)
		if err != nil {
			return err
		}
		none := money.Round(decimal.Zero, "EUR")
		quantity, value, lotValue := decimal.Zero, none, none
		for _, m := range moves {
			quantity, value, lotValue = quantity.Add(m.Quantity), value.Add(m.Cost), lotValue.Add(m.LotCost)
			if !m.Cost.Decimal().Equal(m.Cost.Decimal().Round(2)) {
				t.Errorf("a movement of %s", m.Cost)
			}
		}
		lots, err := tx.Lots(ctx, []string{code})
		if err != nil {
			return err
		}
		whole, cut, worth, cutWorth := decimal.Zero, decimal.Zero, none, none
		for _, l := range lots {
			if l.Shape != nil {
				cut, cutWorth = cut.Add(l.Left), cutWorth.Add(l.Value)
			} else {
				whole, worth = whole.Add(l.Left), worth.Add(l.Value)
			}
		}
		_, cost, err := tx.Taken(ctx, order, code)
		if err != nil {
			return err
		}
		switch {
		case !b.OnHand.Add(b.Offcuts).Equal(quantity) || !b.OnHand.Equal(whole) || !b.Offcuts.Equal(cut):
			t.Errorf("%s whole and %s of offcuts, %s moved, %s and %s in lots", b.OnHand, b.Offcuts, quantity, whole, cut)
		case !b.Value.Add(b.OffcutValue).Equal(value) || !b.OffcutValue.Equal(cutWorth) || !worth.Add(cutWorth).Equal(lotValue):
			t.Errorf("worth %s and offcuts %s, %s by the ledger; lots %s and %s, %s by the ledger", b.Value, b.OffcutValue, value, worth, cutWorth, lotValue)
		case b.Reserved.GreaterThan(b.OnHand):
			t.Errorf("%s reserved of %s", b.Reserved, b.OnHand)
		case cost.Sign() < 0:
			t.Errorf("the order's foam costs %s", cost)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
