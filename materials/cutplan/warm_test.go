package cutplan

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/geom"
)

// A small edit of the job, begun from the plan before it, adds no sheet.
func TestWarmStart(t *testing.T) {
	job := binJob(t, "TO001")
	before, err := New().Plan(context.Background(), job, Budget{Evaluations: 2_000_000, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	small := job
	small.Pieces = append([]Piece{{Label: "gone"}}, job.Pieces...)[1:]
	small.Pieces[3].Shape = Pose{At: geom.Point{X: 40, Y: 7}}.Apply(small.Pieces[3].Shape) // drawn elsewhere
	for _, start := range []Plan{before, {Sheets: before.Sheets, Placements: before.Placements[2:]}} {
		plan, err := New().Plan(context.Background(), small, Budget{Evaluations: 100_000, Seed: 2, Start: start})
		if err != nil {
			t.Fatal(err)
		}
		if err := Verify(small, plan); err != nil {
			t.Fatal(err)
		}
		if len(plan.Sheets) > len(before.Sheets) {
			t.Errorf("%d sheets, %d before the edit", len(plan.Sheets), len(before.Sheets))
		}
	}
}

// Any plan at all may be begun from: what does not belong to the job is left out.
func TestWarmStartFromAnything(t *testing.T) {
	checks(t, 60, 2_000)
	rapid.Check(t, func(t *rapid.T) {
		job, other := drawJob(t), drawJob(t)
		start, err := New().Plan(context.Background(), other, Budget{Evaluations: 500})
		if err != nil {
			t.Fatal(err)
		}
		plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 20_000, Start: start})
		if err != nil {
			t.Fatal(err)
		}
		if err := Verify(job, plan); err != nil {
			t.Fatal(err)
		}
	})
}
