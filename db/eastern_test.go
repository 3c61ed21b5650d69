package db_test

import (
	"testing"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// In a workshop that is ahead of UTC the morning's day has come, though it has not in UTC; the next one has not.
func TestTheDayHasComeEastOfGreenwich(t *testing.T) {
	t.Parallel()
	d := shelfOf(t, stock.Average)
	keepTin(t, d, "latex")
	morning := time.Date(2026, time.March, 10, 7, 0, 0, 0, time.FixedZone("ten hours east", 10*60*60))
	clock := func() time.Time { return morning }
	shelf, books := stock.NewService(d.Stock(), clock), sales.NewService(d.Sales(), nil, clock)
	lot, err := shelf.Receive(t.Context(), stock.Delivery{Item: "latex", Quantity: dec("1"), Cost: dec("9")}, "wren")
	if err != nil {
		t.Fatal(err)
	}
	today := time.Date(2026, time.March, 10, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		day  time.Time
		want bool
	}{{today.AddDate(0, 0, 1), false}, {today, true}} {
		lot.Opened = c.day
		if err := shelf.MarkLot(t.Context(), lot); (err == nil) != c.want || err != nil && fault.KindOf(err) != fault.Invalid {
			t.Errorf("opened on %s: %v", c.day.Format(time.DateOnly), err)
		}
		order := anOrder(t, d, 700+c.day.Day())
		if _, err := books.DepositCame(t.Context(), order, c.day, sales.OtherWay, ""); (err == nil) != c.want {
			t.Errorf("paid on %s: %v", c.day.Format(time.DateOnly), err)
		}
	}
}
