package figures

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// Service reads what the figures are made of.
type Service struct {
	store  Store
	sales  *sales.Service
	render sales.Renderer
	now    func() time.Time
	cache  *cache
}

// NewService reads sums through a store and single documents through sales; render prints pages of figures.
func NewService(store Store, s *sales.Service, render sales.Renderer, now func() time.Time) *Service {
	return &Service{store, s, render, now, newCache()}
}

// Skipped is what could not be priced, and why.
type Skipped struct{ ID, Name, Why string }

// Designs weighs every design at today's figures, for a customer like any other.
func (s *Service) Designs(ctx context.Context) (all []Weighed, skipped []Skipped, err error) {
	designs, err := s.sales.Designs(ctx)
	if err != nil {
		return nil, nil, err
	}
	figures, err := s.sales.Figures(ctx, "")
	if err != nil {
		return nil, nil, err
	}
	for _, d := range designs {
		e, err := s.estimate(ctx, d.Form, figures)
		if fault.KindOf(err) == fault.Invalid {
			skipped = append(skipped, Skipped{d.ID, d.Name, err.Error()})
			continue
		}
		if err != nil {
			return nil, nil, err
		}
		w := Weigh(d.ID, d.Name, e)
		w.Version = d.Version
		all = append(all, w)
	}
	return all, skipped, nil
}

// Shifted is a design or an open quote before and after a move. What its price would leave when it stays as it is, and
// the price that restores the margin that is aimed at.
type Shifted struct {
	Quote    bool
	ID, Name string
	Was, Now Weighed
	Held     Margin       // of the old net price over the new cost
	Restores money.Amount // price with tax at the new figures
	Below    bool         // Held is less than the margin aimed at
}

// WhatIf prices every design and every open quote before and after a move. Nothing is changed. done is told how many of
// how many are worked out, from the goroutine it was called on. A quote that was issued keeps its price before.
func (s *Service) WhatIf(ctx context.Context, m Move, done func(n, of int)) (all []Shifted, skipped []Skipped, err error) {
	if err := m.Check(); err != nil {
		return nil, nil, err
	}
	jobs, err := s.open(ctx)
	if err != nil {
		return nil, nil, err
	}
	for i, j := range jobs {
		shifted, err := j.shift(ctx, m)
		switch {
		case fault.KindOf(err) == fault.Invalid:
			skipped = append(skipped, Skipped{j.id, j.name, err.Error()})
		case err != nil:
			return nil, nil, err
		default:
			all = append(all, shifted)
		}
		done(i+1, len(jobs))
	}
	return all, skipped, nil
}

// job is a design or an open quote with the figures its price is made from.
type job struct {
	quote    bool
	id, name string
	form     orderform.Form
	figures  pricing.Snapshot
	issued   *sales.Quote // nil for what was not
}

// open are all designs, then all open quotes.
func (s *Service) open(ctx context.Context) (jobs []job, err error) {
	designs, err := s.sales.Designs(ctx)
	if err != nil {
		return nil, err
	}
	figures := map[string]pricing.Snapshot{} // by customer: tax goes by who buys
	of := func(customer string) (snap pricing.Snapshot, err error) {
		snap, ok := figures[customer]
		if !ok {
			snap, err = s.sales.Figures(ctx, customer)
			figures[customer] = snap
		}
		return snap, err
	}
	for _, d := range designs {
		snap, err := of("")
		if err != nil {
			return nil, err
		}
		jobs = append(jobs, job{id: d.ID, name: d.Name, form: d.Form, figures: snap})
	}
	quotes, err := s.sales.OpenQuotes(ctx)
	for _, q := range quotes {
		snap, err := of(q.CustomerID)
		if err != nil {
			return nil, err
		}
		j := job{quote: true, id: q.ID, name: q.Title + ", " + q.Customer, form: q.Form, figures: snap}
		if q.State == sales.Issued {
			j.issued = &q
		}
		jobs = append(jobs, j)
	}
	return jobs, err
}

func (j job) shift(ctx context.Context, m Move) (s Shifted, err error) {
	before, err := priced(ctx, j.form, j.figures)
	if err != nil {
		return s, err
	}
	form, err := m.form(j.form)
	if err != nil {
		return s, err
	}
	after, err := priced(ctx, form, m.figures(j.figures))
	if err != nil {
		return s, err
	}
	s = Shifted{Quote: j.quote, ID: j.id, Name: j.name, Was: Weigh(j.id, j.name, before), Now: Weigh(j.id, j.name, after)}
	if q := j.issued; q != nil {
		s.Was.Net, s.Was.Price = q.Net, q.Gross
	}
	s.Held, s.Restores = MarginOf(s.Was.Net.Sub(s.Was.Fee), s.Now.Cost()), s.Now.Price
	s.Below = s.Held.Share.Round(4).LessThan(j.figures.Rates.Margin)
	return s, nil
}

// priced is an estimate in the effort of a page: figures are looked at, not issued. A date that is over does not matter.
func priced(ctx context.Context, f orderform.Form, figures pricing.Snapshot) (pricing.Estimate, error) {
	f.Delivery.By = orderform.Text{}
	spec, err := f.Spec()
	if err != nil {
		return pricing.Estimate{}, err
	}
	return pricing.Make(ctx, spec, figures, pricing.Live)
}
