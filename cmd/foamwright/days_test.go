package main

import (
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
)

// Deposits come in at the same moment on two instances: every order gets a place on the bench of its own, nobody is
// at two at once, and what waits for its deposit is planned behind them.
func TestDepositsAtOnce(t *testing.T) {
	url := dbtest.URL(t)
	tills := []*till{openTill(t, url), openTill(t, url)}
	var orders []sales.Order
	for range 9 {
		got, err := tills[0].Accept(t.Context(), tills[0].issued("Target").ID, sales.Choice{}, "Hedda")
		fatal(t, err)
		orders = append(orders, got.Order)
	}
	together(8, func(i int) {
		if _, err := tills[i%2].DepositCame(t.Context(), orders[i].ID, thursday(), sales.OtherWay, ""); err != nil {
			t.Error(err)
		}
	})
	days, err := tills[0].Days(t.Context())
	fatal(t, err)
	if len(days) != 9 || !days[7].Booked || days[8].Booked || days[8].Order.ID != orders[8].ID {
		t.Fatalf("%d orders on the bench", len(days))
	}
	w, err := tills[0].Workshop(t.Context())
	fatal(t, err)
	var all []schedule.Slot
	for _, d := range days {
		if len(d.Plan.Slots) < 5 || d.Plan.Ready.Before(d.Order.Starts) || d.Plan.Slots[0].Start.Before(d.Order.Starts) {
			t.Errorf("order %s: %d slots from %s, ready %s", d.Order.Number, len(d.Plan.Slots), d.Order.Starts, d.Plan.Ready)
		}
		all = append(all, d.Plan.Slots...)
	}
	slices.SortFunc(all, func(a, b schedule.Slot) int { return a.Start.Compare(b.Start) })
	for i, s := range all {
		people := 0
		for _, o := range all[:i+1] {
			if o.End.After(s.Start) {
				people += o.People
			}
		}
		if s.End.After(s.Start) && people > w.People {
			t.Fatalf("%d of %d people at %s", people, w.People, s.Start)
		}
	}

	// Moved to a later day it stands there, and the others stay where they are.
	before := map[string]time.Time{}
	for _, d := range days[:8] {
		before[d.Order.ID] = d.Plan.Ready
	}
	moved := orders[3].Starts.AddDate(0, 0, 28)
	_, err = tills[1].Start(t.Context(), orders[3].ID, moved)
	fatal(t, err)
	days, err = tills[0].Days(t.Context())
	fatal(t, err)
	for _, d := range days[:8] {
		if d.Order.ID == orders[3].ID {
			if d.Plan.Slots[0].Start.Before(moved) {
				t.Errorf("moved to %s, begins %s", moved, d.Plan.Slots[0].Start)
			}
		} else if !d.Plan.Ready.Equal(before[d.Order.ID]) {
			t.Errorf("order %s was ready %s and is now %s", d.Order.Number, before[d.Order.ID], d.Plan.Ready)
		}
	}
	_, err = tills[0].Cancel(t.Context(), orders[0].ID, "the event is off", nil, "Hedda")
	fatal(t, err)
	if days, err = tills[0].Days(t.Context()); err != nil || len(days) != 8 {
		t.Errorf("%d orders, %v", len(days), err)
	}
}

// A log that is sent again, or by many at once, is there once; a correction stands in its place; a clock that starts
// anew stops the one before.
func TestTimeIsLoggedOnce(t *testing.T) {
	till := openTill(t, dbtest.URL(t))
	got, err := till.Accept(t.Context(), till.issued("Target").ID, sales.Choice{}, "Hedda")
	fatal(t, err)
	log := labour.Log{ID: uuid.NewString(), Order: got.Order.ID, Step: "cut", Minutes: decimal.NewFromInt(25), Day: thursday(), By: "wren"}
	var failed sync.Once
	together(16, func(int) {
		if _, err := till.LogTime(t.Context(), log); err != nil {
			failed.Do(func() { t.Error(err) })
		}
	})
	fix := log
	fix.ID, fix.Corrects, fix.Minutes = uuid.NewString(), log.ID, decimal.NewFromInt(35)
	_, err = till.LogTime(t.Context(), fix)
	fatal(t, err)
	fix.ID = uuid.NewString()
	if _, err = till.LogTime(t.Context(), fix); fault.KindOf(err) != fault.Conflict {
		t.Errorf("corrected twice: %v", err)
	}
	for _, bad := range []labour.Log{{Order: log.Order, Step: "cut", Day: thursday()}, {Order: uuid.NewString(), Step: "cut", Minutes: log.Minutes, Day: thursday()},
		{Order: log.Order, Step: "cut", Minutes: log.Minutes, Day: thursday().AddDate(0, 0, 3)}, {ID: "7", Order: log.Order, Step: "cut", Minutes: log.Minutes, Day: thursday()}} {
		if _, err := till.LogTime(t.Context(), bad); fault.KindOf(err) != fault.Invalid && fault.KindOf(err) != fault.NotFound {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	fatal(t, till.StartClock(t.Context(), labour.Clock{By: "wren", Order: log.Order, Step: "glue"}))
	fatal(t, till.StartClock(t.Context(), labour.Clock{By: "wren", Order: log.Order, Step: "edge"}))
	if c, runs, err := till.Clock(t.Context(), "wren"); err != nil || !runs || c.Step != "edge" {
		t.Errorf("%+v %t %v", c, runs, err)
	}
	_, err = till.StopClock(t.Context(), "wren", "", "lifted at the point")
	fatal(t, err)
	if _, err = till.StopClock(t.Context(), "wren", "", ""); fault.KindOf(err) != fault.NotFound {
		t.Errorf("stopped twice: %v", err)
	}
	logs, err := till.Logs(t.Context(), log.Order)
	fatal(t, err)
	if standing := labour.Standing(logs); len(logs) != 4 || len(standing) != 3 {
		t.Errorf("%d logs, %d stand: %+v", len(logs), len(standing), logs)
	}
}

// On the list of the time log stands first what is booked, then what waits for its deposit; a log is corrected only by
// one of its own order.
func TestTheBenchComesFirst(t *testing.T) {
	till := openTill(t, dbtest.URL(t))
	var orders []sales.Order
	for range 3 {
		got, err := till.Accept(t.Context(), till.issued("Target").ID, sales.Choice{}, "Hedda")
		fatal(t, err)
		orders = append(orders, got.Order)
	}
	for _, i := range []int{2, 1} {
		_, err := till.DepositCame(t.Context(), orders[i].ID, thursday(), sales.OtherWay, "")
		fatal(t, err)
	}
	_, err := till.Start(t.Context(), orders[1].ID, orders[1].Starts.AddDate(0, 0, 14))
	fatal(t, err)
	bench, err := till.AtBench(t.Context())
	fatal(t, err)
	if len(bench) != 3 || bench[0].ID != orders[2].ID || bench[1].ID != orders[1].ID || bench[2].ID != orders[0].ID {
		t.Errorf("%+v", bench)
	}
	log, err := till.LogTime(t.Context(), labour.Log{Order: orders[0].ID, Step: "cut", Minutes: decimal.NewFromInt(5), Day: thursday(), By: "wren"})
	fatal(t, err)
	fix := labour.Log{Order: orders[1].ID, Step: "cut", Minutes: decimal.NewFromInt(6), Day: thursday(), By: "wren", Corrects: log.ID}
	if _, err := till.LogTime(t.Context(), fix); fault.KindOf(err) != fault.Invalid || err == nil {
		t.Errorf("corrected from another order: %v", err)
	}
}
