package sales_test

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

// tuesday is a morning in a workshop far east of Greenwich, where it is still Monday: days go by the clock on the wall.
var tuesday = time.Date(2026, 3, 3, 8, 0, 0, 0, time.FixedZone("far east", 13*3600))

// kite is the heron of the demo with four coats of latex and two clear ones, after change.
func kite(t testing.TB, others []sales.OnBench, change func(*shield.Spec, *workshop.Workshop)) sales.Fit {
	t.Helper()
	data, err := os.ReadFile("../../cmd/foamwright/demo/designs/heron-kite.json")
	fatal(t, err)
	spec, err := orderform.Read(data)
	fatal(t, err)
	w, err := demo.Workshop(tuesday)
	fatal(t, err)
	spec.Delivery.By, spec.ClearCoats, spec.Coat = time.Time{}, 2, shield.Coat{System: "latex", Coats: 4}
	if change != nil {
		change(&spec, &w)
	}
	e, err := pricing.Make(t.Context(), spec, w.Snapshot(tuesday), 1)
	fatal(t, err)
	fit, err := sales.FitOn(w, others, e, tuesday)
	fatal(t, err)
	return fit
}

func fatal(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func march(day int) time.Time { return time.Date(2026, 3, day, 0, 0, 0, 0, time.UTC) }

// A date is refused in words that say what needs the days, how many there are, and what would do; what would do is
// ready in time.
func TestADateThatCannotBeMet(t *testing.T) {
	free := kite(t, nil, nil)
	if free.Late != "" || free.Impossible || free.Ready == "" || free.Decides == "" || !free.Booked.Ready.Equal(free.Empty.Ready) {
		t.Fatalf("without a date: %+v", free)
	}
	if least := sales.Least(free.Empty); !strings.Contains(least, "it would still take ") || !strings.Contains(least, "“Brace on the former, later off” 18 h") {
		t.Errorf("%q", least)
	}
	if least := sales.Least(schedule.Plan{}); least != "" {
		t.Errorf("of nothing: %q", least)
	}
	if got := free.Booked.Slots[0].Start; got.Before(march(3).Add(8*time.Hour)) || got.After(march(3).Add(12*time.Hour)) {
		t.Errorf("begins %s, the clock on the wall says Tuesday the 3rd, 8 o'clock", got)
	}
	ready := free.Empty.Ready.Truncate(24 * time.Hour)
	before := int(ready.Sub(march(3)).Hours() / 24)
	for _, c := range []struct {
		by          int // days before it would be ready
		weekend     bool
		says, lacks []string
	}{
		{1, true, []string{"Four coats of latex and two clear coats need seven days; ", "is in six: without a clear coat it can be ready"}, []string{"Even"}},
		{before - 3, true, []string{"Friday is in three. Even", "Even without latex and without a clear coat it is not ready before"}, []string{"can be ready"}},
		{before, true, []string{"Tuesday is today"}, nil},
	} {
		by := ready.AddDate(0, 0, -c.by)
		fit := kite(t, nil, func(s *shield.Spec, w *workshop.Workshop) { s.Delivery.By = by })
		if !fit.Impossible {
			t.Errorf("%s: possible?", by)
		}
		for _, want := range c.says {
			if !strings.Contains(fit.Late, want) {
				t.Errorf("%s: nowhere %q in %q", by.Format(time.DateOnly), want, fit.Late)
			}
		}
		for _, no := range c.lacks {
			if strings.Contains(fit.Late, no) {
				t.Errorf("%s: %q in %q", by.Format(time.DateOnly), no, fit.Late)
			}
		}
	}
	if fit := kite(t, nil, func(s *shield.Spec, _ *workshop.Workshop) { s.Delivery.By = ready }); fit.Late != "" {
		t.Errorf("the very day it is ready: %s", fit.Late)
	}
}

// In air that lets nothing dry, and open on every day, going without latex is what saves the date.
func TestWithoutLatexInDampAir(t *testing.T) {
	damp := func(s *shield.Spec, w *workshop.Workshop) {
		for d := range w.Figures.Calendar.Hours {
			w.Figures.Calendar.Hours[d] = 10 * time.Hour
		}
		w.Air[2] = schedule.Climate{Celsius: decimal.NewFromInt(12), Humidity: decimal.NewFromInt(86)}
		s.ClearCoats = 0
	}
	slow := kite(t, nil, damp)
	if len(slow.Damp) != 1 || !strings.Contains(slow.Damp[0], "March has 86 % humidity") || !strings.Contains(slow.Damp[0], "You decide") {
		t.Errorf("%q", slow.Damp)
	}
	for early := 1; early < 8; early++ {
		fit := kite(t, nil, func(s *shield.Spec, w *workshop.Workshop) {
			damp(s, w)
			s.Delivery.By = slow.Empty.Ready.Truncate(24*time.Hour).AddDate(0, 0, -early)
		})
		if strings.HasPrefix(fit.Late, "Four coats of latex need ") && strings.Contains(fit.Late, ": without latex, with a flexible primer, it can be ready ") {
			return
		}
	}
	t.Error("no day is found for which going without latex is the one thing that would do")
}

// The air of the month it would be coated in warns from 70 % on, strongly from 85 %; without latex it does not matter.
func TestDampAir(t *testing.T) {
	for _, c := range []struct {
		humidity int64
		latex    bool
		says     string
	}{{69, true, ""}, {70, true, "From 70 %"}, {84, true, "From 70 %"}, {85, true, "should not be coated from 85 %"}, {95, false, ""}} {
		fit := kite(t, nil, func(s *shield.Spec, w *workshop.Workshop) {
			w.Air[2].Humidity = decimal.NewFromInt(c.humidity)
			if !c.latex {
				s.Coat = shield.Coat{System: "primer", Coats: 2}
			}
		})
		if got := strings.Join(fit.Damp, ""); (c.says == "") != (got == "") || !strings.Contains(got, c.says) {
			t.Errorf("%d %%, latex %t: %q", c.humidity, c.latex, got)
		}
	}
}

// Behind others on the bench the date is theirs to decide, and the reason names them.
func TestBehindOthers(t *testing.T) {
	w, err := demo.Workshop(tuesday)
	fatal(t, err)
	busy := w.Bench().Lay([]schedule.Job{{ID: "o1", From: march(3), Tasks: []schedule.Task{{Name: "Carve", Work: 60 * time.Hour, People: w.People}}}}, nil)[0]
	others := []sales.OnBench{{Order: sales.Order{ID: "o1", Title: "Tidewall heater"}, Plan: busy, Booked: true}}
	free := kite(t, nil, nil)
	fit := kite(t, others, func(s *shield.Spec, _ *workshop.Workshop) { s.Delivery.By = free.Empty.Ready.Truncate(24 * time.Hour) })
	if fit.Impossible || !strings.Contains(fit.Decides, "everybody is at Tidewall heater until") || !strings.Contains(fit.Late, fit.Decides) || !strings.Contains(fit.Late, "On an empty bench it could be ready") {
		t.Errorf("%+v", fit.Late)
	}
	if !fit.Booked.Ready.After(fit.Empty.Ready) {
		t.Errorf("booked %s, empty %s", fit.Booked.Ready, fit.Empty.Ready)
	}
	place := w.Bench().Lay([]schedule.Job{{ID: "o1", From: march(3), Tasks: []schedule.Task{{Name: "Brace", Work: time.Hour, Wait: 300 * time.Hour, People: 1, Place: schedule.Former}}}}, nil)[0]
	others[0].Plan = place
	if fit = kite(t, others, nil); !strings.Contains(fit.Decides, "Tidewall heater is on the former until") {
		t.Errorf("%q", fit.Decides)
	}
}

// However names of steps and orders are written, the words are whole and end.
func TestHoldsOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name, title := rapid.String().Draw(t, "name"), rapid.String().Draw(t, "title")
		bench := schedule.Bench{Calendar: schedule.Calendar{Opens: 9 * time.Hour, Hours: [7]time.Duration{1: 8 * time.Hour}}, People: 1}
		tasks := []schedule.Task{{Name: name + ", 2 of 2", Work: time.Hour, Wait: 5 * time.Hour, People: 1}, {Name: name, Work: 9 * time.Hour, People: 1, After: []int{0}}}
		plans := bench.Lay([]schedule.Job{{ID: "a", From: march(2), Tasks: tasks}, {ID: "b", From: march(2), Tasks: tasks}}, nil)
		for _, p := range plans {
			holds := sales.Holds(p, func(string) string { return title }, march(2))
			if len(holds) == 0 || sales.Decider(holds) == "" || sales.Sentence(sales.Decider(holds)) == "" {
				t.Fatalf("%v", holds)
			}
		}
		sales.Sentence("")
	})
}
