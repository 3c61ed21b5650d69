package db_test

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// shelfOf is a workshop's books with a currency and a way of costing, and nothing on the shelf.
func shelfOf(t testing.TB, costing stock.Costing) *db.DB {
	t.Helper()
	d := dbtest.New(t)
	w := workshop.Usual()
	w.Head.Name, w.Costing, w.Figures.Rates.Currency = "Kestrel Yard Propworks", costing, "EUR"
	if err := d.Sales().Act(t.Context(), func(tx sales.Tx) error { return tx.SetWorkshop(t.Context(), w) }); err != nil {
		t.Fatal(err)
	}
	return d
}

// keepTin lists a liquid counted in litres.
func keepTin(t rapid.TB, d *db.DB, code string) {
	err := d.Stock().ActOnStock(context.Background(), func(tx stock.Tx) error {
		return tx.KeepItem(context.Background(), stock.Item{Code: code, Name: "Latex " + code, Unit: measure.Litre, Liquid: &materials.Liquid{Code: code, Name: "Latex " + code, Use: materials.UseLatex}})
	})
	if err != nil {
		t.Fatal(err)
	}
}

// anOrder is the row of an order of a quote that was issued, without a document worth reading.
func anOrder(t rapid.TB, d *db.DB, no int) string {
	id := uuid.NewString()
	customer, quote := uuid.NewString(), uuid.NewString()
	for _, statement := range []string{
		`INSERT INTO snapshot VALUES (decode(repeat('00', 32), 'hex'), '') ON CONFLICT DO NOTHING`,
		`INSERT INTO document VALUES (decode(repeat('00', 32), 'hex'), 'quote.pdf', '') ON CONFLICT DO NOTHING`,
		fmt.Sprintf(`INSERT INTO customer VALUES ('%s', 'Jonas', '', '', '', '', now())`, customer),
		fmt.Sprintf(`INSERT INTO quote VALUES ('%s', '', 2026, %d, 1, 'issued', '%s', 'Tidewall heater', '{}', 1, now(), now(), now(), 'wren', now(), 'EUR', 1, 1,
			decode(repeat('00', 32), 'hex'), decode(repeat('00', 32), 'hex'), '{}')`, quote, no, customer),
		fmt.Sprintf(`INSERT INTO sales_order VALUES ('%s', '', 2026, %d, '%s', '%s', 'Tidewall heater', 'accepted', now(), now(), NULL, now(), NULL, '', 0, '{}', 'EUR', 0)`, id, no, quote, customer),
	} {
		if err := d.Act(context.Background(), executing(context.Background(), statement)); err != nil {
			t.Fatal(err)
		}
	}
	return id
}

// Whatever happens to a tin, what is left is the sum of its movements, its value what came in less what went out
// to the cent, and no drop is promised twice. The database says the same as the code.
func TestShelfAddsUp(t *testing.T) {
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
				code := fmt.Sprintf("latex-%d", count.Add(1))
				keepTin(t, d, code)
				orders := []string{anOrder(t, d, int(count.Add(1))), anOrder(t, d, int(count.Add(1)))}
				litres := func() decimal.Decimal { return decimal.New(rapid.Int64Range(1, 3_000).Draw(t, "ml"), -3) }
				act := func(do func(stock.Tx) error) error { return d.Stock().ActOnStock(ctx, do) }
				for range rapid.IntRange(1, 10).Draw(t, "acts") {
					now = now.Add(time.Hour)
					order := rapid.SampledFrom(orders).Draw(t, "order")
					var err error
					switch what := rapid.SampledFrom([]string{"receive", "receive", "waste", "count", "hold", "firm", "release", "consume", "take", "return"}).Draw(t, "what"); what {
					case "receive":
						_, err = service.Receive(ctx, stock.Delivery{Item: code, Quantity: litres(), Cost: decimal.New(rapid.Int64Range(0, 9_999).Draw(t, "cents"), -2)}, "wren")
					case "waste":
						err = service.Waste(ctx, code, "", litres(), "dried up", "wren")
					case "count":
						_, err = service.Stocktake(ctx, []stock.Finding{{Item: code, Expected: balance(t, d, code).OnHand, Found: litres().Sub(dec("0.001")), Why: "counted"}}, "wren")
					case "hold":
						err = act(func(tx stock.Tx) error {
							_, err := stock.Hold(ctx, tx, order, []stock.Need{{Item: code, Quantity: litres(), Due: now}}, now.Add(90*time.Minute), now)
							return err
						})
					case "firm":
						err = act(func(tx stock.Tx) error { _, err := stock.Firm(ctx, tx, order, now, now); return err })
					case "release":
						err = act(func(tx stock.Tx) error { return stock.Release(ctx, tx, order, now) })
					case "consume":
						err = act(func(tx stock.Tx) error {
							_, err := stock.Consume(ctx, tx, order, []stock.Used{{Item: code, Quantity: litres()}}, rapid.Bool().Draw(t, "done"), "wren", now)
							return err
						})
					case "take":
						err = act(func(tx stock.Tx) error {
							return stock.Take(ctx, tx, order, []stock.Used{{Item: code, Quantity: litres()}}, "wren", now)
						})
					case "return":
						err = service.Return(ctx, code, order, litres(), "left over", "wren")
					}
					if k := fault.KindOf(err); err != nil && k != fault.Shortage && k != fault.Invalid {
						t.Fatalf("%v", err)
					}
					addsUp(t, d, code)
				}
			})
		})
	}
}

