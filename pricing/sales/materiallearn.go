package sales

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/pricing/labour"
)

// What can be learned beside the spread of liquids, which goes by the item's code: the release, by the way of setting.
const (
	releaseCold = "release cold"
	releaseHeat = "release heat"
)

// latestPieces is how many orders are looked at: each has to be worked out again.
const latestPieces = 60

// MaterialLesson is a figure that the maker took over.
type MaterialLesson struct {
	What    string // an item, or one of the releases
	Was, Is decimal.Decimal
	Jobs    int
	At      time.Time
	By      string
}

// MaterialOffer is a figure of materials that finished orders would move.
type MaterialOffer struct {
	What, Name, Unit string
	Was, Is          decimal.Decimal // as it stands; learned
	Drift            labour.Drift    // against what it was before any lesson
	Evidence         []Evidence      // for a release the calibrations, for a liquid the amounts
}

// Rate is one figure of an order: what it was reckoned with, and what it came to.
type Rate struct {
	What string
	Job  labour.Job
	Used decimal.Decimal // the figure in force when the order was reckoned
}

// LearnRate holds the figure what against the orders that were made. Lessons, newest first, are followed back as long
// as each begins where the one before ended, so that the same orders teach once however often they are taken over. An
// order that was reckoned with another figure is reckoned anew with that of before the lessons.
func LearnRate(what string, now decimal.Decimal, rates []Rate, lessons []MaterialLesson) (MaterialOffer, error) {
	o := MaterialOffer{What: what, Was: now}
	base := now
	for _, l := range lessons {
		if l.What != what {
			continue
		}
		if !l.Is.Equal(base) {
			break
		}
		base = l.Was
	}
	var jobs []labour.Job
	for _, r := range rates {
		if r.What != what || !r.Used.IsPositive() {
			continue
		}
		j := r.Job
		j.Planned = j.Planned.Mul(base).DivRound(r.Used, 8)
		jobs = append(jobs, j)
		o.Evidence = append(o.Evidence, Evidence{ID: j.Order, Planned: j.Planned.Round(3), Actual: j.Actual.Round(3)})
	}
	var err error
	o.Drift, err = labour.Drifted(jobs)
	for i := range o.Evidence {
		o.Evidence[i].Wild = slices.Contains(o.Drift.Wild, o.Evidence[i].ID)
	}
	o.Is = base.Mul(o.Drift.Ratio)
	return o, err
}

// LearnedMaterials are the figures that finished orders would move: the release, from what was measured, and how far
// liquids spread, from what was taken off the shelf. Nothing changes by it.
func (s *Service) LearnedMaterials(ctx context.Context) (offers []MaterialOffer, lessons []MaterialLesson, err error) {
	err = s.store.Act(ctx, func(tx Tx) (err error) {
		offers, lessons, err = s.learnedMaterials(ctx, tx)
		return err
	})
	return offers, lessons, err
}

func (s *Service) learnedMaterials(ctx context.Context, tx Tx) (offers []MaterialOffer, lessons []MaterialLesson, err error) {
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return nil, nil, err
	}
	if lessons, err = tx.MaterialLessons(ctx); err != nil {
		return nil, nil, err
	}
	rates, numbers, err := s.rates(ctx, tx)
	if err != nil {
		return nil, nil, err
	}
	offer := func(what, name, unit string, now decimal.Decimal, places int32) error {
		o, err := LearnRate(what, now, rates, lessons)
		o.Name, o.Unit, o.Is = name, unit, o.Is.Round(places)
		for i, e := range o.Evidence {
			o.Evidence[i].Number = numbers[e.ID]
		}
		if err == nil && o.Drift.Jobs >= JobsToLearn && !o.Is.Equal(o.Was) && o.Is.IsPositive() {
			offers = append(offers, o)
		}
		return err
	}
	if err := offer(releaseCold, "Springback, glued cold", "", w.Figures.Bench.Release("cold"), 2); err != nil {
		return nil, nil, err
	}
	if err := offer(releaseHeat, "Springback, set with heat", "", w.Figures.Bench.Release("heat"), 2); err != nil {
		return nil, nil, err
	}
	for _, l := range w.Figures.Catalogue.Liquids {
		if err := offer(l.Code, l.Name, "l/m²", l.Spread, 3); err != nil {
			return nil, nil, err
		}
	}
	return offers, lessons, nil
}

