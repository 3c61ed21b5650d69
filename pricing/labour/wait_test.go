package labour_test

import (
	"encoding/json"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/takeoff"
	"foamwright/pricing/labour"
)

// What the wait of filling goes by is the filler's; without a word on it, what the table says. Common practice, no source.
func TestWhatAWaitGoesBy(t *testing.T) {
	for _, c := range []struct{ filler, want materials.Setting }{{"", materials.ByAir}, {materials.ByAir, materials.ByAir}, {materials.ByWarmth, materials.ByWarmth}, {materials.ByItself, materials.ByItself}} {
		drivers := takeoff.Drivers{takeoff.JointM: counted(decimal.NewFromInt(1)), takeoff.FillerHours: counted(decimal.NewFromInt(24))}
		if c.filler != "" {
			drivers[takeoff.FillerHours.By(c.filler)] = counted(decimal.NewFromInt(1))
		}
		for _, l := range labour.Plan(seed(t), drivers, 1, decimal.Zero, labour.Learning{}).Lines {
			if l.Sets != c.want {
				t.Errorf("%q: %s goes by %q", c.filler, l.Step.Code, l.Sets)
			}
		}
	}
	for _, s := range seed(t) {
		glued := s.Group == "glue" || s.Group == "trim" || s.Group == "grip"
		if s.Wait.Likely.IsPositive() && glued != (s.Sets == materials.ByWarmth) {
			t.Errorf("%s goes by %q", s.Code, s.Sets)
		}
	}
}

// Settings of a program that knew only whether a wait goes by the air: what dried still does, glue is held up by the
// cold from now on, a step of the workshop's own goes by itself, and what a maker has chosen since stays.
func TestTableOfAnEarlierProgram(t *testing.T) {
	var table []labour.Step
	kept := `[{"Code":"brace","Dries":false},{"Code":"clear","Dries":true},{"Code":"wax","Dries":false},{"Code":"oil","Dries":true},{"Code":"boards","Sets":"itself"}]`
	if err := json.Unmarshal([]byte(kept), &table); err != nil {
		t.Fatal(err)
	}
	want := map[string]materials.Setting{"brace": materials.ByWarmth, "clear": materials.ByAir, "wax": materials.ByItself, "oil": materials.ByAir, "boards": materials.ByItself}
	for _, s := range labour.Merged(table, seed(t)) {
		if sets, old := want[s.Code]; old && s.Sets != sets || s.Sets == "" {
			t.Errorf("%s goes by %q, want %q", s.Code, s.Sets, sets)
		}
		delete(want, s.Code)
	}
	if len(want) > 0 {
		t.Errorf("%v are gone", want)
	}
	if table[0].Sets != "" {
		t.Error("what was read is written into")
	}
}

// The wait of filling is that of the filler; without a word on it, that of the table. 3, 24 and 48 h: common practice, no
// source.
func TestWaitOfTheFiller(t *testing.T) {
	for hours, want := range map[string]string{"0": "3", "24": "24", "48": "48", "0.25": "0.25"} {
		drivers := takeoff.Drivers{takeoff.JointM: counted(decimal.NewFromInt(1)), takeoff.FillerHours: counted(decimal.RequireFromString(hours))}
		for _, l := range labour.Plan(seed(t), drivers, 1, decimal.Zero, labour.Learning{}).Lines {
			if l.Step.Code == "sand-filler" || !l.Wait.Equal(decimal.RequireFromString(want)) {
				t.Errorf("%s h: %s waits %s h", hours, l.Step.Code, l.Wait)
			}
		}
	}
}
