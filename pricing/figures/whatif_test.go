package figures

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

func plain(t *testing.T) (*Service, offering) {
	snap, err := demo.Snapshot(time.Date(2026, time.March, 5, 10, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	form, err := orderform.Parse([]byte(`{"name": "Target", "outline": {"shape": "round", "diameter": "30 cm"}, "core": {"foam": "mat-10", "layers": 1}, "coat": {"system": "latex", "coats": 4}}`))
	if err != nil {
		t.Fatal(err)
	}
	b, err := based(snap)
	if err != nil {
		t.Fatal(err)
	}
	return NewService(nil, nil, nil, nil), offering{Shifted: Shifted{Kind: ADesign, Was: Weighed{ID: "1", Name: "Target"}}, form: form, figures: &b}
}

// Whatever moves, the price that is named restores the margin aimed at, and what is below it is what leaves less at the
// old price; dearer foam, a higher rate and more hours never cost less, fewer coats never more.
func TestRestoringPriceRestores(t *testing.T) {
	s, target := plain(t)
	rapid.Check(t, func(t *rapid.T) {
		percent := func(name string, least, most int) decimal.Decimal {
			return decimal.NewFromInt(int64(rapid.IntRange(least, most).Draw(t, name)))
		}
		m := Move{Foam: percent("foam", -50, 300), Materials: percent("materials", -50, 300), Rate: percent("rate", 0, 90), HoursBy: percent("hours", -50, 100), Coats: rapid.IntRange(-3, 3).Draw(t, "coats"), Margin: percent("margin", 0, 60)}
		after := m.figures(target.figures.Snapshot)
		got, err := s.shift(t.Context(), target, m, after)
		if err != nil {
			t.Fatal(err)
		}
		// Prices are rounded up to a whole unit, with tax, and the net is half a cent off at most.
		if short := after.Rates.Margin.Sub(got.Now.Margin().Share); short.GreaterThan(decimal.New(1, -3)) {
			t.Fatalf("%s leaves %s, aimed at %s", got.Now.Price, got.Now.Margin().Percent(), after.Rates.Margin)
		}
		if got.Below != got.Held.Share.Round(4).LessThan(after.Rates.Margin) || got.Short().Sign() < 0 || !got.Below && got.Short().Sign() != 0 {
			t.Fatalf("%+v", got)
		}
		dearer := !m.Foam.IsNegative() && !m.Materials.IsNegative() && !m.HoursBy.IsNegative() && m.Coats >= 0 && (m.Rate.IsZero() || m.Rate.GreaterThanOrEqual(target.figures.Rates.Hour))
		if dearer && got.Dearer().Sign() < 0 {
			t.Fatalf("%+v costs %s less", m, got.Dearer())
		}
	})
}

// A coat too many is refused in words; what has none gets none; one always stays.
func TestCoatsStayWithinWhatCanBePutOn(t *testing.T) {
	_, target := plain(t)
	spec, err := target.form.Spec()
	if err != nil {
		t.Fatal(err)
	}
	for move, want := range map[int]int{-2: 2, -9: 1, 8: 12, 0: 4} {
		if got, err := (Move{Coats: move}).spec(spec); err != nil || got.Coat.Coats != want {
			t.Errorf("%+d: %d coats, %v", move, got.Coat.Coats, err)
		}
	}
	if _, err := (Move{Coats: 9}).spec(spec); fault.KindOf(err) != fault.Invalid {
		t.Errorf("13 coats: %v", err)
	}
	spec.Coat.Coats = 0
	if got, err := (Move{Coats: 3}).spec(spec); err != nil || got.Coat.Coats != 0 {
		t.Errorf("none: %d coats, %v", got.Coat.Coats, err)
	}
}

// What nobody waits for ends; what cannot be priced is told; a panic is an error and not the end of the program.
func TestEachOfEndsTogether(t *testing.T) {
	all := make([]offering, 200)
	refused := fault.New(fault.Invalid, "It has no foam.")
	last := 0
	made, skipped, err := eachOf(t.Context(), all, func(n, of int) { last = n }, func(offering) (int, error) { return 0, refused })
	if err != nil || len(made) != 0 || len(skipped) != 200 || last != 200 {
		t.Errorf("%d made, %d skipped, told %d, %v", len(made), len(skipped), last, err)
	}
	ctx, leave := context.WithCancel(t.Context())
	var begun atomic.Int32
	_, _, err = eachOf(ctx, all, func(n, _ int) {
		if n == 5 {
			leave()
		}
	}, func(offering) (int, error) { begun.Add(1); return 0, nil })
	if fault.KindOf(err) != fault.Unavailable || begun.Load() > 50 {
		t.Errorf("given up after 5, %d were begun: %v", begun.Load(), err)
	}
	_, _, err = eachOf(t.Context(), all, func(int, int) {}, func(offering) (int, error) { panic("broken") })
	if err == nil || fault.KindOf(err) != fault.Internal || !strings.Contains(err.Error(), "broken") {
		t.Errorf("a panic: %v", err)
	}
	inside := errors.New("inside")
	if _, _, err = eachOf(t.Context(), all, func(int, int) {}, func(offering) (int, error) { return 0, inside }); !errors.Is(err, inside) {
		t.Errorf("%v", err)
	}
}

// By hand: two people, five days of eight hours a week, from Monday 7 to Friday 11 December 2026 are 80 hours. A slot
// from Monday 15:00 to Tuesday 11:00 is two hours and two of one person; what lies outside the days does not count.
func TestCapacityOfDays(t *testing.T) {
	w, err := demo.Workshop(time.Date(2026, time.December, 1, 10, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	w.People, w.Places = 2, map[string]int{schedule.Former: 1, schedule.DryingPlace: 3}
	at := func(day, hour int) time.Time { return time.Date(2026, time.December, day, hour, 0, 0, 0, time.UTC) }
	slot := func(place string, people int, start, end, ready time.Time) schedule.Slot {
		return schedule.Slot{Task: schedule.Task{Place: place}, People: people, Start: start, End: end, Ready: ready}
	}
	days := []sales.OnBench{
		{Booked: true, Plan: schedule.Plan{Slots: []schedule.Slot{slot("", 1, at(7, 15), at(8, 11), at(8, 11)), slot(schedule.DryingPlace, 2, at(11, 16), at(14, 10), at(15, 10)), slot(schedule.Former, 1, at(1, 9), at(1, 17), at(2, 9))}}},
		{Plan: schedule.Plan{Slots: []schedule.Slot{slot(schedule.Former, 1, at(9, 9), at(9, 10), at(10, 9))}}},
	}
	got := capacities(w, days, at(7, 0), at(12, 0))
	for scarce, want := range map[Scarce][4]string{BenchHours: {"80", "6", "1", "73"}, FormerDays: {"5", "0", "1", "4"}, DryingDays: {"15", "0.33", "0", "14.67"}} {
		c := got[scarce]
		for i, is := range []decimal.Decimal{c.There, c.Booked, c.Awaited, c.Left()} {
			if !is.Equal(decimal.RequireFromString(want[i])) {
				t.Errorf("%s, %d: %s, by hand %s", scarce, i, is, want[i])
			}
		}
	}
	for now, want := range map[time.Time]time.Time{at(20, 9).AddDate(0, -1, 0): at(1, 0), at(20, 9): at(20, 9), at(20, 9).AddDate(0, 1, 0): at(1, 0).AddDate(0, 1, 0)} {
		var month Taking
		month.stretch(workshop.Workshop{}, at(1, 0), now)
		if !month.From.Equal(want) || !month.To.Equal(at(1, 0).AddDate(0, 1, 0)) {
			t.Errorf("at %s from %s to %s", now, month.From, month.To)
		}
	}
}
