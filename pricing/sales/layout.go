package sales

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
)

// cuttingEffort is the evaluations that one foam's cutting plan may take: about a tenth of a second. No price rests
// on it, and it is made twice: to be looked at, and to be cut.
const cuttingEffort = 200_000

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
	var l Layouts
	var cuttings []stock.Cutting
	var q Quote
	var body []byte
	err := s.store.Act(ctx, func(tx Tx) (err error) {
		if l.Order, err = tx.Order(ctx, id); err != nil {
			return err
		}
		if q, err = tx.Quote(ctx, l.Order.QuoteID); err != nil {
			return err
		}
		if body, err = tx.Snapshot(ctx, q.Snapshot); err != nil {
			return err
		}
		cuttings, err = tx.Cuttings(ctx, id)
		return err
	})
	if err != nil {
		return l, err
	}
	var snap pricing.Snapshot
	if err := json.Unmarshal(body, &snap); err != nil {
		return l, fmt.Errorf("snapshot of quote %s: %w", q.ID, err)
	}
	spec, err := q.Form.Spec()
	if err != nil {
		return l, err
	}
	made, err := shield.Make(spec, snap.Catalogue, snap.Bench)
	if err != nil {
		return l, err
	}
	foams, err := takeoff.Foams(made, snap.Catalogue, snap.Usage, snap.Rates.OffcutShare)
	if err != nil {
		return l, err
	}
	done := func(item string) int {
		return slices.IndexFunc(cuttings, func(c stock.Cutting) bool { return c.Item == item })
	}
	var items []string
	for _, f := range foams {
		if done(f.Foam.Code) < 0 && l.Order.Open() && (only == "" || f.Foam.Code == only) {
			items = append(items, f.Foam.Code)
		}
	}
	have, err := s.ready(ctx, id, items)
	if err != nil {
		return l, err
	}
	for _, f := range foams {
		code := f.Foam.Code
		if i := done(code); i >= 0 {
			l.Foams = append(l.Foams, Layout{Foam: f.Foam, Cutting: cuttings[i], Digest: digest(cuttings[i])})
			continue
		}
		ready, ok := have[code]
		if !ok {
			continue
		}
		one := Layout{Foam: f.Foam, Cutting: stock.Cutting{Order: id, Item: code}}
		plan, from, err := f.FromShelf(ctx, spec.Quantity, supply(ready, f), cutplan.New(), cutplan.Budget{Evaluations: cuttingEffort, Seed: snap.Seed})
		switch k := fault.KindOf(err); {
		case k == fault.Shortage || k == fault.Invalid:
			one.Short = err
		case err != nil:
			return l, err
		default:
			one.Cutting.Job, one.Cutting.Plan, one.Cutting.Lots = plan.Job, plan.Plan, make([]string, len(from))
			for sheet, offcut := range from {
				if offcut >= 0 {
					one.Cutting.Lots[sheet] = ready.Offcuts[offcut].ID
				}
			}
			one.Digest = digest(one.Cutting)
		}
		l.Foams = append(l.Foams, one)
	}
	return l, nil
}

// ready is what the shelf has for an order of some items, all at one moment.
func (s *Service) ready(ctx context.Context, order string, items []string) (map[string]stock.Ready, error) {
	have := map[string]stock.Ready{}
	slices.Sort(items) // every act locks in this order
	err := s.store.Act(ctx, func(tx Tx) (err error) {
		for _, item := range items {
			if have[item], err = stock.ForCutting(ctx, tx, order, item, s.now()); err != nil {
				return err
			}
		}
		return nil
	})
	return have, err
}

// supply is what the shelf has as a plan takes it. An offcut's worth of a new sheet is what the books say of both,
// or half its area where they say nothing of one.
func supply(r stock.Ready, f takeoff.FoamPlan) takeoff.Supply {
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
