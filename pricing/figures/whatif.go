package figures

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"slices"
	"sync"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// Shifted is a design or an open quote before and after a move. What its price would leave when it stays as it is, and
// the price that restores the margin that is aimed at, which is Now.Net, and Now.Price with tax. A quote that was issued
// keeps the price it was issued at; what it costs is told by today's figures.
type Shifted struct {
	Kind   Offer
	Quote  sales.Quote // without its form; of quotes only
	Newer  string      // the draft of its next version, where there is one
	Was    Weighed
	Now    Weighed
	Before Margin // of the old net price over today's cost
	Held   Margin // of the old net price over the new cost
	Below  bool   // Held is less than the margin aimed at
}

// Offer is what is weighed.
type Offer string

// The kinds. A draft has no price yet that anybody was promised.
const (
	ADesign  Offer = "design"
	ADraft   Offer = "draft"
	Standing Offer = "quote" // issued, and it stands today
)

// Dearer is how much more it costs after the move.
func (s Shifted) Dearer() money.Amount { return s.Now.Cost().Sub(s.Was.Cost()) }

// Short is how much net price is missing for the margin aimed at; zero where none is.
func (s Shifted) Short() money.Amount {
	if !s.Below || s.Now.Net.Cmp(s.Was.Net) < 0 {
		return money.Sum(s.Was.Net.Currency())
	}
	return s.Now.Net.Sub(s.Was.Net)
}

// Unpriced is what could not be priced, and why.
type Unpriced struct {
	Kind          Offer
	ID, Name, Why string
}

// Effect is what a move does to all that is on offer. Sums are over the quotes that stand.
type Effect struct {
	All     []Shifted // designs by name, then quotes, newest first
	Skipped []Unpriced
	Target  Margin
	Quotes  int // that stand
	Below   int // of them
	Net     money.Amount
	Dearer  money.Amount // what they all cost more when their prices stay
	Short   money.Amount // what is missing of the margin aimed at, of those below
}

// Of are those of some kinds, below the margin aimed at or not; the lowest margin first.
func (e Effect) Of(below bool, kinds ...Offer) (some []Shifted) {
	for _, s := range e.All {
		if s.Below == below && slices.Contains(kinds, s.Kind) {
			some = append(some, s)
		}
	}
	slices.SortStableFunc(some, func(a, b Shifted) int { return a.Held.Share.Cmp(b.Held.Share) })
	return some
}

// offering is a design or an open quote with the figures its price is made from.
type offering struct {
	Shifted
	form    orderform.Form
	figures *basis
}

// WhatIf prices every design and every open quote before and after a move. Nothing is changed. done is told how many of
// how many are worked out, by one goroutine at a time. One move is worked out at a time, on all cores; the others wait
// their turn until ctx ends.
func (s *Service) WhatIf(ctx context.Context, m Move, done func(n, of int)) (e Effect, err error) {
	o, err := s.sales.OnOffer(ctx)
	if err != nil {
		return e, err
	}
	if err := m.Check(o.Workshop.Figures); err != nil {
		return e, err
	}
	all, err := s.offers(o)
	if err != nil {
		return e, err
	}
	leave, err := s.takeTurn(ctx)
	if err != nil {
		return e, err
	}
	defer leave()
	after := map[*basis]pricing.Snapshot{}
	for _, w := range all {
		if _, ok := after[w.figures]; !ok {
			after[w.figures] = m.figures(w.figures.Snapshot)
		}
	}
	shifted, skipped, err := eachOf(ctx, all, done, func(w offering) (Shifted, error) { return s.shift(ctx, w, m, after[w.figures]) })
	if err != nil {
		return e, err
	}
	rates := m.figures(o.Workshop.Figures).Rates
	return weighed(shifted, skipped, Margin{rates.Margin}, rates.Currency), nil
}

// weighed adds up what stands.
func weighed(all []Shifted, skipped []Unpriced, target Margin, currency money.Currency) Effect {
	none := money.Sum(currency)
	e := Effect{All: all, Skipped: skipped, Target: target, Net: none, Dearer: none, Short: none}
	for _, s := range all {
		if s.Kind != Standing {
			continue
		}
		e.Quotes++
		e.Net, e.Dearer, e.Short = e.Net.Add(s.Was.Net), e.Dearer.Add(s.Dearer()), e.Short.Add(s.Short())
		if s.Below {
			e.Below++
		}
	}
	return e
}

// takeTurn waits until nobody else works everything out.
func (s *Service) takeTurn(ctx context.Context) (leave func(), err error) {
	select {
	case s.turn <- struct{}{}:
		return func() { <-s.turn }, nil
	case <-ctx.Done():
		return nil, fault.New(fault.Unavailable, "This was given up before its turn came. Ask again.").Because(ctx.Err())
	}
}

