package figures

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// Service reads what the figures are made of.
type Service struct {
	store  Store
	sales  *sales.Service
	render sales.Renderer
	now    func() time.Time
	cache  *cache
	turn   chan struct{} // who works everything out
}

// NewService reads sums through a store and single documents through sales; render prints pages of figures.
func NewService(store Store, s *sales.Service, render sales.Renderer, now func() time.Time) *Service {
	return &Service{store, s, render, now, newCache(), make(chan struct{}, 1)}
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
