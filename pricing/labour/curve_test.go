package labour_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials/takeoff"
	"foamwright/pricing/labour"
)

// The unit model n^(log2 r), in which the curve is the ratio of the times of single pieces at each doubling: unit and
// cumulative figures as they follow from the model, and those that the tests of the R package learningCurve 1.1.2
// publish for a first unit of 100 h at 85 %. Figures of the cumulative-average model are not ours: there the curve is
// the ratio of averages.
func TestUnitModel(t *testing.T) {
	type row struct {
		n         int
		unit, sum string
	}
	for curve, rows := range map[string][]row{
		"0.80": {{2, "0.8", "1.8"}, {4, "0.64", "3.142"}, {8, "0.512", "5.346"}, {10, "0.4765", "6.315"}, {20, "0.3812", "10.485"}},
		"0.85": {{4, "0.7225", "3.345"}, {10, "0.5828", "7.116"}, {20, "0.4954", "12.402"}, {125, "0.32236", "52.01085"}},
		"0.90": {{4, "0.81", "3.556"}, {10, "0.7047", "7.994"}, {20, "0.6342", "14.608"}},
	} {
		l := labour.Learning{Curve: d(curve)}
		for _, r := range rows {
			if got := labour.UnitShare(l, r.n); !near(got, d(r.unit), "0.00005") {
				t.Errorf("%s: piece %d takes %s, published %s", curve, r.n, got, r.unit)
			}
			sum := decimal.Zero
			for n := 1; n <= r.n; n++ {
				sum = sum.Add(labour.UnitShare(l, n))
			}
			if !near(sum, d(r.sum), "0.0005") {
				t.Errorf("%s: %d pieces take %s, published %s", curve, r.n, sum, r.sum)
			}
		}
	}
	// Of the same source: unit 125 where unit 100 takes 100 h; and by hand, 50 min, 40 at the 2nd, 32 at the 4th.
	l := labour.Learning{Curve: d("0.85")}
	if got := labour.UnitShare(l, 125).Div(labour.UnitShare(l, 100)).Mul(d("100")); !near(got, d("94.903"), "0.0005") {
		t.Errorf("%s", got)
	}
	l = labour.Learning{Curve: d("0.8")}
	if !near(labour.UnitShare(l, 2).Mul(d("50")), d("40"), "0.0001") || !near(labour.UnitShare(l, 4).Mul(d("50")), d("32"), "0.0001") {
		t.Error("50 minutes do not become 40 and 32")
	}
}

// Common practice, no source: twelve on the 92 % curve take 0.82 of the first on the average, 70 % is the floor. Set-ups
// are shared: by the order, by batches of six, or for every piece.
func TestBatchOfTwelve(t *testing.T) {
	one := decimal.NewFromInt(1)
	drivers := takeoff.Drivers{takeoff.GemCount: counted(one)}
	step := labour.Step{Code: "gems", Driver: takeoff.GemCount, Setup: spreadOf("10", "10", "10"), Unit: spreadOf("10", "10", "10")}
	learning := labour.Learning{Curve: d("0.92"), Floor: d("0.70")}
	for scope, setups := range map[labour.Scope]int64{labour.PerJob: 1, labour.PerBatch: 2, labour.PerItem: 12} {
		step.Scope = scope
		w := labour.Plan([]labour.Step{step}, drivers, 12, decimal.Zero, learning)
		hands := w.Minutes.Sub(decimal.NewFromInt(10 * setups))
		if mean := hands.Div(d("120")); !near(mean, d("0.82"), "0.005") {
			t.Errorf("%s: %s min, %s of the first on the average", scope, w.Minutes, mean)
		}
	}
	if got := labour.UnitShare(learning, 1000); !got.Equal(d("0.70")) {
		t.Errorf("the floor is %s", got)
	}
}

// What serves all pieces is counted once for them, whatever their number: a drawing, a template, days at the bench; a
// pot of colour once a batch of six.
func TestOnceForTheOrder(t *testing.T) {
	two := decimal.NewFromInt(2)
	for driver, want := range map[takeoff.Driver]string{
		takeoff.ComplexityPoint: "20", takeoff.TemplateM: "20", takeoff.WorkingDay: "20", takeoff.ColourCount: "40", takeoff.GemCount: "240",
	} {
		scope := labour.PerJob
		if driver == takeoff.ColourCount {
			scope = labour.PerBatch
		}
		step := labour.Step{Code: "x", Driver: driver, Scope: scope, Unit: spreadOf("10", "10", "10")}
		if w := labour.Plan([]labour.Step{step}, takeoff.Drivers{driver: counted(two)}, 12, decimal.Zero, labour.Learning{}); !w.Minutes.Equal(d(want)) {
			t.Errorf("%s for twelve: %s", driver, w.Lines[0].Formula)
		}
	}
}