// rates are what the latest orders that were made say, and what those orders are called.
func (s *Service) rates(ctx context.Context, tx Tx) (rates []Rate, numbers map[string]string, err error) {
	orders, err := tx.Orders(ctx, Found{Most: 4 * latestPieces})
	if err != nil {
		return nil, nil, err
	}
	numbers = map[string]string{}
	orders = slices.DeleteFunc(orders, func(o Order) bool { return o.State != Done })
	for _, o := range orders[:min(latestPieces, len(orders))] {
		t, err := s.taken(ctx, tx, o.ID)
		if err != nil {
			return nil, nil, err
		}
		numbers[o.ID] = o.Number.String()
		snap, piece, err := asReckoned(ctx, tx, t.Quote)
		if err != nil && fault.KindOf(err) == fault.Invalid { // it was reckoned by rules that no longer are: it says nothing
			continue
		}
		if err != nil {
			return nil, nil, err
		}
		rates = append(rates, spreads(t, snap.Catalogue)...)
		measured, err := tx.Finished(ctx, o.ID)
		if err != nil {
			return nil, nil, err
		}
		if len(measured) == 0 {
			continue
		}
		if used, shown, ok := piece.ReleaseShown(measured[0].Stands); ok {
			what := releaseCold
			if piece.Spec.Core.Set == "heat" {
				what = releaseHeat
			}
			rates = append(rates, Rate{what, labour.Job{Order: o.ID, Planned: used, Actual: shown}, used})
		}
	}
	return rates, numbers, nil
}

// spreads are an order's liquids: what was reckoned and what was taken off the shelf, less what came back.
func spreads(t Taken, c materials.Catalogue) (rates []Rate) {
	used := t.Used()
	for _, k := range t.Quote.Printed.Takes {
		if l, ok := c.LiquidOf(k.Item); ok && k.Quantity.IsPositive() && used[k.Item].IsPositive() {
			rates = append(rates, Rate{k.Item, labour.Job{Order: t.Order.ID, Planned: k.Quantity, Actual: used[k.Item]}, l.Spread})
		}
	}
	return rates
}

// TakeOverMaterial writes a learned figure where it belongs: the release into the bench, a spread into its item, that
// of a first coat in proportion. shown is the figure that was seen, so that nobody takes over another.
func (s *Service) TakeOverMaterial(ctx context.Context, what string, shown decimal.Decimal, by string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		if err := tx.LockWorkshop(ctx); err != nil {
			return err
		}
		offers, _, err := s.learnedMaterials(ctx, tx)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(offers, func(o MaterialOffer) bool { return o.What == what })
		if i < 0 || !offers[i].Is.Equal(shown) {
			return fault.New(fault.Conflict, "What orders used or the figures have changed since this list was shown. Look at it again.")
		}
		o := offers[i]
		if err := s.write(ctx, tx, o); err != nil {
			return err
		}
		return tx.AddMaterialLesson(ctx, MaterialLesson{What: what, Was: o.Was, Is: o.Is, Jobs: o.Drift.Jobs, At: s.now(), By: by})
	})
}

func (s *Service) write(ctx context.Context, tx Tx, o MaterialOffer) error {
	if set := map[string]string{releaseCold: "cold", releaseHeat: "heat"}[o.What]; set != "" {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return err
		}
		w.Figures.Bench, w.Edit = w.Figures.Bench.WithRelease(set, o.Is), w.Edit+1
		return tx.SetWorkshop(ctx, w)
	}
	item, err := tx.Item(ctx, o.What)
	if err != nil {
		return err
	}
	if item.Liquid == nil {
		return fault.New(fault.State, "%s is no liquid any more.", item.Name)
	}
	liquid := *item.Liquid
	liquid.Spread, liquid.FirstSpread = o.Is, liquid.FirstSpread.Mul(o.Is).DivRound(o.Was, 3)
	item.Liquid = &liquid
	if err := item.Check(); err != nil {
		return fmt.Errorf("spread of %s: %w", o.What, err)
	}
	return tx.KeepItem(ctx, item)
}