func balance(t rapid.TB, d *db.DB, code string) (b stock.Balance) {
	if err := d.Stock().ActOnStock(context.Background(), func(tx stock.Tx) error {
		rows, err := tx.Rows(context.Background(), stock.Found{Item: code, At: noon})
		if err == nil {
			b = rows[0].Balance
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return b
}

// addsUp holds the balance against the ledger, the lots and the promises, and the two ways of costing against
// what came in and went out.
func addsUp(t rapid.TB, d *db.DB, code string) {
	ctx := context.Background()
	err := d.Stock().ActOnStock(ctx, func(tx stock.Tx) error {
		found, err := tx.LockBalances(ctx, []string{code})
		if err != nil {
			return err
		}
		b := found[code]
		moves, err := tx.Movements(ctx, code, 0, 1_000_000)
		if err != nil {
			return err
		}
		quantity, value, lotValue := decimal.Zero, money.Round(decimal.Zero, "EUR"), money.Round(decimal.Zero, "EUR")
		for _, m := range moves {
			quantity, value, lotValue = quantity.Add(m.Quantity), value.Add(m.Cost), lotValue.Add(m.LotCost)
		}
		lots, err := tx.Lots(ctx, []string{code})
		if err != nil {
			return err
		}
		left, worth := decimal.Zero, money.Round(decimal.Zero, "EUR")
		for _, l := range lots {
			left, worth = left.Add(l.Left), worth.Add(l.Value)
		}
		promises, err := tx.Promises(ctx, []string{code})
		if err != nil {
			return err
		}
		reserved, waits := decimal.Zero, false
		for _, p := range promises {
			reserved = reserved.Add(p.Reserved)
			waits = waits || p.Firm && p.Short().IsPositive()
		}
		switch {
		case !b.OnHand.Equal(quantity) || !b.OnHand.Equal(left):
			t.Errorf("%s on hand, %s moved, %s in lots", b.OnHand, quantity, left)
		case !b.Value.Equal(value) || !worth.Equal(lotValue):
			t.Errorf("worth %s, %s by the ledger; lots %s, %s by the ledger", b.Value, value, worth, lotValue)
		case !b.Reserved.Equal(reserved) || reserved.GreaterThan(b.OnHand) || waits && b.Free().IsPositive():
			t.Errorf("%s reserved, %s promised, %s on hand, somebody waits: %t", b.Reserved, reserved, b.OnHand, waits)
		case b.OnHand.IsZero() && b.Value.Sign() != 0:
			t.Errorf("nothing left is worth %s", b.Value)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The database refuses by itself what the code would never do.
func TestTheShelfIsGuarded(t *testing.T) {
	t.Parallel()
	d := shelfOf(t, stock.Average)
	keepTin(t, d, "latex")
	order := anOrder(t, d, 1)
	service := stock.NewService(d.Stock(), func() time.Time { return noon })
	lot, err := service.Receive(t.Context(), stock.Delivery{Item: "latex", Quantity: dec("5"), Cost: dec("58")}, "wren")
	if err != nil {
		t.Fatal(err)
	}
	move := func(item, unit, currency, lot, kind, quantity, cost string) string {
		return fmt.Sprintf(`INSERT INTO movement (at, item, unit, currency, lot, kind, quantity, cost, lot_cost, note, by_whom)
			VALUES (now(), '%s', '%s', '%s', %s, '%s', %s, %s, %s, '', '')`, item, unit, currency, lot, kind, quantity, cost, cost)
	}
	in := "'" + lot.ID + "'"
	for name, statement := range map[string]string{
		"a movement changed":            `UPDATE movement SET quantity = 4`,
		"a movement taken out":          `DELETE FROM movement`,
		"the ledger emptied":            `TRUNCATE movement CASCADE`,
		"a balance written":             `UPDATE balance SET on_hand = 9`,
		"a balance taken out":           `DELETE FROM balance`,
		"a lot written":                 `UPDATE lot SET left_over = 9`,
		"a lot made out of nothing":     `INSERT INTO lot (id, item, received, label, left_over) VALUES (gen_random_uuid(), 'latex', now(), '', 1)`,
		"a lot of another item":         `UPDATE lot SET item = 'latex', received = now()`,
		"more out than there is":        move("latex", "l", "EUR", in, "issue", "-5.001", "-1"),
		"in other units":                move("latex", "kg", "EUR", in, "receipt", "1", "1"),
		"in another currency":           move("latex", "l", "USD", in, "receipt", "1", "1"),
		"out as a receipt":              move("latex", "l", "EUR", in, "receipt", "-1", "-1"),
		"value against quantity":        move("latex", "l", "EUR", in, "count", "1", "-1"),
		"finer than is kept":            move("latex", "l", "EUR", in, "receipt", "1.00001", "1"),
		"without a lot":                 move("latex", "l", "EUR", "NULL", "receipt", "1", "1"),
		"worth more than there is":      move("latex", "l", "EUR", in, "issue", "-1", "-58.01"),
		"more promised than there is":   `INSERT INTO promise VALUES ('` + order + `', 'latex', 9, 5.001, true, NULL, now(), now())`,
		"more set aside than is needed": `INSERT INTO promise VALUES ('` + order + `', 'latex', 1, 2, true, NULL, now(), now())`,
		"held for ever":                 `INSERT INTO promise VALUES ('` + order + `', 'latex', 1, 1, false, NULL, now(), now())`,
		"another unit afterwards":       `UPDATE item SET unit = 'kg'`,
		"another currency afterwards":   `UPDATE balance SET currency = 'USD'`,
	} {
		if err := d.Act(t.Context(), executing(t.Context(), statement)); err == nil {
			t.Errorf("%s is let through", name)
		} else if fault.KindOf(err) == fault.Internal {
			t.Errorf("%s: not told in words: %v", name, err)
		}
	}
	addsUp(t, d, "latex")
}
