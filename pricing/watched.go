package pricing

import (
	"context"

	"foamwright/materials/cutplan"
)

// watched is a planner that tells what share of an effort is spent, over all the foams it plans.
type watched struct {
	of     Effort
	before int // evaluations of the foams that are planned
	spent  func(share float64)
}

// Plan is cutplan.Planner's.
func (w *watched) Plan(ctx context.Context, job cutplan.Job, b cutplan.Budget) (cutplan.Plan, error) {
	tell := func(n int) { w.spent(float64(w.before+n) / float64(w.of)) }
	b.Spent = tell
	plan, err := cutplan.New().Plan(ctx, job, b)
	tell(b.Evaluations) // a search that could gain no more ends before its budget
	w.before += b.Evaluations
	return plan, err
}
