package db_test

import (
	"context"
	"strings"
	"sync"
	"testing"
	"time"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/stock"

	"github.com/google/uuid"
)

// chandler sells latex in tins of one litre for 16.
func chandler(t testing.TB, c *stock.Catalogue) (stock.Supplier, stock.Offer) {
	t.Helper()
	s, err := c.KeepSupplier(t.Context(), stock.Supplier{Name: "Harrow Chandlery", LeadDays: 3})
	if err != nil {
		t.Fatal(err)
	}
	o, err := c.KeepPack(t.Context(), stock.Offer{Item: "latex", Supplier: s.ID, Pack: dec("1")}, stock.Price{From: stock.Day(noon).AddDate(0, 0, -1), Amount: dec("16")}, "wren")
	if err != nil {
		t.Fatal(err)
	}
	return s, o
}

// says is a refusal's kind and the problems it names, by field.
func says(t *testing.T, err error, kind fault.Kind, field, word string) {
	t.Helper()
	if fault.KindOf(err) != kind {
		t.Errorf("%s: kind %d, want %d: %v", field, fault.KindOf(err), kind, err)
	}
	for _, p := range fault.ProblemsOf(err) {
		if p.Field == field && strings.Contains(p.Remedy, word) {
			return
		}
	}
	t.Errorf("%s %q is not said: %v", field, word, err)
}

