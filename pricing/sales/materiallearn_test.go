package sales_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
)

// usedOf are orders that took truth times as much of a liquid as was reckoned, by 15 % more or less.
func usedOf(r *rand.Rand, n int, truth float64, reckonedWith string) []sales.Rate {
	rates := make([]sales.Rate, n)
	for i := range rates {
		planned := 0.3 * d(reckonedWith).InexactFloat64() / 0.2
		actual := 0.3 * truth * math.Exp(0.15*r.NormFloat64())
		rates[i] = sales.Rate{What: "latex", Used: d(reckonedWith), Job: labour.Job{Order: fmt.Sprint(i), Planned: decimal.NewFromFloat(planned).Round(4), Actual: decimal.NewFromFloat(actual).Round(4)}}
	}
	return rates
}

// The liquid really spreads 0.26 l/m² and not 0.20: with every order the learned figure comes closer, as times do, and
// what is left of the error of the first figure is what the documentation of Learn says.
func TestSpreadApproachesTheTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for _, c := range []struct {
		jobs int
		left float64
	}{{5, 0.444}, {20, 0.167}, {50, 0.074}} {
		mean := 0.0
		for range 300 {
			o, err := sales.LearnRate("latex", d("0.20"), usedOf(r, c.jobs, 1.3, "0.20"), nil)
			if err != nil || o.Drift.Jobs != c.jobs || len(o.Evidence) != c.jobs {
				t.Fatalf("%+v %v", o.Drift, err)
			}
			mean += math.Log(o.Is.InexactFloat64()/0.26) / 300
		}
		if left := -mean / math.Log(1.3); math.Abs(left-c.left) > 0.05 {
			t.Errorf("after %d orders %.3f of the error are left, want %.3f", c.jobs, left, c.left)
		}
	}
}

// The same orders teach once: what was taken over is offered no further, also where some were reckoned with the new
// figure already; what the maker wrote since is a new base.
func TestTheSameOrdersTeachOnce(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	rates := usedOf(r, 8, 1.3, "0.20")
	first, err := sales.LearnRate("latex", d("0.20"), rates, nil)
	if err != nil {
		t.Fatal(err)
	}
	is := first.Is.Round(3)
	lessons := []sales.MaterialLesson{{What: "glue", Was: d("1"), Is: d("2")}, {What: "latex", Was: d("0.20"), Is: is}}
	again, err := sales.LearnRate("latex", is, rates, lessons)
	if err != nil || !again.Is.Round(3).Equal(is) {
		t.Errorf("%s became %s, %v", is, again.Is, err)
	}
	for i := range rates[:4] { // reckoned with the new figure: the same use, more planned
		rates[i].Used, rates[i].Job.Planned = is, rates[i].Job.Planned.Mul(is).DivRound(d("0.20"), 8)
	}
	if mixed, err := sales.LearnRate("latex", is, rates, lessons); err != nil || !mixed.Is.Round(3).Equal(is) {
		t.Errorf("%s became %s, %v", is, mixed.Is, err)
	}
	if other, err := sales.LearnRate("latex", d("0.5"), rates, lessons); err != nil || !other.Is.LessThan(d("0.5")) || !other.Is.GreaterThan(d("0.26")) {
		t.Errorf("from 0.5 to %s, %v", other.Is, err)
	}
}

func TestNoOrdersTeachNothing(t *testing.T) {
	o, err := sales.LearnRate("latex", d("0.20"), nil, nil)
	if err != nil || o.Drift.Jobs != 0 || !o.Is.Equal(o.Was) {
		t.Errorf("%+v %v", o, err)
	}
}
