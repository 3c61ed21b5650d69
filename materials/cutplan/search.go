package cutplan

import (
	"context"
	"fmt"
	"math/rand/v2"

	"foamwright/materials/fault"
)

// LiveEvaluations is a budget for an estimate while someone types: about 8 ms for twenty pieces, eight of them
// outlines of 150 corners, on one core of a small server (see the benchmarks). Where an estimate plans several
// foams, they share it.
const LiveEvaluations = 20_000

// placer is the first planner: pieces in an order, each slid to the leftmost place among a few heights and
// turns on the first sheet with room; orders are tried and changed while the budget lasts.
type placer struct{}

// New is a planner that places one piece after another. It keeps no state and may be shared.
func New() Planner { return placer{} }

func (placer) Plan(ctx context.Context, job Job, b Budget) (Plan, error) {
	if err := job.Check(); err != nil {
		return Plan{}, err
	}
	d := &decoder{job: job, bodies: job.bodies(), upright: job.grounds(false), budget: b.Evaluations}
	for _, p := range job.Pieces {
		d.areas = append(d.areas, net(p.Shape))
	}
	d.sheets = [2][]int{job.byWeight(func(i int) float64 { return 1 }), job.byWeight(func(i int) float64 { return d.upright[i].area })}
	if err := job.misfits(d.field(false)); err != nil {
		return Plan{}, err
	}
	best, err := d.search(ctx, rand.New(rand.NewPCG(b.Seed, 0)))
	if best == nil {
		return Plan{Evaluations: d.slider.evals}, err
	}
	return d.plan(best), err
}

// search lays out the plain orders first, then changes the best one so far. The run of layouts depends on job
// and seed alone and the budget only ends it, so more budget is never worse.
func (d *decoder) search(ctx context.Context, rng *rand.Rand) (best *layout, err error) {
	why, which := done, unit{}
	take := func(q sequence) bool {
		var l *layout
		if l, why, which = d.decode(ctx, q, best != nil); l != nil && (best == nil || !best.score.Better(l.score)) {
			best = l
		}
		return why != ended && (best == nil || d.slider.evals < d.budget)
	}
	plain := d.plain()
	going := true
	for i := 0; going && i < len(plain); i++ {
		going = take(plain[i])
	}
	// A layout that looks at nothing costs nothing: the second count ends a run of such.
	for n := 0; going && best != nil && n < d.budget && len(best.sequence.order) > 1; n++ {
		going = take(d.change(best, rng))
	}
	switch {
	case why == ended:
		return best, ctx.Err()
	case best != nil:
		return best, nil
	case why == runOut:
		return nil, d.shortage(which)
	}
	var l fault.List
	p := d.job.Pieces[which.piece]
	l.Add(fmt.Sprintf("pieces[%d]", which.piece), p.Label, d.job.tooLarge(p, d.field(false)))
	return nil, l.Err()
}

// shortage names the piece for which the sheets at hand do not suffice.
func (d *decoder) shortage(u unit) error {
	p := d.job.Pieces[u.piece]
	return fault.New(fault.Shortage, "The sheets at hand are used up and “%s”, copy %d of %d, is still to be placed. Add sheets or make fewer.", p.Label, u.copy+1, p.Count)
}
