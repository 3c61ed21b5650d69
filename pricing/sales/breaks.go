package sales

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// breaks are the numbers that a table of prices by number has.
func breaks() []int { return []int{1, 2, 5, 12, 20} }

// Break is a spec priced for so many of it, or why it cannot be.
type Break struct {
	Quantity int
	Estimate *pricing.Estimate
	Why      string
}

// Breaks prices a written spec, as Estimate does, for each number of the table with today's figures, every one a whole estimate: set-ups
// are shared, hands get quicker, sheets are filled. Nothing is stored.
func (s *Service) Breaks(ctx context.Context, customerID string, form orderform.Form) ([]Break, error) {
	spec, snap, err := s.asked(ctx, customerID, form)
	if err != nil {
		return nil, err
	}
	all := make([]Break, len(breaks()))
	for i, n := range breaks() {
		spec.Quantity, all[i].Quantity = n, n
		e, err := pricing.Make(ctx, spec, snap, pricing.Live)
		switch {
		case err == nil:
			all[i].Estimate = &e
		case fault.KindOf(err) == fault.Invalid && i > 0: // more than can be laid out at once
			all[i].Why = fault.ProblemsOf(err)[0].Remedy
		default:
			return nil, err
		}
	}
	return all, nil
}
