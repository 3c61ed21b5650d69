package sales

import (
	"context"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

// How many jobs it takes: before a step's time is offered anew, and before a price is given odds. Common practice, no
// source.
const (
	JobsToLearn = 3
	JobsForOdds = 5
	patience    = 1 // months until learned times are offered again
	latestJobs  = 200
)

// LearningTx is what learning keeps, within one transaction.
type LearningTx interface {
	// LockWorkshop keeps others from changing the settings until the end; before any other lock.
	LockWorkshop(ctx context.Context) error
	// Made are the orders that are done and have time logged, newest first, so many at most.
	Made(ctx context.Context, most int) ([]Made, error)
	// MadeJobs counts them.
	MadeJobs(ctx context.Context) (int, error)
	AddLesson(ctx context.Context, t labour.Taught) error
	Lessons(ctx context.Context) ([]labour.Taught, error) // newest first
}

// Made is an order that is done, as it was planned when its quote was issued.
type Made struct {
	ID     string
	Number Number
	Tasks  []schedule.Task
	Steps  []labour.Step // the table of that day
}

// Evidence is what one order says about a step: minutes with rest, planned by the base of the lesson.
type Evidence struct {
	ID, Number      string
	Planned, Actual decimal.Decimal
	Wild            bool
}

// Offer is a step whose time logged jobs would move.
type Offer struct {
	Step     labour.Step // as it stands
	Next     labour.Times
	Lesson   labour.Lesson
	Evidence []Evidence
}

// Learned is what logged jobs teach.
type Learned struct {
	Offers  []Offer // in the order of making
	Jobs    int     // orders that were looked at
	Rework  decimal.Decimal
	Apart   decimal.Decimal // minutes that belong to no planned step
	Edit    int             // of the settings it was held against
	Lessons []labour.Taught
}

// Learned holds the table of steps against the orders that were made. Nothing changes by it.
func (s *Service) Learned(ctx context.Context) (Learned, error) {
	return read(ctx, s, func(tx Tx) (Learned, error) {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return Learned{}, err
		}
		return learned(ctx, tx, w)
	})
}

func learned(ctx context.Context, tx Tx, w workshop.Workshop) (Learned, error) {
	l := Learned{Edit: w.Edit}
	made, err := tx.Made(ctx, latestJobs)
	if err != nil || len(made) == 0 {
		return l, err
	}
	if l.Lessons, err = tx.Lessons(ctx); err != nil {
		return l, err
	}
	logs, err := tx.LogsSince(ctx, time.Unix(0, 0).UTC())
	if err != nil {
		return l, err
	}
	of := map[string][]labour.Log{}
	for _, log := range logs {
		of[log.Order] = append(of[log.Order], log)
	}
	l.Jobs = len(made)
	steps := w.Figures.Steps
	jobs := map[string][]Evidence{}
	for _, m := range made {
		planned := m.planned()
		actual, rework, apart := labour.Apportioned(steps, planned, of[m.ID])
		l.Rework, l.Apart = l.Rework.Add(rework), l.Apart.Add(apart)
		for _, step := range steps {
			if took := actual[step.Code]; took.IsPositive() {
				base := labour.Base(step, l.Lessons)
				jobs[step.Code] = append(jobs[step.Code], Evidence{ID: m.ID, Number: m.Number.String(), Planned: planned[step.Code].Mul(m.times(step).To(base)).Round(4), Actual: took.Round(2)})
			}
		}
	}
	for _, step := range steps {
		o, err := offer(step, jobs[step.Code], l.Lessons)
		if err != nil {
			return l, err
		}
		if o.Lesson.Jobs >= JobsToLearn && !o.Next.Equal(step.Times()) {
			l.Offers = append(l.Offers, o)
		}
	}
	return l, nil
}

// offer is what some jobs make of a step. They are held against its times before any lesson, so that the same jobs
// teach only once however often they are taken over.
func offer(step labour.Step, jobs []Evidence, lessons []labour.Taught) (Offer, error) {
	o := Offer{Step: step, Evidence: jobs}
	list := make([]labour.Job, len(jobs))
	for i, j := range jobs {
		list[i] = labour.Job{Order: j.ID, Planned: j.Planned, Actual: j.Actual}
	}
	var err error
	o.Lesson, err = labour.Learn(step.With(labour.Base(step, lessons)), list)
	o.Next = labour.Times{Setup: o.Lesson.NewSetup, Unit: o.Lesson.New}
	for i := range o.Evidence {
		o.Evidence[i].Wild = slices.Contains(o.Lesson.Wild, o.Evidence[i].ID)
	}
	return o, err
}