// A button pressed twice, or an answer that got lost, buys and receives once.
func TestNothingIsBoughtOrReceivedTwice(t *testing.T) {
	t.Parallel()
	d := shelfOf(t, stock.Average)
	keepTin(t, d, "latex")
	now := func() time.Time { return noon }
	service := stock.NewService(d.Stock(), now)
	supplier, tin := chandler(t, stock.NewCatalogue(d.Catalogue(), now))

	id := uuid.NewString()
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			p, err := service.OrderOnce(context.Background(), id, supplier.ID, []stock.Asked{{Offer: tin.ID, Packs: 6}}, "", "wren")
			if err != nil || p.ID != id || len(p.Lines) != 1 {
				t.Errorf("%+v %v", p, err)
			}
		})
	}
	all.Wait()
	if n := value[int](t, d, "SELECT count(*)::int FROM purchase"); n != 1 {
		t.Fatalf("%d purchases", n)
	}
	none, came := 0, []stock.Arrived{{Offer: tin.ID, Packs: 2, Price: dec("16")}}
	came[0].Had = &none
	for n := range 4 {
		all.Go(func() {
			if _, err := service.Arrive(context.Background(), id, came, false, "wren"); err != nil && !strings.Contains(err.Error(), "By now 2 of 6") {
				t.Errorf("%d: %v", n, err)
			}
		})
	}
	all.Wait()
	lot := uuid.NewString()
	for range 4 {
		all.Go(func() {
			_, err := service.Receive(context.Background(), stock.Delivery{ID: lot, Item: "latex", Quantity: dec("0.5"), Cost: dec("8")}, "wren")
			if err != nil && (fault.KindOf(err) != fault.Conflict || !strings.Contains(err.Error(), "on the shelf already")) {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if card, err := service.Card(t.Context(), "latex", 0, 9); err != nil || !card.Balance.OnHand.Equal(dec("2.5")) || len(card.Moves) != 2 {
		t.Errorf("%s on hand after %v, %v", card.Balance.OnHand, card.Moves, err)
	}
	addsUp(t, d, "latex")
}

// What cannot be is refused by the name of its entry, with what to do instead.
func TestTheShelfRefusesByName(t *testing.T) {
	t.Parallel()
	d := shelfOf(t, stock.Average)
	keepTin(t, d, "latex")
	ctx, now := t.Context(), func() time.Time { return noon }
	service, list := stock.NewService(d.Stock(), now), stock.NewCatalogue(d.Catalogue(), now)
	if _, err := list.KeepItem(ctx, stock.Item{Code: "rivet", Name: "Rivet", Unit: measure.Each, Good: &materials.Good{}}); err != nil {
		t.Fatal(err)
	}
	supplier, tin := chandler(t, list)
	order := anOrder(t, d, 1)
	asked := []stock.Asked{{Offer: tin.ID, Packs: 2}}

	_, err := list.KeepOffer(ctx, stock.Offer{Item: "rivet", Supplier: supplier.ID, Pack: dec("2.5")})
	says(t, err, fault.Invalid, "pack", "0 places")
	_, err = service.Order(ctx, supplier.ID, append(asked, asked...), "", "wren")
	says(t, err, fault.Invalid, "packs."+tin.ID, "twice")
	_, err = service.OrderOnce(ctx, "mine", supplier.ID, asked, "", "wren")
	says(t, err, fault.Invalid, "id", "UUID")
	p, err := service.Order(ctx, supplier.ID, asked, "", "wren")
	if err != nil {
		t.Fatal(err)
	}
	other := tin
	other.Pack = dec("5")
	_, err = list.KeepOffer(ctx, other)
	says(t, err, fault.Invalid, "pack", "ordered already")
	_, err = service.Arrive(ctx, p.ID, []stock.Arrived{{Offer: tin.ID, Packs: 1, Price: dec("1.00001")}}, false, "wren")
	says(t, err, fault.Invalid, "price."+tin.ID, "four places")
	tin.Retired = true
	if tin, err = list.KeepOffer(ctx, tin); err != nil {
		t.Fatal(err)
	}
	_, err = service.Order(ctx, supplier.ID, asked, "", "wren")
	says(t, err, fault.Invalid, "packs."+tin.ID, "does not sell")

	for _, from := range []string{"nobody", uuid.NewString()} {
		_, err = service.Receive(ctx, stock.Delivery{Item: "latex", Supplier: from, Quantity: dec("1"), Cost: dec("1")}, "wren")
		says(t, err, fault.Invalid, "supplier", "no such supplier")
	}
	_, err = service.Receive(ctx, stock.Delivery{ID: "mine", Item: "latex", Label: "a\x00b", Quantity: dec("1000001"), Cost: dec("1")}, "wren")
	says(t, err, fault.Invalid, "id", "UUID")
	says(t, err, fault.Invalid, "label", "character")
	says(t, err, fault.Invalid, "quantity", "up to 1000000")
	says(t, service.Waste(ctx, "latex", uuid.NewString(), dec("1"), "spilt", "wren"), fault.Invalid, "lot", "not on the shelf")

	used := func(item, quantity, note string) error {
		return d.Stock().ActOnStock(ctx, func(tx stock.Tx) error {
			_, err := stock.Consume(ctx, tx, order, []stock.Used{{Item: item, Quantity: dec(quantity), Note: note}}, true, "wren", noon)
			return err
		})
	}
	says(t, used("rivet", "0.5", ""), fault.Invalid, "used.rivet", "0 places")
	says(t, used("latex", "-1", ""), fault.Invalid, "used.latex", "above 0")
	says(t, used("latex", "1", strings.Repeat("x", 401)), fault.Invalid, "used.latex", "too long")
	if n := value[int](t, d, "SELECT count(*)::int FROM movement"); n != 0 {
		t.Errorf("%d movements", n)
	}
}

// An order may wait for what is no longer offered: it is bought as far as orders want it and no further.
func TestWhatIsNoLongerOfferedIsBoughtForOrders(t *testing.T) {
	t.Parallel()
	d := shelfOf(t, stock.Average)
	keepTin(t, d, "latex")
	ctx, now := t.Context(), func() time.Time { return noon }
	service, list := stock.NewService(d.Stock(), now), stock.NewCatalogue(d.Catalogue(), now)
	supplier, _ := chandler(t, list)
	line, err := list.Line(ctx, "latex")
	if err != nil {
		t.Fatal(err)
	}
	line.Item.Retired, line.Item.Least = true, dec("9")
	if _, err := list.KeepItem(ctx, line.Item); err != nil {
		t.Fatal(err)
	}
	if buy, nobody, err := service.ToBuy(ctx); err != nil || len(buy)+len(nobody) > 0 {
		t.Errorf("%+v %+v %v", buy, nobody, err)
	}
	order := anOrder(t, d, 1)
	err = d.Stock().ActOnStock(ctx, func(tx stock.Tx) error {
		_, err := stock.Hold(ctx, tx, order, []stock.Need{{Item: "latex", Quantity: dec("1.5"), Due: stock.Day(noon)}}, noon.AddDate(0, 0, 7), noon)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	buy, _, err := service.ToBuy(ctx)
	if err != nil || len(buy) != 1 || buy[0].Supplier.ID != supplier.ID || !buy[0].Lines[0].Missing.Equal(dec("1.5")) || buy[0].Lines[0].Packs[0].Packs != 2 {
		t.Errorf("%+v %v", buy, err)
	}
}
