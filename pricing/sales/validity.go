package sales

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// Stands is how long a quote would stand, and why it is shorter than usual where it is.
type Stands struct {
	Days int
	Why  []string // a sentence for each price that moved too much
}

// keyShare is how much of the material's cost the materials carry whose prices count: four fifths, by the few that
// cost most. Common practice, no source.
var keyShare = decimal.New(8, -1)

// StandsFor is how long a quote of an estimate stands when it is issued today.
func (s *Service) StandsFor(ctx context.Context, e pricing.Estimate) (st Stands, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return err
		}
		st, err = standsFor(ctx, tx, w, e, s.now())
		return err
	})
	return st, err
}

func standsFor(ctx context.Context, tx Tx, w workshop.Workshop, e pricing.Estimate, now time.Time) (Stands, error) {
	st := Stands{Days: w.Figures.Rates.ValidDays}
	v := w.Volatile
	if v.Share.IsZero() || v.Valid >= st.Days {
		return st, nil
	}
	today := stock.Day(now)
	for _, k := range carrying(e) {
		offers, err := tx.Offers(ctx, k.Item)
		if err != nil {
			return st, err
		}
		low, high, from := swing(offers, today, v.Days)
		if !low.IsPositive() || high.Sub(low).LessThan(low.Mul(v.Share)) {
			continue
		}
		st.Days = v.Valid
		st.Why = append(st.Why, fmt.Sprintf("The price of %s has been between %s and %s %s %s since %s, %s %%: a quote that needs it stands %d days.", k.Name,
			low.StringFixed(2), high.StringFixed(2), w.Figures.Rates.Currency, per(k.Unit), words.Date(from), high.Sub(low).Div(low).Shift(2).Round(0), v.Valid))
	}
	return st, nil
}

// carrying are the materials that carry the cost: those that cost most, until they are four fifths of it.
func carrying(e pricing.Estimate) []Taking {
	all := takings(e)
	slices.SortStableFunc(all, func(a, b Taking) int {
		return cmp.Or(b.Cost.Cmp(a.Cost), cmp.Compare(a.Item, b.Item))
	})
	whole, sum := decimal.Zero, decimal.Zero
	for _, t := range all {
		whole = whole.Add(t.Cost)
	}
	for i, t := range all {
		if sum.GreaterThanOrEqual(whole.Mul(keyShare)) || !t.Cost.IsPositive() {
			return all[:i]
		}
		sum = sum.Add(t.Cost)
	}
	return all
}

// swing is the least and the most that a stock unit was charged at on any of the last days, and since when that is
// looked at: for an item whose first price is newer, since that.
func swing(offers []stock.Offer, today time.Time, days int) (low, high decimal.Decimal, from time.Time) {
	first := today.AddDate(0, 0, -days)
	on := []time.Time{first, today}
	for _, o := range offers {
		for _, p := range o.Prices {
			if d := stock.Day(p.From); d.After(first) && d.Before(today) {
				on = append(on, d)
			}
		}
	}
	slices.SortFunc(on, time.Time.Compare)
	for _, day := range on {
		o, p, ok := stock.Charged(offers, day)
		if !ok {
			continue
		}
		unit := p.Amount.DivRound(o.Pack, 16)
		if from.IsZero() {
			low, high, from = unit, unit, day
		}
		low, high = decimal.Min(low, unit), decimal.Max(high, unit)
	}
	return low, high, from
}

// per is how a price of a unit is said.
func per(u measure.Unit) string {
	if u == measure.Each {
		return "each"
	}
	return "a " + string(u)
}
