package sales

import (
	"context"

	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// Better is what issuing would price a form at, by the same search with the larger effort; before it what Estimate gives
// of the same figures. spent is told how many percent of the effort are spent. Nothing is stored.
func (s *Service) Better(ctx context.Context, form orderform.Form, spent func(percent int)) (first, better pricing.Estimate, err error) {
	spec, err := form.Spec()
	if err != nil {
		return first, better, err
	}
	w, err := s.Workshop(ctx)
	if err != nil {
		return first, better, err
	}
	snap := w.Snapshot(s.now())
	if first, err = pricing.Make(ctx, spec, snap, pricing.Live); err != nil {
		return first, better, err
	}
	better, err = pricing.MakeWatched(ctx, spec, snap, pricing.Issue, spent)
	return first, better, err
}
