package sales

import (
	"context"

	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// breaks are the numbers that a table of prices by number has.
func breaks() []int { return []int{1, 2, 5, 12, 20} }

// Breaks prices a written spec for each number of the table with today's figures, every one a whole estimate: set-ups
// are shared, hands get quicker, sheets are filled. Nothing is stored.
func (s *Service) Breaks(ctx context.Context, form orderform.Form) ([]pricing.Estimate, error) {
	spec, err := form.Spec()
	if err != nil {
		return nil, err
	}
	w, err := s.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	all := make([]pricing.Estimate, len(breaks()))
	for i, n := range breaks() {
		spec.Quantity = n
		if all[i], err = pricing.Make(ctx, spec, w.Snapshot(s.now()), pricing.Live); err != nil {
			return nil, err
		}
	}
	return all, nil
}
