package figures

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/workshop"
)

// A month has what was set in it: from May on two people at 150, from August on three at 200; before May nothing was told
// of the costs. The clock of the workshop is not that of the store, which keeps days.
func TestAMonthHasWhatWasSetInIt(t *testing.T) {
	clock := time.FixedZone("yard", 2*3600)
	until := func(m time.Month) time.Time { return time.Date(2026, m, 1, 0, 0, 0, 0, time.UTC) }
	set := func(until time.Time, costs int64, people int) workshop.Standing {
		return workshop.Standing{Until: until, FixedCosts: decimal.NewFromInt(costs), People: people}
	}
	was, now := []workshop.Standing{set(until(5), 0, 1), set(until(8), 150, 2)}, set(time.Time{}, 200, 3)
	for month, want := range map[time.Month]workshop.Standing{
		1: set(until(5), 150, 1), 4: set(until(5), 150, 1), 5: set(until(8), 150, 2), 7: set(until(8), 150, 2), 8: now, 12: now,
	} {
		if got := asSet(was, now, time.Date(2026, month, 1, 0, 0, 0, 0, clock)); !got.Same(want) || !got.Until.Equal(want.Until) {
			t.Errorf("%s: %s and %d people until %s", month, got.FixedCosts, got.People, got.Until.Format(time.DateOnly))
		}
	}
	if got := asSet(nil, now, until(3)); !got.Same(now) {
		t.Errorf("nothing was ever changed: %+v", got)
	}
}
