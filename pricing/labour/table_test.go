package labour_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/takeoff"
	"foamwright/pricing/labour"
)

func codes(table []labour.Step) (all []string) {
	for _, s := range table {
		all = append(all, s.Code)
	}
	return all
}

// The program's own table is fit to be kept, and an older one with own and hidden steps gets what is new at its place.
func TestTablesGrow(t *testing.T) {
	seed := seed(t)
	if err := labour.CheckTable(seed, nil); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		old := slices.DeleteFunc(slices.Clone(seed), func(labour.Step) bool { return rapid.IntRange(0, 3).Draw(t, "left out") == 0 })
		for i := range old {
			old[i].Hidden = rapid.Bool().Draw(t, "hidden")
			old[i].After = slices.DeleteFunc(slices.Clone(old[i].After), func(code string) bool { return !slices.Contains(codes(old), code) })
		}
		own := labour.Step{Code: labour.CodeOf("Wax the edge", old), Name: "Wax the edge", Group: "edge", Driver: takeoff.EdgeM, Scope: labour.PerItem, Sets: materials.ByItself}
		old = slices.Insert(old, rapid.IntRange(0, len(old)).Draw(t, "at"), own)
		grown := labour.Merged(old, seed)
		if err := labour.CheckTable(grown, nil); err != nil {
			t.Fatal(err)
		}
		kept := slices.DeleteFunc(slices.Clone(grown), func(s labour.Step) bool { return !slices.Contains(codes(old), s.Code) })
		if diff := cmp.Diff(old, kept); diff != "" || len(grown) != len(seed)+1 {
			t.Fatalf("what was stored has changed: %s", diff)
		}
		if again := labour.Merged(grown, seed); len(again) != len(grown) {
			t.Fatal("a whole table grows")
		}
	})
	if grown := labour.Merged(nil, seed); cmp.Diff(grown, seed) != "" {
		t.Errorf("%v", codes(grown))
	}
}

// Everything that is wrong is said at once, at its step and entry.
func TestBadTables(t *testing.T) {
	table := seed(t)
	bad := &table[8] // cut
	bad.Name, bad.Group, bad.Driver, bad.Scope, bad.Grade, bad.Resource = " ", "sewing", "m thread", "year", "helper", "moon"
	bad.Sets, bad.Crew = "moonlight", 11
	bad.Setup, bad.Unit, bad.Wait = spreadOf("3", "2", "5"), spreadOf("-1", "1", "1.001"), spreadOf("0", "1", "1000")
	bad.Factors, bad.Cautions, bad.After = []takeoff.Driver{"mood"}, []string{"dragons"}, []string{"pack"}
	table[9].Code = "Mark out"
	err := labour.CheckTable(table, nil)
	var fields []string
	for _, p := range fault.ProblemsOf(err) {
		fields = append(fields, p.Field)
		if !strings.HasSuffix(p.Remedy, ".") {
			t.Errorf("%+v", p)
		}
	}
	for _, want := range []string{"name", "group", "driver", "scope", "sets", "crew", "grade", "resource", "setup.likely", "unit.low", "unit.high", "wait.high", "factors", "cautions", "after"} {
		if !slices.Contains(fields, "cut."+want) {
			t.Errorf("nothing is said of %s: %v", want, fields)
		}
	}
	if !slices.Contains(fields, "Mark out.code") || !slices.Contains(fields, "mark-out") {
		t.Errorf("%v", fields)
	}
	if err := labour.CheckTable(append(seed(t), seed(t)[0]), nil); err == nil {
		t.Error("a code stands twice")
	}
	if code := labour.CodeOf("Öl & wax!", nil); code != "step-l-wax" || labour.CodeOf("", nil) != "step" {
		t.Error(code)
	}
}

// A crew of two takes twice the minutes for all, and says how many it is.
func TestCrew(t *testing.T) {
	drivers := takeoff.Drivers{takeoff.GemCount: counted(decimal.NewFromInt(3)), takeoff.LayUpPeople: counted(decimal.NewFromInt(4))}
	step := labour.Step{Code: "x", Driver: takeoff.GemCount, Scope: labour.PerItem, Setup: spreadOf("1", "2", "3"), Unit: spreadOf("4", "5", "6"), People: takeoff.LayUpPeople}
	for crew, want := range map[int]string{0: "68", 1: "17", 2: "34"} {
		step.Crew = crew
		w := labour.Plan([]labour.Step{step}, drivers, 1, decimal.Zero, labour.Learning{})
		if l := w.Lines[0]; !l.Minutes.Equal(d(want)) || l.People != max(crew, 1) && crew > 0 || crew == 0 && l.People != 4 {
			t.Errorf("a crew of %d: %s min by %d", crew, l.Minutes, l.People)
		}
	}
}

// A hidden step is kept and gets no time; with grades the hours are those of the lines of each, rounded once.
func TestHiddenAndGraded(t *testing.T) {
	drivers := takeoff.Drivers{takeoff.GemCount: counted(decimal.NewFromInt(1))}
	step := func(code, grade string, minutes string, hidden bool) labour.Step {
		return labour.Step{Code: code, Driver: takeoff.GemCount, Scope: labour.PerItem, Unit: spreadOf(minutes, minutes, minutes), Grade: grade, Hidden: hidden}
	}
	table := []labour.Step{step("a", "", "50.05", false), step("b", "helper", "20.05", false), step("c", "", "10.05", false), step("d", "", "99", true)}
	w := labour.Plan(table, drivers, 1, d("0.15"), labour.Learning{})
	if len(w.Lines) != 3 || !w.Minutes.Equal(d("80.15")) {
		t.Fatalf("%+v", w)
	}
	if len(w.Grades) != 2 || w.Grades[1].Grade != "helper" || !w.Grades[0].Hours.Equal(d("1.15")) || !w.Grades[1].Hours.Equal(d("0.38")) || !w.Hours.Equal(d("1.53")) {
		t.Errorf("%+v", w)
	}
	mean, deviation := w.Expected()
	if !near(mean, d("1.54"), "0.005") || !deviation.IsZero() {
		t.Errorf("%s ± %s", mean, deviation)
	}
}
