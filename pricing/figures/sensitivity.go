package figures

import (
	"context"
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
)

// tenth is how far each input is moved: a tenth up.
var tenth = decimal.New(1, -1)

// Input is one thing a design's margin hangs on, moved by a tenth up while all else, and the price, stays.
type Input struct {
	Name   string
	Margin Margin
	By     decimal.Decimal // Margin less the one there is, as a share: −0.012 for 1.2 points less
}

// Points writes By in points with a sign: "−1.2".
func (i Input) Points() string {
	s := i.By.Shift(2).StringFixed(1)
	switch {
	case i.By.Shift(2).Round(1).IsPositive():
		return "+" + s
	case i.By.Shift(2).Round(1).IsNegative():
		return "−" + s[1:]
	}
	return "0.0"
}

// Sensitivity moves everything that a design's margin hangs on by a tenth, one at a time with the price kept, and tells
// which moves it most first: the price of each item it takes, shop rate and grades, the minutes of each group of steps,
// the shares for handling and for the unforeseen, and the price itself.
func (s *Service) Sensitivity(ctx context.Context, d sales.Design) (base Margin, all []Input, err error) {
	snap, err := s.sales.Figures(ctx, "")
	if err != nil {
		return base, nil, err
	}
	form := timeless(d.Form)
	e, err := s.estimate(ctx, form, snap)
	if err != nil {
		return base, nil, err
	}
	spec, err := form.Spec()
	if err != nil {
		return base, nil, err
	}
	kept := e.Costing()
	base = MarginIn(kept)
	dearer := kept
	dearer.Net = kept.Net.Add(per(kept.Net, decimal.NewFromInt(10)))
	all = []Input{{Name: "The price", Margin: MarginIn(dearer)}}
	for _, m := range moves(e, spec, snap) {
		after, err := e.Again(ctx, spec, m.snap, pricing.Live)
		if err != nil {
			return base, nil, err
		}
		c := after.Costing()
		c.Net, c.Fee = kept.Net, kept.Fee
		all = append(all, Input{Name: m.name, Margin: MarginIn(c)})
	}
	for i := range all {
		all[i].By = all[i].Margin.Share.Sub(base.Share)
	}
	slices.SortStableFunc(all, func(a, b Input) int { return b.By.Abs().Cmp(a.By.Abs()) })
	return base, all, nil
}

type moved struct {
	name string
	snap pricing.Snapshot
}

// moves are the snapshots with one input a tenth up each.
func moves(e pricing.Estimate, spec shield.Spec, snap pricing.Snapshot) (all []moved) {
	up := func(d decimal.Decimal) decimal.Decimal { return d.Mul(one.Add(tenth)) }
	seen := map[string]bool{}
	for _, c := range e.Materials {
		if c.Item == "" || seen[c.Item] || c.Cost.Sign() == 0 {
			continue
		}
		seen[c.Item] = true
		next := snap
		next.Prices = slices.Clone(snap.Prices)
		for i, p := range next.Prices {
			if p.Item == c.Item {
				next.Prices[i].Amount = up(p.Amount)
			}
		}
		all = append(all, moved{"Price of " + itemName(snap, c), next})
	}
	rate := snap
	rate.Rates.Hour = up(snap.Rates.Hour)
	all = append(all, moved{"Shop rate", rate})
	for i, g := range snap.Rates.Grades {
		next := snap
		next.Rates.Grades = slices.Clone(snap.Rates.Grades)
		next.Rates.Grades[i].Hour = up(g.Hour)
		all = append(all, moved{"Rate of " + g.Name, next})
	}
	for _, group := range labour.Groups(snap.Steps) {
		if !slices.ContainsFunc(e.Work.Lines, func(l labour.Line) bool { return l.Step.Group == group && l.Minutes.IsPositive() }) {
			continue
		}
		next := snap
		next.Steps = slices.Clone(snap.Steps)
		for i, step := range next.Steps {
			if step.Group == group {
				next.Steps[i].Setup, next.Steps[i].Unit = slower(step.Setup, up), slower(step.Unit, up)
			}
		}
		all = append(all, moved{"Time for " + lower(labour.GroupName(group)), next})
	}
	for _, share := range []struct {
		name string
		of   func(*pricing.Rates) *decimal.Decimal
	}{
		{"Share for handling", func(r *pricing.Rates) *decimal.Decimal { return &r.Handling }},
		{"Share for the unforeseen", func(r *pricing.Rates) *decimal.Decimal {
			if spec.FirstTime {
				return &r.ContingencyFirst
			}
			return &r.Contingency
		}},
	} {
		next := snap
		*share.of(&next.Rates) = up(*share.of(&next.Rates))
		all = append(all, moved{share.name, next})
	}
	return all
}

func slower(s labour.Spread, up func(decimal.Decimal) decimal.Decimal) labour.Spread {
	return labour.Spread{Low: up(s.Low), Likely: up(s.Likely), High: up(s.High)}
}

// itemName is what an item is called on the shelf; a line of the slip says more of a foam.
func itemName(snap pricing.Snapshot, c pricing.Charge) string {
	if f, ok := snap.Catalogue.Foam(c.Item); ok {
		return f.Name
	}
	return c.Name
}
