package pricing_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing"
	"foamwright/pricing/labour"
)

// The share below z is that of the error function of the standard library, which knows nothing of ours.
func TestNormal(t *testing.T) {
	for z := -7.0; z <= 7; z += 0.013 {
		got := pricing.Normal(decimal.NewFromFloat(z)).InexactFloat64()
		if want := 0.5 * math.Erfc(-z/math.Sqrt2); math.Abs(got-want) > 2e-9 {
			t.Fatalf("below %.3f lie %.10f, want %.10f", z, got, want)
		}
	}
}

// drawn is a beta-distributed time between low and high with the mean and variance that low, likely and high stand for.
func drawn(r *rand.Rand, s labour.Spread) float64 {
	low, high := s.Low.InexactFloat64(), s.High.InexactFloat64()
	if high <= low {
		return low
	}
	mean, variance := (s.Mean().InexactFloat64()-low)/(high-low), 1.0/36
	n := mean*(1-mean)/variance - 1
	a, b := gamma(r, mean*n), gamma(r, (1-mean)*n)
	return low + (high-low)*a/(a+b)
}

// gamma is a gamma-distributed number of a shape (Marsaglia and Tsang, 2000).
func gamma(r *rand.Rand, shape float64) float64 {
	if shape < 1 {
		return gamma(r, shape+1) * math.Pow(r.Float64(), 1/shape)
	}
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := r.NormFloat64()
		v := math.Pow(1+c*x, 3)
		if v > 0 && math.Log(r.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// The chance that a price keeps its margin, in closed form, against jobs whose steps are drawn one by one: within two of
// a hundred, whatever margin is left for the hours.
func TestChanceOfTheMargin(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for _, contingency := range []string{"0", "0.04", "0.08", "0.15", "0.25"} {
		snap := snapshot(t)
		snap.Rates.Contingency = dec(contingency)
		snap.Rates.Grades = []pricing.Grade{{Name: "helper", Hour: dec("18")}}
		for i := range snap.Steps {
			if snap.Steps[i].Group == "cut" {
				snap.Steps[i].Grade = "helper"
			}
		}
		e, err := pricing.Make(t.Context(), round(), snap, pricing.Live)
		if err != nil {
			t.Fatal(err)
		}
		p := e.Price
		room := p.Net.Decimal().Mul(dec("0.8")).Sub(p.Material.Decimal()).Sub(p.Handling.Decimal()).InexactFloat64()
		const jobs = 40_000
		kept := 0
		for range jobs {
			cost := 0.0
			for _, l := range e.Work.Lines {
				rate := 30.0
				if l.Step.Grade != "" {
					rate = 18
				}
				cost += drawn(r, l.Spread()) * 1.15 / 60 * rate
			}
			if cost <= room {
				kept++
			}
		}
		want := float64(kept) / jobs
		if got := e.Keeps.InexactFloat64(); math.Abs(got-want) > 0.02 {
			t.Errorf("with a contingency of %s %.3f keep their margin by the formula, %.3f of the jobs that were drawn", contingency, got, want)
		}
	}
}

// A step that names a grade is priced at its rate on a line of its own, each rounded once; without any grade nothing is
// different from one rate.
func TestGradesOfLabour(t *testing.T) {
	plain, err := pricing.Make(t.Context(), round(), snapshot(t), pricing.Live)
	if err != nil {
		t.Fatal(err)
	}
	one, two := snapshot(t), snapshot(t)
	for i := range one.Steps {
		one.Steps[i].Grade = "maker"
		if two.Steps[i].Group == "cut" {
			two.Steps[i].Grade = "helper"
		}
	}
	one.Rates.Grades = []pricing.Grade{{Name: "maker", Hour: one.Rates.Hour}}
	two.Rates.Grades = []pricing.Grade{{Name: "helper", Hour: dec("18.5")}}
	same, err := pricing.Make(t.Context(), round(), one, pricing.Live)
	if err != nil || !same.Price.Gross.Equal(plain.Price.Gross) || !same.Price.Hours.Equal(plain.Price.Hours) {
		t.Errorf("one grade at the shop rate costs %s, without it is %s; %v", same.Price.Gross, plain.Price.Gross, err)
	}
	e, err := pricing.Make(t.Context(), round(), two, pricing.Live)
	if err != nil {
		t.Fatal(err)
	}
	sum, labourSum, lines := decimal.Zero, decimal.Zero, map[string]pricing.Line{}
	for _, g := range e.Work.Grades {
		sum = sum.Add(g.Hours)
	}
	for _, l := range e.Price.Lines {
		if grade, ok := l.GradeOf(); ok {
			lines[grade] = l
			labourSum = labourSum.Add(l.Amount.Decimal())
		}
	}
	if len(lines) != 2 || !sum.Equal(e.Work.Hours) || !sum.Equal(e.Price.Hours) || !labourSum.Equal(e.Price.Labour.Decimal()) || e.Price.Gross.Cmp(plain.Price.Gross) >= 0 {
		t.Errorf("%+v: %s h, %s", lines, sum, e.Price.Gross)
	}
	if helper := lines["helper"]; helper.Key != "labour helper" || helper.How != e.Work.Grades[1].Hours.StringFixed(2)+" h × 18.50" && helper.How != e.Work.Grades[0].Hours.StringFixed(2)+" h × 18.50" {
		t.Errorf("%+v", helper)
	}
}