// offers are all designs, then all open quotes. The draft of a number whose issued version stands is told with that one.
func (s *Service) offers(o sales.OnOffer) ([]offering, error) {
	bases := map[fingerprint]*basis{}
	of := func(customer string) (*basis, error) {
		b, err := based(o.Figures(customer))
		if err != nil {
			return nil, err
		}
		if bases[b.print] == nil {
			b = s.cache.same(b)
			bases[b.print] = &b
		}
		return bases[b.print], nil
	}
	figures, err := of("")
	if err != nil {
		return nil, err
	}
	var all []offering
	for _, d := range o.Designs {
		w := offering{form: d.Form, figures: figures}
		w.Kind, w.Was = ADesign, Weighed{ID: d.ID, Name: d.Name, Version: d.Version}
		all = append(all, w)
	}
	byCustomer := map[string]*basis{}
	drafts := map[sales.Number]string{}
	for _, q := range o.Quotes {
		if q.State == sales.Draft && q.Number.No != 0 {
			drafts[q.Number] = q.ID
		}
	}
	standing := map[sales.Number]bool{}
	for _, q := range o.Quotes {
		if q.State == sales.Issued {
			standing[q.Number] = true
		}
	}
	for _, q := range o.Quotes {
		if q.State == sales.Draft && standing[q.Number] {
			continue
		}
		figures := byCustomer[q.CustomerID]
		if figures == nil {
			if figures, err = of(q.CustomerID); err != nil {
				return nil, err
			}
			byCustomer[q.CustomerID] = figures
		}
		w := offering{form: q.Form, figures: figures}
		w.Kind, w.Quote, w.Was = ADraft, q, Weighed{ID: q.ID, Name: q.Title}
		w.Quote.Form = orderform.Form{}
		if q.State == sales.Issued {
			w.Kind, w.Newer = Standing, drafts[q.Number]
		}
		all = append(all, w)
	}
	return all, nil
}

// today weighs what is on offer at today's figures: a quote that stands at the price it was issued at.
func (s *Service) today(ctx context.Context, w offering) (pricing.Estimate, Shifted, error) {
	e, err := s.estimateAt(ctx, w.form, *w.figures)
	if err != nil {
		return e, Shifted{}, err
	}
	was := Weigh(w.Was.ID, w.Was.Name, e)
	was.Version = w.Was.Version
	if q := w.Quote; w.Kind == Standing {
		was.Net, was.Price, was.Fee = q.Net, q.Gross, w.figures.Rates.FeeOf(q.Gross)
	}
	w.Shifted.Was, w.Shifted.Before = was, was.Margin()
	return e, w.Shifted, nil
}

func (s *Service) shift(ctx context.Context, w offering, m Move, figures pricing.Snapshot) (Shifted, error) {
	e, shifted, err := s.today(ctx, w)
	if err != nil {
		return shifted, err
	}
	spec, err := m.spec(e.Spec())
	if err != nil {
		return shifted, err
	}
	if e, err = e.Again(ctx, spec, figures, pricing.Live); err != nil {
		return shifted, err
	}
	was := shifted.Was
	shifted.Now = Weigh(was.ID, was.Name, e)
	shifted.Held = MarginOf(was.Net.Sub(was.Fee), shifted.Now.Cost())
	shifted.Below = shifted.Held.Share.Round(4).LessThan(figures.Rates.Margin)
	return shifted, nil
}

// eachOf works things out on all cores and keeps their order. What cannot be priced is skipped with its reason; any
// other failure, or the end of ctx, ends the whole.
func eachOf[T any](ctx context.Context, all []offering, done func(n, of int), work func(offering) (T, error)) (made []T, skipped []Unpriced, err error) {
	results, why := make([]T, len(all)), make([]error, len(all))
	var mu sync.Mutex
	worked := 0
	err = parallel(ctx, len(all), func(_ context.Context, i int) (err error) {
		results[i], err = safely(func() (T, error) { return work(all[i]) })
		if kind := fault.KindOf(err); err != nil && kind != fault.Invalid && kind != fault.TooLarge {
			return err
		}
		why[i] = err
		mu.Lock()
		defer mu.Unlock()
		worked++
		done(worked, len(all))
		return nil
	})
	if ctx.Err() != nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, nil, givenUp(err)
	}
	for i, w := range all {
		if why[i] == nil {
			made = append(made, results[i])
		} else {
			skipped = append(skipped, Unpriced{w.Kind, w.Was.ID, w.Was.Name, why[i].Error()})
		}
	}
	return made, skipped, nil
}

// givenUp is a fault for work that ended before it was done.
func givenUp(cause error) error {
	if errors.Is(cause, context.Canceled) || errors.Is(cause, context.DeadlineExceeded) {
		return fault.New(fault.Unavailable, "This was given up before it was worked out. Ask again.").Because(cause)
	}
	return cause
}

// safely turns a panic into an error: nothing else stands between a worker and the end of the program.
func safely[T any](work func() (T, error)) (made T, err error) {
	defer func() {
		if value := recover(); value != nil {
			err = fmt.Errorf("panic: %v\n%s", value, debug.Stack())
		}
	}()
	return work()
}
