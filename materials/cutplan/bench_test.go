package cutplan

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"foamwright/materials/geom"
)

// shieldJob is a shield's worth of foam in n pieces, two fifths of them outlines of 150 corners: layers, a
// rim, raised pieces, edge strips, handle blocks and gems.
func shieldJob(n int) Job {
	job := Job{Spacing: 3, Margin: 5, Keep: UsualKeep(), CreditShare: 500, Sheets: []Sheet{
		{Label: "large sheet", Width: 1200, Height: 2000, Weight: 4200},
		{Label: "sheet", Width: 1000, Height: 1000, Weight: 2000},
	}}
	outer := oval(440, 620, 150)
	rim := geom.Shape{Outer: outer, Holes: []geom.Ring{oval(350, 530, 150)}}
	kinds := []Piece{
		{Label: "layer", Shape: geom.Shape{Outer: outer}},
		{Label: "strip", Shape: rectangle(550, 45), Turns: []float64{0, 90}},
		{Label: "device", Shape: geom.Shape{Outer: star(110, 70, 75)}, Mirror: true},
		{Label: "block", Shape: rectangle(150, 90)},
		{Label: "gem", Shape: geom.Shape{Outer: oval(60, 80, 24)}},
		{Label: "rim", Shape: rim},
		{Label: "strap pad", Shape: rectangle(200, 60)},
		{Label: "heater", Shape: geom.Shape{Outer: heater(400, 500, 150, 73)}},
		{Label: "boss", Shape: geom.Shape{Outer: oval(160, 160, 40)}},
		{Label: "cover", Shape: rectangle(120, 120)},
	}
	for i := range n {
		p := kinds[i%len(kinds)]
		p.Label, p.Count = fmt.Sprintf("%s %d", p.Label, i), 1
		job.Pieces = append(job.Pieces, p)
	}
	return job
}

// sizes of the shield jobs, in pieces.
func sizes() []int { return []int{10, 20, 40, 80, 160} }

// BenchmarkFirst is the first plan alone, of ten kinds of piece and of as many kinds as pieces. Timings are for reading, never asserted.
func BenchmarkFirst(b *testing.B) {
	for _, n := range sizes() {
		b.Run(fmt.Sprintf("pieces=%d", n), func(b *testing.B) { run(b, shieldJob(n), Budget{Evaluations: 1, Seed: 1}) })
	}
	for _, n := range sizes() {
		b.Run(fmt.Sprintf("different=%d", n), func(b *testing.B) { run(b, different(shieldJob(n)), Budget{Evaluations: 1, Seed: 1}) })
	}
}

// different is a job whose pieces are each a thousandth smaller than the one before, so that no two are alike.
func different(job Job) Job {
	for i := range job.Pieces {
		smaller := func(r geom.Ring) geom.Ring {
			r = slices.Clone(r)
			for k := range r {
				r[k].X, r[k].Y = r[k].X*(1-float64(i)/1000), r[k].Y*(1-float64(i)/1000)
			}
			return r
		}
		s := job.Pieces[i].Shape
		job.Pieces[i].Shape = geom.Shape{Outer: smaller(s.Outer)}
		for _, h := range s.Holes {
			job.Pieces[i].Shape.Holes = append(job.Pieces[i].Shape.Holes, smaller(h))
		}
	}
	return job
}

// BenchmarkLive is a plan within the live budget.
func BenchmarkLive(b *testing.B) {
	for _, n := range sizes() {
		b.Run(fmt.Sprintf("pieces=%d", n), func(b *testing.B) {
			run(b, shieldJob(n), Budget{Evaluations: live, Seed: 1})
		})
	}
}

// BenchmarkHalfSecond is what half a second makes of the first plan.
func BenchmarkHalfSecond(b *testing.B) {
	for _, n := range sizes() {
		b.Run(fmt.Sprintf("pieces=%d", n), func(b *testing.B) { run(b, shieldJob(n), byClock(500*time.Millisecond)) })
	}
	for _, name := range []string{"foam1_buckler", "foam2_heater"} {
		b.Run(name, func(b *testing.B) {
			job := foamJob(b, name)
			job.CreditShare = 0 // as those compared with count: the remnant of the last sheet alone
			run(b, job, byClock(500*time.Millisecond))
		})
	}
}

// BenchmarkBins shows the bins of the 33 instances in 1 s and in 5 s each, beside the known optimum; the last row is the sum.
func BenchmarkBins(b *testing.B) {
	for _, cap := range []time.Duration{time.Second, 5 * time.Second} {
		sum, optimum, answers := 0, 0, 0
		for _, in := range binTable(b) {
			b.Run(fmt.Sprintf("%v/%s", cap, in.name), func(b *testing.B) {
				plan := run(b, binJob(b, in.name), byClock(cap))
				b.ReportMetric(float64(in.optimum), "optimum")
				sum, optimum, answers = sum+len(plan.Sheets), optimum+in.optimum, answers+1
			})
		}
		b.Run(fmt.Sprintf("%v/sum", cap), func(b *testing.B) {
			for range b.N {
				b.ReportMetric(float64(sum), "sheets")
				b.ReportMetric(float64(optimum), "optimum")
				b.ReportMetric(float64(answers), "answers")
			}
		})
	}
}

// BenchmarkStrip shows the density of the strip instances in 5 s and in 30 s on two cores, a seed each, in per
// cent; published ones are in testdata/nesting/README.md.
func BenchmarkStrip(b *testing.B) {
	for _, cap := range []time.Duration{5 * time.Second, 30 * time.Second} {
		for _, name := range []string{"albano", "dagli", "fu", "jakobs1", "marques", "shapes1"} {
			b.Run(fmt.Sprintf("%v/%s", cap, name), func(b *testing.B) {
				job := stripJob(b, name)
				var best [2]float64
				for range b.N {
					var both sync.WaitGroup
					for i := range best {
						both.Go(func() {
							budget := byClock(cap)
							budget.Seed = uint64(i)
							if plan, err := New().Plan(context.Background(), job, budget); err != nil {
								b.Error(err)
							} else if err := Verify(job, plan); err != nil {
								b.Error(err)
							} else {
								best[i] = density(job, plan)
							}
						})
					}
					both.Wait()
				}
				b.ReportMetric(max(best[0], best[1]), "%dense")
			})
		}
	}
}

// byClock is a budget that only the clock ends.
func byClock(d time.Duration) Budget { return Budget{Evaluations: 1 << 40, Seed: 1, Cap: d} }

func run(b *testing.B, job Job, budget Budget) Plan {
	var plan Plan
	for range b.N {
		var err error
		if plan, err = New().Plan(context.Background(), job, budget); err != nil {
			b.Fatal(err)
		}
	}
	b.StopTimer()
	if err := Verify(job, plan); err != nil {
		b.Fatal(err)
	}
	score := job.Score(plan)
	b.ReportMetric(float64(len(plan.Sheets)), "sheets")
	b.ReportMetric(score.Left, "mm²left")
	b.ReportMetric(score.Around, "mm²around")
	b.ReportMetric(float64(plan.Evaluations), "evals")
	return plan
}
