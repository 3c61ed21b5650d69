package cutplan

import (
	"context"
	"fmt"
	"testing"

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

// BenchmarkLive is a plan within the live budget. Timings are for reading, never asserted.
func BenchmarkLive(b *testing.B) {
	for _, n := range []int{10, 20, 40} {
		b.Run(fmt.Sprintf("pieces=%d", n), func(b *testing.B) { run(b, shieldJob(n), LiveEvaluations) })
	}
	for _, name := range []string{"foam1_buckler", "foam2_heater"} {
		b.Run(name, func(b *testing.B) { run(b, foamJob(b, name), LiveEvaluations) })
	}
}

// BenchmarkFirst is the first plan alone.
func BenchmarkFirst(b *testing.B) {
	for _, n := range []int{10, 20, 40} {
		b.Run(fmt.Sprintf("pieces=%d", n), func(b *testing.B) { run(b, shieldJob(n), 1) })
	}
}

// BenchmarkBins shows bins against the known optimum with a hundred times the live budget.
func BenchmarkBins(b *testing.B) {
	for _, name := range []string{"TA001", "TB001", "TB001C10", "TF001", "TS001C5", "TV001C5"} {
		b.Run(name, func(b *testing.B) { run(b, binJob(b, name), 100*LiveEvaluations) })
	}
}

func run(b *testing.B, job Job, evaluations int) {
	var plan Plan
	for b.Loop() {
		var err error
		if plan, err = New().Plan(context.Background(), job, Budget{Evaluations: evaluations, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
	if err := Verify(job, plan); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(plan.Sheets)), "sheets")
	b.ReportMetric(job.Score(plan).Left, "mm²left")
	b.ReportMetric(float64(plan.Evaluations), "evals")
}
