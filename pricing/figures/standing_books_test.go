package figures_test

import (
	"testing"
	"time"

	"foamwright/pricing/workshop"
)

// Rent and hours change in March: January and February keep what they had, in the books, whatever is set afterwards.
func TestMonthsKeepWhatWasSetInThem(t *testing.T) {
	h := begin(t)
	change := func(now time.Time, do func(*workshop.Workshop)) {
		t.Helper()
		h.now = now
		w, err := h.Workshop(h.ctx)
		if err != nil {
			t.Fatal(err)
		}
		do(&w)
		if err := h.SetWorkshop(h.ctx, w, "Wren"); err != nil {
			t.Fatal(err)
		}
	}
	months := func() (costs, there []string) {
		t.Helper()
		all, err := h.figures.Months(h.ctx, time.Date(2026, 1, 1, 0, 0, 0, 0, harrow()), time.Date(2026, 4, 1, 0, 0, 0, 0, harrow()))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range all {
			costs, there = append(costs, m.Fixed.String()), append(there, m.There.String())
		}
		return costs, there
	}
	_, was := months()
	change(time.Date(2026, 3, 1, 0, 30, 0, 0, harrow()), func(w *workshop.Workshop) { w.FixedCosts, w.People = dec("600"), 2 })
	change(time.Date(2026, 3, 20, 9, 0, 0, 0, harrow()), func(w *workshop.Workshop) { w.FixedCosts = dec("610") })
	change(time.Date(2026, 4, 2, 9, 0, 0, 0, harrow()), func(w *workshop.Workshop) { w.Figures.Calendar.Hours[time.Monday] = 0 })
	costs, there := months()
	for i, want := range []string{"480.00", "480.00", "610.00", "610.00"} {
		if costs[i] != want {
			t.Errorf("month %d: fixed costs %s, want %s", i+1, costs[i], want)
		}
	}
	if there[0] != was[0] || there[1] != was[1] || there[2] != dec(was[2]).Mul(dec("2")).String() || dec(there[3]).GreaterThanOrEqual(dec(was[3]).Mul(dec("2"))) {
		t.Errorf("hours there %v, before %v", there, was)
	}
}
