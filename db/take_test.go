package db_test

import (
	"strings"
	"testing"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// What an order takes on the way lowers what it is promised and nothing that others are, as long as it takes no more
// than its own and what is free.
func TestWhatIsTakenLowersThePromise(t *testing.T) {
	t.Parallel()
	d := shelfOf(t, stock.Average)
	ctx := t.Context()
	service := stock.NewService(d.Stock(), func() time.Time { return noon })
	for i, c := range []struct{ name, needs, takes, first, second, onHand string }{
		// Five litres; the first order needs what it says, the second 3 litres; what each still needs and has set aside.
		{"part of it", "2", "0.5", "1.5 1.5", "3 3", "4.5"},
		{"all of it", "2", "2", "", "3 3", "3"},
		{"more, the shelf is what it is", "2", "2.5", "", "3 2.5", "2.5"},
		{"an order that is short keeps nothing at the cost of others", "4", "0.5", "3.5 3.5", "3 1", "4.5"},
		{"nor when it takes all that it has", "6", "5", "1 0", "3 0", "0"},
		{"nothing was promised", "", "0.5", "", "3 3", "4.5"},
		{"more than there is", "2", "5.001", "2 2", "3 3", "5"},
	} {
		code := "latex-" + string(rune('a'+i))
		keepTin(t, d, code)
		if _, err := service.Receive(ctx, stock.Delivery{Item: code, Quantity: dec("5"), Cost: dec("58")}, "wren"); err != nil {
			t.Fatal(err)
		}
		orders := []string{anOrder(t, d, 2*i+1), anOrder(t, d, 2*i+2)}
		err := d.Stock().ActOnStock(ctx, func(tx stock.Tx) error {
			for k, needs := range []string{c.needs, "3"} {
				if needs == "" {
					continue
				}
				if _, err := stock.Hold(ctx, tx, orders[k], []stock.Need{{Item: code, Quantity: dec(needs), Due: noon}}, noon, noon); err != nil {
					return err
				}
				if _, err := stock.Firm(ctx, tx, orders[k], noon, noon); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		err = d.Stock().ActOnStock(ctx, func(tx stock.Tx) error {
			return stock.Take(ctx, tx, orders[0], []stock.Used{{Item: code, Quantity: dec(c.takes), Note: "second coat"}}, "wren", noon)
		})
		if dec(c.takes).GreaterThan(dec("5")) {
			says(t, err, fault.Invalid, "used."+code, "count it first")
		} else if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		for k, want := range []string{c.first, c.second} {
			got := ""
			if err := d.Stock().ActOnStock(ctx, func(tx stock.Tx) error {
				promises, err := tx.PromisesOf(ctx, orders[k])
				for _, p := range promises {
					got = p.Needed.String() + " " + p.Reserved.String()
				}
				return err
			}); err != nil || got != want {
				t.Errorf("%s: order %d has %q, want %q; %v", c.name, k+1, got, want, err)
			}
		}
		if b := balance(t, d, code); !b.OnHand.Equal(dec(c.onHand)) {
			t.Errorf("%s: %s on hand, want %s", c.name, b.OnHand, c.onHand)
		}
		addsUp(t, d, code)
	}
	if n := value[int](t, d, "SELECT count(*)::int FROM movement WHERE kind = 'issue' AND note = 'second coat' AND order_id IS NOT NULL"); n != 6 {
		t.Errorf("%d issues with their note", n)
	}
}

// Every entry that cannot be taken is named, and then nothing is.
func TestNothingIsTakenWhenAnEntryIsWrong(t *testing.T) {
	t.Parallel()
	d := shelfOf(t, stock.FirstIn)
	order := anOrder(t, d, 1)
	var used []stock.Used
	for code, quantity := range map[string]string{"enough": "1", "short": "6", "nothing": "0", "below": "-1", "fine": "0.0001", "noted": "1"} {
		keepTin(t, d, code)
		if _, err := stock.NewService(d.Stock(), func() time.Time { return noon }).Receive(t.Context(), stock.Delivery{Item: code, Quantity: dec("5"), Cost: dec("58")}, "wren"); err != nil {
			t.Fatal(err)
		}
		u := stock.Used{Item: code, Quantity: dec(quantity)}
		if code == "noted" {
			u.Note = strings.Repeat("x", 401)
		}
		used = append(used, u)
	}
	err := d.Stock().ActOnStock(t.Context(), func(tx stock.Tx) error {
		return stock.Take(t.Context(), tx, order, used, "wren", noon)
	})
	for code, word := range map[string]string{"short": "The shelf has 5 l", "nothing": "above 0", "below": "above 0", "fine": "3 places", "noted": "too long"} {
		says(t, err, fault.Invalid, "used."+code, word)
	}
	if len(fault.ProblemsOf(err)) != 5 || !balance(t, d, "enough").OnHand.Equal(dec("5")) {
		t.Error(err)
	}
}