// planned are the minutes that an order's steps were planned with, of all their people and with rest.
func (m Made) planned() map[string]decimal.Decimal {
	planned := map[string]decimal.Decimal{}
	for _, t := range m.Tasks {
		work := decimal.NewFromInt(int64(t.Work)).Mul(decimal.NewFromInt(int64(max(1, t.People))))
		planned[t.Code] = planned[t.Code].Add(work.DivRound(decimal.NewFromInt(int64(time.Minute)), 4))
	}
	return planned
}

// times are those that a step had when the order was priced; what it has now where there was no such step.
func (m Made) times(step labour.Step) labour.Times {
	for _, s := range m.Steps {
		if s.Code == step.Code {
			return s.Times()
		}
	}
	return step.Times()
}

// Newly is how many steps have a time to offer, 0 within a month of the last answer: who has said no is not asked
// again so soon.
func (s *Service) Newly(ctx context.Context) (int, error) {
	return read(ctx, s, func(tx Tx) (int, error) {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil || w.Answered.AddDate(0, patience, 0).After(s.now()) {
			return 0, err
		}
		l, err := learned(ctx, tx, w)
		return len(l.Offers), err
	})
}

// TakeOver writes learned times into the table of steps: those of shown, which has the likely minutes a unit and a
// set-up that were offered for each code, so that nobody takes over what they did not see. Issued quotes do not move.
// With none it only notes that the answer was given.
func (s *Service) TakeOver(ctx context.Context, shown map[string]labour.Times, by string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		if err := tx.LockWorkshop(ctx); err != nil {
			return err
		}
		now := s.now()
		w, err := tx.Workshop(ctx, now)
		if err != nil {
			return err
		}
		l, err := learned(ctx, tx, w)
		if err != nil {
			return err
		}
		steps := slices.Clone(w.Figures.Steps)
		for code, times := range shown {
			i := slices.IndexFunc(l.Offers, func(o Offer) bool { return o.Step.Code == code })
			if i < 0 || !l.Offers[i].Next.Equal(times) {
				return fault.New(fault.Conflict, "What was logged or the steps have changed since this list was shown. Look at it again.")
			}
			o := l.Offers[i]
			at := slices.IndexFunc(steps, func(s labour.Step) bool { return s.Code == code })
			steps[at] = steps[at].With(o.Next)
			if err := tx.AddLesson(ctx, labour.Taught{Step: code, Was: o.Step.Times(), Is: o.Next, Jobs: o.Lesson.Jobs, At: now, ByWhom: by}); err != nil {
				return err
			}
		}
		w.Figures.Steps, w.Answered, w.Edit = steps, now, w.Edit+1
		return tx.SetWorkshop(ctx, w)
	})
}

// Effect is a draft with its price as it is and as it would be with other times. A draft that cannot be priced has
// none.
type Effect struct {
	Quote         Quote
	Before, After money.Amount
}

// mostEffects is how many drafts are priced at once, newest first.
const mostEffects = 20

// Effects prices the open quotes with all learned times, on demand. Nothing is stored; issued quotes never move.
func (s *Service) Effects(ctx context.Context, l Learned) ([]Effect, error) {
	w, err := s.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	drafts, err := read(ctx, s, func(tx Tx) ([]Quote, error) { return drafts(ctx, tx) })
	if err != nil {
		return nil, err
	}
	before := w.Snapshot(s.now())
	after := before
	after.Steps = slices.Clone(before.Steps)
	for _, o := range l.Offers {
		for i, step := range after.Steps {
			if step.Code == o.Step.Code {
				after.Steps[i] = step.With(o.Next)
			}
		}
	}
	var all []Effect
	for _, q := range drafts {
		e := Effect{Quote: q}
		spec, err := q.Form.Spec()
		if err != nil {
			continue // not written to its end yet
		}
		for snap, price := range map[*pricing.Snapshot]*money.Amount{&before: &e.Before, &after: &e.After} {
			est, err := pricing.Make(ctx, spec, *snap, pricing.Live)
			if fault.KindOf(err) == fault.Unavailable {
				return nil, err
			}
			*price = est.Price.Gross
		}
		if e.Before.Sign() > 0 && e.After.Sign() > 0 {
			all = append(all, e)
		}
	}
	return all, nil
}

// drafts are the newest drafts with their forms.
func drafts(ctx context.Context, tx Tx) ([]Quote, error) {
	list, err := tx.Quotes(ctx, Found{})
	if err != nil {
		return nil, err
	}
	list = slices.DeleteFunc(list, func(q Quote) bool { return q.State != Draft })
	list = list[:min(len(list), mostEffects)]
	for i, q := range list {
		if list[i], err = tx.Quote(ctx, q.ID); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// Odds tells whether enough jobs were logged to speak of the chance that a price keeps its margin.
func (s *Service) Odds(ctx context.Context) (bool, error) {
	n, err := read(ctx, s, func(tx Tx) (int, error) { return tx.MadeJobs(ctx) })
	return n >= JobsForOdds, err
}
