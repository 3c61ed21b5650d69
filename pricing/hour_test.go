package pricing_test

import (
	"testing"
	"time"

	"foamwright/pricing"
	"foamwright/pricing/schedule"
)

// A price is the same on a Friday evening, a Monday morning and before a week off; only the day it could be ready differs.
func TestPriceKnowsNoHour(t *testing.T) {
	snap := snapshot(t)
	snap.Calendar = schedule.Calendar{Opens: 9 * time.Hour, Hours: [7]time.Duration{0, 8 * time.Hour, 8 * time.Hour, 8 * time.Hour, 8 * time.Hour, 6 * time.Hour, 0}}
	monday := time.Date(2026, 11, 23, 9, 0, 0, 0, time.UTC)
	snap.Calendar.Away = []schedule.Span{{From: monday.AddDate(0, 0, 8), To: monday.AddDate(0, 0, 11)}}
	var first pricing.Estimate
	ready := map[time.Time]bool{}
	for i := range 14 * 4 {
		snap.Now = monday.Add(time.Duration(i) * 6 * time.Hour)
		e, err := pricing.Make(t.Context(), round(), snap, pricing.Live)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = e
		}
		ready[e.Outlook.Ready] = true
		if !e.Price.Gross.Equal(first.Price.Gross) || !e.Work.Hours.Equal(first.Work.Hours) || e.Outlook.WorkingDays != first.Outlook.WorkingDays {
			t.Errorf("on %s it costs %s for %d working days, before %s for %d", snap.Now.Format("Monday 15:04"), e.Price.Gross, e.Outlook.WorkingDays, first.Price.Gross, first.Outlook.WorkingDays)
		}
	}
	if len(ready) < 5 {
		t.Errorf("it is ready at %d moments, whenever it is begun", len(ready))
	}
}
