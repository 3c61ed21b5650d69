package cutplan

import (
	"context"
	"fmt"
	"math/rand/v2"

	"foamwright/materials/fault"
)

// planner makes a first plan by placing one piece after another, in several orders, and betters it by
// separation: sheets are emptied into the others, then the last one is tidied for its remnant.
type planner struct{}

// New is the planner of this package. It keeps no state and may be shared.
func New() Planner { return planner{} }

func (planner) Plan(ctx context.Context, job Job, b Budget) (Plan, error) {
	if err := job.Check(); err != nil {
		return Plan{}, err
	}
	d := &decoder{job: job, like: job.alike(), upright: job.grounds(false), budget: b.Evaluations}
	d.bodies = job.bodies(d.like)
	for _, p := range job.Pieces {
		d.areas = append(d.areas, net(p.Shape))
	}
	d.sheets = [2][]int{job.byWeight(func(i int) float64 { return 1 }), job.byWeight(func(i int) float64 { return d.upright[i].area })}
	if err := job.misfits(d.field(false)); err != nil {
		return Plan{}, err
	}
	s := &search{decoder: d, ctx: ctx, capped: ctx, Budget: b, rng: rand.New(rand.NewPCG(b.Seed, 0))}
	if b.Cap > 0 {
		var stop context.CancelFunc
		s.capped, stop = context.WithTimeout(ctx, b.Cap)
		defer stop()
	}
	d.tell = s.tell
	err := s.run()
	s.plan.Evaluations = s.spent()
	return s.plan, err
}

// search is one run of the planner. The run of its steps depends on job, seed and start alone and the budget
// only ends it, so more budget is never worse.
type search struct {
	*decoder
	Budget
	ctx    context.Context
	rng    *rand.Rand
	capped context.Context // ends with the cap as well
	orders int             // plain orders laid out
	layout *layout         // the best of the placer
	plan   Plan
	score  Score
	found  bool
	told   int // evaluations when Spent was told last
	upkeep int // evaluations that rounds took to lay out, judge and load, see round
	*improver
}

// firstOrders are laid out before the separation begins; perEvaluation is how many looks of the separation
// take as long as one of the placer.
const firstOrders, perEvaluation = 10, 2.5

func (s *search) spent() int { return s.looked() + s.upkeep }

func (s *search) looked() int {
	n := s.slider.evals
	if s.improver != nil {
		n += int((s.improver.evals + s.improver.made) / perEvaluation)
	}
	return n
}

// over tells whether the budget, the cap or the context has ended.
func (s *search) over() bool {
	s.tell()
	return s.spent() >= s.Evaluations || s.capped.Err() != nil
}

// tell says how much of the budget is spent, once for every hundredth of it.
func (s *search) tell() {
	if s.Spent == nil {
		return
	}
	if n := min(s.spent(), s.Evaluations); n-s.told >= max(1, s.Evaluations/100) {
		s.told = n
		s.Spent(n)
	}
}

func (s *search) run() error {
	why, which := s.order()
	for why == spent || why == noRoom || why == runOut {
		if s.orders >= len(s.plain()) {
			break
		}
		why, which = s.order() // another order may still find room
	}
	if !s.found {
		return s.failed(why, which)
	}
	if s.over() {
		return s.ctx.Err()
	}
	s.improver = newStock(s.job, s.bodies, s.like, s.upright, s.field(false), s.areas).improver(s)
	s.warm()
	for s.orders < firstOrders && !s.over() {
		s.order()
	}
	round := s.round()
	for idle := 0; !s.over() && idle < mostIdle; idle++ {
		before := s.looked()
		s.order()
		s.empty()
		s.shift()
		s.tidy()
		if s.looked() > before {
			idle = 0
		}
		s.upkeep += round
	}
	return s.ctx.Err()
}

// round is what one round takes beside its looks, in evaluations: little for many pieces, nearly all for one.
func (s *search) round() int {
	corners := 0
	for i, p := range s.job.Pieces {
		for _, r := range s.bodies[i].outline {
			corners += p.Count * len(r)
		}
	}
	return 4 + corners/32
}

// mostIdle ends a run of rounds that look at nothing and so cost nothing.
const mostIdle = 100

// order lays out the next plain order or, when these are done, a change of the best one.
func (s *search) order() (failure, unit) {
	var q sequence
	if plain := s.decoder.plain(); s.orders < len(plain) {
		q = plain[s.orders]
	} else if s.layout == nil || len(s.layout.sequence.order) < 2 {
		return done, unit{}
	} else {
		q = s.change(s.layout, s.rng)
	}
	s.orders++
	s.budget = s.Evaluations - s.spent() + s.slider.evals
	ctx := s.capped
	if !s.found { // the first plan is always finished
		ctx = s.ctx
	}
	l, why, which := s.decode(ctx, q, s.found)
	if l == nil {
		return why, which
	}
	if s.layout == nil || !s.layout.score.Better(l.score) {
		s.layout = l
	}
	s.take(s.decoder.plan(l))
	return why, which
}

// take makes a plan the best if it is better, and tells of it.
func (s *search) take(p Plan) bool {
	score := s.job.Score(p)
	if s.found && !score.Better(s.score) {
		return false
	}
	s.plan, s.score, s.found = p, score, true
	if s.Progress != nil {
		s.Progress(Progress{Plan: p, Score: score, Evaluations: s.spent()})
	}
	return true
}

// failed is why there is no plan at all.
func (s *search) failed(why failure, which unit) error {
	switch why {
	case ended:
		return s.ctx.Err()
	case runOut:
		return s.shortage(which)
	}
	var l fault.List
	p := s.job.Pieces[which.piece]
	l.Add(fmt.Sprintf("pieces[%d]", which.piece), p.Label, s.job.tooLarge(p, s.field(false)))
	return l.Err()
}

// shortage names the piece for which the sheets at hand do not suffice.
func (d *decoder) shortage(u unit) error {
	p := d.job.Pieces[u.piece]
	return fault.New(fault.Shortage, "The sheets at hand are used up and “%s”, copy %d of %d, is still to be placed. Add sheets or make fewer.", p.Label, u.copy+1, p.Count)
}
