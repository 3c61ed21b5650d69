package pricing

import (
	"context"

	"foamwright/materials/cutplan"
)

// watched is a planner that tells how many percent of an effort are spent, over all the foams it plans.
type watched struct {
	of     Effort
	before int // evaluations of the foams that are planned
	spent  func(percent int)
}

// Plan is cutplan.Planner's.
func (w *watched) Plan(ctx context.Context, job cutplan.Job, b cutplan.Budget) (cutplan.Plan, error) {
	tell := func(n int) { w.spent(min(100, 100*(w.before+n)/int(w.of))) }
	b.Spent = tell
	plan, err := cutplan.New().Plan(ctx, job, b)
	tell(b.Evaluations) // a search that could gain no more ends before its budget
	w.before += b.Evaluations
	return plan, err
}
