package sales_test

import (
	"testing"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// The day that an order begins on is one of the workshop's calendar, whatever hour of it is told: in the morning of the
// far east it is still the day before at Greenwich.
func TestADayToBeginOn(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	taken, err := b.Accept(t.Context(), b.issue(b.draft(small(t))).ID, sales.Choice{}, "Wren")
	fatal(t, err)
	for name, c := range map[string]struct {
		day time.Time
		may bool
	}{
		"now": {*b.now, true}, "today": {march(3), true}, "late today": {b.now.Add(15 * time.Hour), true},
		"yesterday": {march(2), false}, "late yesterday": {b.now.Add(-9 * time.Hour), false},
		"in five years": {b.now.AddDate(5, 0, 0), true}, "later": {b.now.AddDate(5, 0, 1), false},
	} {
		got, err := b.Start(t.Context(), taken.Order.ID, c.day)
		if c.may && (err != nil || !got.Order.Starts.Equal(stock.Day(c.day))) || !c.may && fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: begins %s, %v", name, got.Order.Starts, err)
		}
	}
}
