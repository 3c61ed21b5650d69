package figures

import (
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// Move is what if: prices or a rate move, or a job is made otherwise. Empty entries move nothing.
type Move struct {
	Foam      decimal.Decimal // percent on the price of every foam, 12 for +12 %
	Materials decimal.Decimal // percent on the price of everything else
	Item      string          // code of one item
	ItemBy    decimal.Decimal // percent on its price, instead of the above
	Rate      decimal.Decimal // new shop rate; 0 for the one there is
	Coats     int             // coats of latex or primer more, below zero fewer; at least one is left
}

// Nothing tells that nothing moves.
func (m Move) Nothing() bool {
	return m.Foam.IsZero() && m.Materials.IsZero() && (m.Item == "" || m.ItemBy.IsZero()) && m.Rate.IsZero() && m.Coats == 0
}

// Check is nil when the move can be made.
func (m Move) Check() error {
	var l fault.List
	for _, p := range []struct {
		field string
		value decimal.Decimal
	}{{"foam", m.Foam}, {"materials", m.Materials}, {"item_by", m.ItemBy}} {
		if p.value.LessThan(decimal.NewFromInt(-90)) || p.value.GreaterThan(decimal.NewFromInt(900)) {
			l.Add(p.field, p.value.String(), "Write a percentage from −90 to 900, for example 12.")
		}
	}
	if m.Rate.IsNegative() || m.Rate.GreaterThan(decimal.NewFromInt(10_000)) {
		l.Add("rate", m.Rate.String(), "Write a rate up to 10 000, or leave it empty for the one there is.")
	}
	if m.Coats < -20 || m.Coats > 20 {
		l.Add("coats", strconv.Itoa(m.Coats), "Write a number of coats from −20 to 20.")
	}
	return l.Err()
}

// figures are a snapshot with the move made.
func (m Move) figures(s pricing.Snapshot) pricing.Snapshot {
	foams := map[string]bool{}
	for _, f := range s.Catalogue.Foams {
		foams[f.Code] = true
	}
	s.Prices = slices.Clone(s.Prices) // shared with other readers
	for i, p := range s.Prices {
		by := m.Materials
		switch {
		case m.Item != "" && p.Item == m.Item:
			by = m.ItemBy
		case foams[p.Item]:
			by = m.Foam
		}
		s.Prices[i].Amount = p.Amount.Mul(one.Add(by.Shift(-2)))
	}
	if m.Rate.IsPositive() {
		s.Rates.Hour = m.Rate
	}
	return s
}

// form is a spec with the move made.
func (m Move) form(f orderform.Form) (orderform.Form, error) {
	if m.Coats == 0 {
		return f, nil
	}
	spec, err := f.Spec()
	if err != nil || spec.Coat.Coats == 0 {
		return f, err
	}
	return f.With(map[string]string{"coat.coats": strconv.Itoa(max(1, spec.Coat.Coats+m.Coats))})
}
