package figures

import (
	"time"

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
