package labour_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/takeoff"
	"foamwright/pricing/labour"
)

// case of testdata/worked: drivers as a maker counted them and what came of it.
type worked struct {
	LayUpPeople     decimal.Decimal `json:"lay_up_people"`
	EdgeHeight      decimal.Decimal `json:"edge_height"`
	WeatheringLevel decimal.Decimal `json:"weathering_level"`
	Lines           []struct {
		Step    string          `json:"step"`
		Driver  takeoff.Driver  `json:"driver"`
		Units   decimal.Decimal `json:"units"`
		Minutes decimal.Decimal `json:"minutes"`
	} `json:"lines"`
	Minutes decimal.Decimal `json:"minutes"`
	Hours   decimal.Decimal `json:"hours"`
}

func counted(v decimal.Decimal) measure.Formula {
	f := measure.Formula{Unit: measure.SquareMetre} // four places, the finest a driver has
	f.Add(measure.F(v, "counted"))
	return f
}

// Common practice, no published source: the worked job of the trade, every line to 0.1 min.
func TestWorkedJob(t *testing.T) {
	data, err := os.ReadFile("../../testdata/worked/heater-job.json")
	if err != nil {
		t.Fatal(err)
	}
	var w worked
	if err := json.Unmarshal(data, &w); err != nil {
		t.Fatal(err)
	}
	drivers := takeoff.Drivers{
		takeoff.LayUpPeople: counted(w.LayUpPeople), takeoff.EdgeHeight: counted(w.EdgeHeight),
		takeoff.EdgeHeightLeast: counted(w.EdgeHeight), takeoff.WeatheringLevel: counted(w.WeatheringLevel),
	}
	want := map[string]decimal.Decimal{}
	for _, l := range w.Lines {
		drivers[l.Driver] = counted(l.Units)
		want[l.Step] = l.Minutes
	}
	steps := seed(t)
	got := labour.Plan(steps, drivers, 1, decimal.RequireFromString("0.15"), labour.Learning{})
	for _, l := range got.Lines {
		if !near(l.Minutes, want[l.Step.Code], "0.05") {
			t.Errorf("%s: %s, want %s", l.Step.Code, l.Formula, want[l.Step.Code])
		}
		delete(want, l.Step.Code)
	}
	if len(want) > 0 {
		t.Errorf("no line for %v", want)
	}
	if !got.Minutes.Round(1).Equal(w.Minutes) || !got.Hours.Equal(w.Hours) {
		t.Errorf("%s min, %s h; want %s, %s", got.Minutes, got.Hours, w.Minutes, w.Hours)
	}
}

func seed(t *testing.T) []labour.Step {
	t.Helper()
	steps, err := labour.Seed()
	if err != nil {
		t.Fatal(err)
	}
	return steps
}

// Every step's predecessors come before it, its driver is known to nobody else's ear, its spread is in order.
func TestSeedTable(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range seed(t) {
		for _, a := range s.After {
			if !seen[a] {
				t.Errorf("%s comes after %s, which is not above it", s.Code, a)
			}
		}
		if seen[s.Code] || s.Name == "" || s.Driver == "" {
			t.Errorf("%+v", s)
		}
		seen[s.Code] = true
		for _, x := range []labour.Spread{s.Setup, s.Unit, s.Wait} {
			if x.Low.GreaterThan(x.Likely) || x.Likely.GreaterThan(x.High) || x.Low.IsNegative() {
				t.Errorf("%s: %v is no low, likely, high", s.Code, x)
			}
		}
	}
}

// Average labour a piece with learning (first = 1): common practice, no published source; the same figures
// follow from the unit model n^(log2 r).
func TestLearningAverages(t *testing.T) {
	drivers := takeoff.Drivers{takeoff.GemCount: counted(decimal.NewFromInt(100))}
	step := labour.Step{Code: "x", Driver: takeoff.GemCount, Scope: labour.PerItem, Unit: labour.Spread{Likely: decimal.NewFromInt(1)}}
	for curve, shares := range map[string]map[int]string{
		"0.92": {1: "1", 2: "0.96", 5: "0.89", 10: "0.84", 12: "0.82", 20: "0.78"},
		"0.90": {2: "0.95", 5: "0.87", 10: "0.8", 12: "0.78", 20: "0.73"},
		"0.85": {2: "0.93", 5: "0.81", 10: "0.71", 12: "0.69", 20: "0.62"},
	} {
		for n, want := range shares {
			w := labour.Plan([]labour.Step{step}, drivers, n, decimal.Zero, labour.Learning{Curve: decimal.RequireFromString(curve)})
			got := w.Minutes.Div(decimal.NewFromInt(int64(100 * n)))
			if !near(got, decimal.RequireFromString(want), "0.0051") {
				t.Errorf("curve %s, %d pieces: %s, want %s", curve, n, got, want)
			}
		}
	}
}

func near(a, b decimal.Decimal, within string) bool {
	return a.Sub(b).Abs().LessThanOrEqual(decimal.RequireFromString(within))
}

// Common practice, no source: a glued and shaped grip stack of five layers takes 35 to 45 minutes.
func TestGripStack(t *testing.T) {
	drivers := takeoff.Drivers{takeoff.StackLayer: counted(decimal.NewFromInt(5)), takeoff.GripStack: counted(decimal.NewFromInt(1))}
	w := labour.Plan(seed(t), drivers, 1, decimal.Zero, labour.Learning{})
	if !near(w.Minutes, decimal.NewFromInt(40), "5") {
		t.Errorf("%s min: %v", w.Minutes, w.Lines)
	}
}
