package sales

import (
	"context"
	"encoding/json"
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
)

// Layouts is an order with the foams it is cut from, in the order its parts need them.
type Layouts struct {
	Order Order
	Foams []Layout
}

// Layout is how one foam of an order was cut or, while its Cutting has no ID, would be cut now.
type Layout struct {
	Foam    materials.Foam
	Cutting stock.Cutting
	Digest  string // of job, plan and offcuts: equal digests mean the same cuts
	Short   error  // why it cannot be cut now; there is no plan then
}

// Done tells that it was cut.
func (l Layout) Done() bool { return l.Cutting.ID != "" }

// Layout lays the foams of an order that are not cut yet on what the shelf has now. Nothing is stored; the same
// shelf gives the same plans. Of an order that ended there is what was cut.
func (s *Service) Layout(ctx context.Context, id string) (Layouts, error) {
	return s.layout(ctx, id, "")
}

// layout is Layout of one foam, or of all where none is named.
func (s *Service) layout(ctx context.Context, id, only string) (Layouts, error) {
	o, foams, w, err := s.frozen(ctx, id)
	if err != nil {
		return Layouts{}, err
	}
	var items []string
	for _, f := range foams {
		if only == "" || f.Foam.Code == only {
			items = append(items, f.Foam.Code)
		}
	}
	have, cuttings, err := s.ready(ctx, id, items)
	if err != nil {
		return Layouts{}, err
	}
	l := Layouts{Order: o}
	w.budget.Evaluations /= max(len(foams), 1)
	for _, f := range foams {
		cut, done := cuttings[f.Foam.Code]
		ready, asked := have[f.Foam.Code]
		switch {
		case !asked:
		case done:
			l.Foams = append(l.Foams, Layout{Foam: f.Foam, Cutting: cut, Digest: digest(cut)})
		case o.Open():
			one, err := w.layOut(ctx, f, ready)
			if err != nil {
				return l, err
			}
			l.Foams = append(l.Foams, one)
		}
	}
	return l, nil
}

// wanted is what a layout is for.
type wanted struct {
	order    string
	quantity int
	budget   cutplan.Budget
}

// frozen is what an order is cut for, as its quote was issued: each foam with its job, not planned yet.
func (s *Service) frozen(ctx context.Context, id string) (o Order, foams []takeoff.FoamPlan, w wanted, err error) {
	b, err := s.built(ctx, id)
	if err != nil {
		return o, nil, w, err
	}
	foams, err = takeoff.Foams(b.made, b.snap.Catalogue, b.snap.Usage, b.snap.Rates.OffcutShare)
	// As long a search as the quote's own; no price rests on it.
	return b.order, foams, wanted{id, b.made.Spec.Quantity, cutplan.Budget{Evaluations: int(pricing.Issue), Seed: b.snap.Seed}}, err
}

// ready is what the shelf has for an order of some items, and what of them was cut, at one moment: what was cut is
// read while the shelf is locked.
func (s *Service) ready(ctx context.Context, order string, items []string) (map[string]stock.Ready, map[string]stock.Cutting, error) {
	have, cut := map[string]stock.Ready{}, map[string]stock.Cutting{}
	slices.Sort(items) // every act locks in this order
	err := s.store.Act(ctx, func(tx Tx) (err error) {
		for _, item := range items {
			if have[item], err = stock.ForCutting(ctx, tx, order, item, s.now()); err != nil {
				return err
			}
		}
		list, err := tx.Cuttings(ctx, order)
		for _, c := range list {
			cut[c.Item] = c
		}
		return err
	})
	return have, cut, err
}

// layOut plans one foam on what the shelf has of it.
func (w wanted) layOut(ctx context.Context, f takeoff.FoamPlan, ready stock.Ready) (Layout, error) {
	l := Layout{Foam: f.Foam, Cutting: stock.Cutting{Order: w.order, Item: f.Foam.Code}}
	plan, from, err := f.FromShelf(ctx, w.quantity, supply(ready), cutplan.New(), w.budget)
	if k := fault.KindOf(err); k == fault.Shortage || k == fault.Invalid {
		l.Short = err
		return l, nil
	}
	if err != nil {
		return l, err
	}
	l.Cutting.Job, l.Cutting.Plan, l.Cutting.Lots = plan.Job, plan.Plan, make([]string, len(from))
	for sheet, offcut := range from {
		if offcut >= 0 {
			l.Cutting.Lots[sheet] = ready.Offcuts[offcut].ID
		}
	}
	l.Digest = digest(l.Cutting)
	return l, nil
}

// supply is what the shelf has as a plan takes it. An offcut's worth of a new sheet is what the books say of both,
// or half its area where they say nothing of one.
func supply(r stock.Ready) takeoff.Supply {
	have := takeoff.Supply{Sheets: r.Sheets}
	for _, o := range r.Offcuts {
		worth := o.Left.Div(decimal.NewFromInt(2))
		if value := o.Value.Decimal(); r.Unit.IsPositive() && value.IsPositive() {
			worth = value.DivRound(r.Unit, 8)
		}
		have.Offcuts = append(have.Offcuts, takeoff.Offcut{Label: o.Label, Shape: *o.Shape, Worth: worth})
	}
	return have
}

// digest is of what is cut, from what, where.
func digest(c stock.Cutting) string {
	data, err := json.Marshal(struct {
		Order, Item string
		Job         cutplan.Job
		Plan        cutplan.Plan
		Lots        []string
	}{c.Order, c.Item, c.Job, c.Plan, c.Lots})
	if err != nil {
		panic("sales: a plan that cannot be written down: " + err.Error()) // it holds numbers and words alone
	}
	return hash(data)
}
