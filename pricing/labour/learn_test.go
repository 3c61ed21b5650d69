package labour_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing/labour"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func spreadOf(low, likely, high string) labour.Spread {
	return labour.Spread{Low: d(low), Likely: d(likely), High: d(high)}
}

// Activities of slides on PERT (a published exercise, figures only): expected times and variances of ten activities.
func TestPERT(t *testing.T) {
	for _, c := range []struct{ low, likely, high, mean, variance string }{
		{"5", "6", "7", "6", "0.11"}, {"1", "3", "5", "3", "0.44"}, {"1", "4", "7", "4", "1"}, {"1", "2", "3", "2", "0.11"}, {"1", "2", "9", "3", "1.78"},
		{"1", "5", "9", "5", "1.78"}, {"2", "2", "8", "3", "1"}, {"4", "4", "10", "5", "1"}, {"2", "5", "8", "5", "1"}, {"2", "2", "8", "3", "1"},
	} {
		s := spreadOf(c.low, c.likely, c.high)
		if !s.Mean().Equal(d(c.mean)) || !s.Variance().Round(2).Equal(d(c.variance)) {
			t.Errorf("%v: %s and %s, published %s and %s", s, s.Mean(), s.Variance(), c.mean, c.variance)
		}
	}
}

func jobsOf(r *rand.Rand, n int, truth, scatter float64) []labour.Job {
	jobs := make([]labour.Job, n)
	for i := range jobs {
		jobs[i] = labour.Job{Order: fmt.Sprint(i), Planned: d("60"), Actual: decimal.NewFromFloat(60 * truth * math.Exp(scatter*r.NormFloat64())).Round(2)}
	}
	return jobs
}

// Logs of known truth: the step really takes 1.4 times its seed, a job scatters by 25 %. What is left of the error of
// the seed falls as the documentation of Learn says; beside it stands what chance alone leaves.
func TestLearnApproachesTheTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	const truth, scatter, tries = 1.4, 0.25, 400
	step := labour.Step{Code: "cut", Unit: spreadOf("1", "1.6", "3")}
	before := math.Inf(1)
	for _, c := range []struct {
		jobs int
		left float64 // share of the seed's own error
	}{{5, 0.444}, {20, 0.167}, {50, 0.074}} {
		mean, square := 0.0, 0.0
		for range tries {
			l, err := labour.Learn(step, jobsOf(r, c.jobs, truth, scatter))
			if err != nil {
				t.Fatal(err)
			}
			off := math.Log(l.Ratio.InexactFloat64() / truth)
			mean += off / tries
			square += off * off / tries
		}
		if left := -mean / math.Log(truth); math.Abs(left-c.left) > 0.05 {
			t.Errorf("after %d jobs %.3f of the seed's error are left, want %.3f", c.jobs, left, c.left)
		}
		chance := scatter / math.Sqrt(float64(c.jobs))
		if all := math.Sqrt(square); all > math.Hypot(c.left*math.Log(truth), 1.2*chance) || all > before {
			t.Errorf("after %d jobs the time is off by %.3f (before %.3f)", c.jobs, all, before)
		} else {
			before = all
		}
	}
}

// One wild log moves the time by less than a quarter of its own distance, however many there are and however wild.
func TestOneWildLog(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		jobs := jobsOf(r, rapid.IntRange(0, 30).Draw(t, "jobs"), 1, 0.2)
		step := labour.Step{Code: "cut", Unit: spreadOf("1", "1.6", "3")}
		sober, err := labour.Learn(step, jobs)
		if err != nil {
			t.Fatal(err)
		}
		times := rapid.Float64Range(1.2, 500).Draw(t, "times")
		if rapid.Bool().Draw(t, "quick") {
			times = 1 / times
		}
		wild, err := labour.Learn(step, append(jobs, labour.Job{Order: "wild", Planned: d("60"), Actual: decimal.NewFromFloat(60 * times).Round(4)}))
		if err != nil {
			t.Fatal(err)
		}
		moved := math.Abs(math.Log(wild.Ratio.InexactFloat64() / sober.Ratio.InexactFloat64()))
		distance := math.Abs(math.Log(times / sober.Ratio.InexactFloat64()))
		if moved >= distance/4+1e-3 {
			t.Fatalf("%d jobs at %s; one of %.2f moves it to %s, %.3f of its distance", len(jobs), sober.Ratio, times, wild.Ratio, moved/distance)
		}
		for _, s := range []labour.Spread{wild.New, wild.NewSetup} {
			if s.Low.GreaterThan(s.Likely) || s.Likely.GreaterThan(s.High) || s.Low.IsNegative() {
				t.Fatalf("%v", s)
			}
		}
	})
}

func TestLearnNamesWhatIsWild(t *testing.T) {
	jobs := []labour.Job{{"1", d("60"), d("66")}, {"2", d("60"), d("70")}, {"3", d("60"), d("62")}, {"4", d("60"), d("68")}, {"5", d("60"), d("600")}, {"6", d("60"), decimal.Zero}}
	l, err := labour.Learn(labour.Step{Code: "cut", Unit: spreadOf("1", "1.6", "3"), Setup: spreadOf("2.8", "4", "6.4")}, jobs)
	if err != nil || l.Jobs != 5 || len(l.Wild) != 1 || l.Wild[0] != "5" {
		t.Errorf("%+v, %v", l, err)
	}
	if !l.New.Likely.Equal(d("1.6").Mul(l.Ratio).Round(2)) || l.Ratio.LessThan(d("1.05")) || l.Ratio.GreaterThan(d("1.25")) {
		t.Errorf("%+v", l)
	}
	if l, err := labour.Learn(labour.Step{Unit: spreadOf("1", "2", "3")}, nil); err != nil || !l.Ratio.Equal(d("1")) || !l.New.Likely.Equal(d("2")) {
		t.Errorf("%+v, %v", l, err)
	}
}
