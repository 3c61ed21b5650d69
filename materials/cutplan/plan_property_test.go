package cutplan

import (
	"context"
	"reflect"
	"runtime"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Every plan passes the independent verifier, says what it costs, and is the same again.
func TestEveryPlanIsProved(t *testing.T) {
	checks(t, 300, 10_000)
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		budget := Budget{Evaluations: rapid.IntRange(0, 4000).Draw(t, "budget"), Seed: rapid.Uint64().Draw(t, "seed")}
		plan, err := New().Plan(context.Background(), job, budget)
		if err != nil {
			t.Fatalf("no plan: %v", err)
		}
		if err := Verify(job, plan); err != nil {
			t.Fatalf("broken plan: %v", err)
		}
	})
}

// Kept offcuts are cut free by straight cuts that stay the spacing away from every piece, whatever its outline.
func TestOffcutsKeepTheirDistance(t *testing.T) {
	checks(t, 100, 3_000)
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 2000, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range plan.Offcuts {
			free := o.Shape.Outer.Bounds()
			for _, p := range plan.Placements {
				box := p.Apply(job.Pieces[p.Piece].Shape).Outer.Bounds()
				apart := max(box.Min.X-free.Max.X, free.Min.X-box.Max.X, box.Min.Y-free.Max.Y, free.Min.Y-box.Max.Y)
				if p.Sheet == o.Sheet && apart < job.Spacing-Tolerance {
					t.Fatalf("%v is kept %v mm from piece %d in %v, the spacing is %v", free, apart, p.Piece, box, job.Spacing)
				}
			}
		}
	})
}

// More budget is never worse, for the same job and seed.
func TestMoreBudgetIsNeverWorse(t *testing.T) {
	checks(t, 15, 300)
	rapid.Check(t, func(t *rapid.T) {
		job, seed := drawJob(t), rapid.Uint64().Draw(t, "seed")
		var before Score
		for i, n := range []int{0, 300, 1000, 3000, 10_000} {
			plan, err := New().Plan(context.Background(), job, Budget{Evaluations: n, Seed: seed})
			if err != nil {
				t.Fatal(err)
			}
			score := job.Score(plan)
			if i > 0 && before.Better(score) {
				t.Fatalf("budget %d gives %+v, worse than %+v", n, score, before)
			}
			before = score
		}
	})
}

// The plan depends on job and seed, not on processors or on what ran before.
func TestSamePlanOnOneAndTwoProcessors(t *testing.T) {
	was := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(was)
	for _, job := range []Job{shieldJob(12), foamJob(t, "foam1_buckler"), foamJob(t, "foam2_heater"), binJob(t, "TB001C10")} {
		var plans []Plan
		for _, n := range []int{1, 2, 1} {
			runtime.GOMAXPROCS(n)
			plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 30_000, Seed: 7})
			if err != nil {
				t.Fatal(err)
			}
			plans = append(plans, plan)
		}
		if !reflect.DeepEqual(plans[0], plans[1]) || !reflect.DeepEqual(plans[0], plans[2]) {
			t.Error("the same job and seed gave different plans")
		}
	}
}

// A context that ends stops the search; what was found until then is sound.
func TestStopsWithItsContext(t *testing.T) {
	job := binJob(t, "TA001")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	plan, err := New().Plan(ctx, job, Budget{Evaluations: 1000})
	if err != context.Canceled || len(plan.Placements) != 0 {
		t.Errorf("stopped before it began: got %d placements, %v", len(plan.Placements), err)
	}
	ctx, cancel = context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer cancel()
	plan, err = New().Plan(ctx, job, Budget{Evaluations: 1 << 40})
	if err != context.DeadlineExceeded {
		t.Fatalf("stopped by the clock: got %v", err)
	}
	if len(plan.Placements) > 0 {
		if err := Verify(job, plan); err != nil {
			t.Error(err)
		}
	}
}
