package sales

import (
	"context"

	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// Better is what issuing would price a form at for a customer, by the same search with the larger effort; before it what Estimate gives
// of the same figures. spent is told how many percent of the effort are spent. Nothing is stored.
func (s *Service) Better(ctx context.Context, customerID string, form orderform.Form, spent func(percent int)) (first, better pricing.Estimate, err error) {
	spec, snap, err := s.asked(ctx, customerID, form)
	if err != nil {
		return first, better, err
	}
	if first, err = pricing.Make(ctx, spec, snap, pricing.Live); err != nil {
		return first, better, err
	}
	better, err = pricing.MakeWatched(ctx, spec, snap, pricing.Issue, spent)
	return first, better, err
}
