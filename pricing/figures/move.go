package figures

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/labour"
)

// Move is what if: prices or a rate move, or a job is made otherwise. Empty entries move nothing.
type Move struct {
	Foam      decimal.Decimal // percent on the price of every foam, 12 for +12 %
	Materials decimal.Decimal // percent on the price of everything else
	Item      string          // code of one item
	ItemBy    decimal.Decimal // percent on its price, instead of the above
	Rate      decimal.Decimal // new shop rate; 0 for the one there is
	Group     string          // of steps; empty for all of them
	HoursBy   decimal.Decimal // percent on their hours
	Coats     int             // coats of latex or primer more, below zero fewer; at least one is left
	Margin    decimal.Decimal // percent of the price that is aimed at; 0 for the one there is
}

// mostCoats is what a spec can have.
const mostCoats = 12

// Nothing tells that nothing moves: quotes are then held against today's prices.
func (m Move) Nothing() bool {
	return m.Foam.IsZero() && m.Materials.IsZero() && m.ItemBy.IsZero() && m.Rate.IsZero() && m.HoursBy.IsZero() && m.Coats == 0 && m.Margin.IsZero()
}

// Check is nil when the move can be made with a workshop's figures; the fault names each entry.
func (m Move) Check(figures pricing.Snapshot) error {
	var l fault.List
	for _, p := range []struct {
		field string
		value decimal.Decimal
	}{{"foam", m.Foam}, {"materials", m.Materials}, {"item_by", m.ItemBy}, {"hours_by", m.HoursBy}} {
		if p.value.LessThan(decimal.NewFromInt(-90)) || p.value.GreaterThan(decimal.NewFromInt(900)) {
			l.Add(p.field, p.value.String(), "Write a percentage from −90 to 900, for example 12.")
		}
	}
	if m.Rate.IsNegative() || m.Rate.GreaterThan(decimal.NewFromInt(10_000)) {
		l.Add("rate", m.Rate.String(), "Write a rate up to 10 000, or leave it empty for the one there is.")
	}
	if m.Coats < -mostCoats || m.Coats > mostCoats {
		l.Add("coats", strconv.Itoa(m.Coats), "Write a number of coats from −12 to 12, for example −2.")
	}
	if m.Margin.IsNegative() || m.Margin.GreaterThan(decimal.NewFromInt(95)) {
		l.Add("margin", m.Margin.String(), "Write a percentage of the price up to 95, or leave it empty for the one there is.")
	}
	priced := slices.ContainsFunc(figures.Prices, func(p pricing.Price) bool { return p.Item == m.Item })
	switch {
	case m.Item != "" && !priced:
		l.Add("item", m.Item, "No item of that code has a price. Choose one of the list.")
	case m.Item == "" && !m.ItemBy.IsZero():
		l.Add("item", "", "Choose which item moves, or leave its percentage empty.")
	}
	if groups := labour.Groups(figures.Steps); m.Group != "" && !slices.Contains(groups, m.Group) {
		l.Add("group", m.Group, "There is no such group of steps. There is "+strings.Join(groups, ", ")+".")
	}
	return l.Err()
}

// figures are a snapshot with the move made.
func (m Move) figures(s pricing.Snapshot) pricing.Snapshot {
	foams := map[string]bool{}
	for _, f := range s.Catalogue.Foams {
		foams[f.Code] = true
	}
	times := func(percent decimal.Decimal) decimal.Decimal { return one.Add(percent.Shift(-2)) }
	s.Prices = slices.Clone(s.Prices) // shared with other readers
	for i, p := range s.Prices {
		by := m.Materials
		switch {
		case m.Item != "" && p.Item == m.Item && !m.ItemBy.IsZero():
			by = m.ItemBy
		case foams[p.Item]:
			by = m.Foam
		}
		if !by.IsZero() {
			s.Prices[i].Amount = p.Amount.Mul(times(by))
		}
	}
	if m.Rate.IsPositive() {
		s.Rates.Hour = m.Rate
	}
	if m.Margin.IsPositive() {
		s.Rates.Margin = m.Margin.Shift(-2)
	}
	if !m.HoursBy.IsZero() {
		by := times(m.HoursBy)
		longer := func(t labour.Spread) labour.Spread {
			return labour.Spread{Low: t.Low.Mul(by), Likely: t.Likely.Mul(by), High: t.High.Mul(by)}
		}
		s.Steps = slices.Clone(s.Steps)
		for i, step := range s.Steps {
			if m.Group == "" || step.Group == m.Group {
				s.Steps[i].Setup, s.Steps[i].Unit = longer(step.Setup), longer(step.Unit)
			}
		}
	}
	return s
}

// spec is a spec with the move made: a skin keeps at least one coat, what has none gets none.
func (m Move) spec(s shield.Spec) (shield.Spec, error) {
	if m.Coats == 0 || s.Coat.Coats == 0 {
		return s, nil
	}
	s.Coat.Coats = max(1, s.Coat.Coats+m.Coats)
	if s.Coat.Coats > mostCoats {
		var l fault.List
		l.Add("coats", strconv.Itoa(s.Coat.Coats), "At most 12 coats can be put on. Write fewer more.")
		return s, l.Err()
	}
	return s, nil
}
