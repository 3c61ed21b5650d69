package labour_test

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/labour"
)

// What is logged on a group goes to its planned steps that were not logged by themselves; rework and what was not
// planned are told apart; a corrected log does not count.
func TestApportioned(t *testing.T) {
	table := seed(t)
	planned := map[string]decimal.Decimal{"spread": d("10"), "lay-up": d("30"), "join-seams": d("20"), "pack": d("16"), "own-1": d("25")}
	log := func(id, step, minutes, rework, corrects string) labour.Log {
		return labour.Log{ID: id, Order: "1", Step: step, Minutes: d(minutes), Rework: rework, Corrects: corrects, Day: time.Now()}
	}
	actual, rework, apart := labour.Apportioned(table, planned, []labour.Log{
		log("1", "glue", "40", "", ""), log("2", "lay-up", "99", "", ""), log("3", "lay-up", "36", "", "2"),
		log("4", "glue", "20", "", ""), log("5", "spread", "12", "it had skinned over", ""), log("6", "carve", "7", "", ""),
		log("7", "gems", "5", "", ""), log("8", "own-1", "30", "", ""), log("9", "finish", "18", "", ""),
	})
	for code, want := range map[string]string{"spread": "20", "join-seams": "40", "lay-up": "36", "pack": "18", "own-1": "30"} {
		if !near(actual[code], d(want), "0.001") {
			t.Errorf("%s took %s, want %s", code, actual[code], want)
		}
	}
	if len(actual) != 5 || !rework.Equal(d("12")) || !apart.Equal(d("12")) {
		t.Errorf("%v, again %s, apart %s", actual, rework, apart)
	}
}

// The base is what a step was before the lessons; what was written by hand since begins anew.
func TestBase(t *testing.T) {
	times := func(likely string) labour.Times {
		return labour.Times{Setup: spreadOf("0", "0", "0"), Unit: spreadOf("1", likely, "9")}
	}
	lessons := []labour.Taught{{Step: "cut", Was: times("3"), Is: times("4")}, {Step: "pack", Was: times("7"), Is: times("8")}, {Step: "cut", Was: times("2"), Is: times("3")}}
	step := labour.Step{Code: "cut"}
	for now, base := range map[string]string{"4": "2", "5": "5"} {
		if got := labour.Base(step.With(times(now)), lessons); !got.Equal(times(base)) {
			t.Errorf("now %s, base %v", now, got)
		}
	}
	if ratio := times("2").To(times("3")); !ratio.Equal(d("1.5")) {
		t.Error(ratio)
	}
	setup := labour.Times{Setup: spreadOf("5", "8", "15")}
	if ratio := setup.To(labour.Times{Setup: spreadOf("5", "4", "15")}); !ratio.Equal(d("0.5")) {
		t.Error(ratio)
	}
}
