package stock

import (
	"context"
	"maps"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
)

// Recost makes the books equal what the lots on the shelf cost, for a workshop that goes over to costing by first in
// first out: of every item whose value differs, the difference is posted as a revaluation. It is for one transaction
// with the change of the setting, which is made first: whoever waits for a balance then reads the new one.
func Recost(ctx context.Context, tx Tx, by string, now time.Time) error {
	list, err := tx.Items(ctx)
	if err != nil {
		return err
	}
	all := make([]string, len(list))
	for i, item := range list {
		all[i] = item.Code
	}
	s, err := take(ctx, tx, now, by, all...)
	if err != nil {
		return err
	}
	nothing := money.Round(decimal.Zero, s.terms.Currency)
	for _, item := range slices.Sorted(maps.Keys(s.balances)) {
		worth := nothing
		for _, l := range s.lots[item] {
			if l.Shape == nil {
				worth = worth.Add(l.Value)
			}
		}
		if gap := worth.Sub(s.balances[item].Value); gap.Sign() != 0 {
			s.moves = append(s.moves, Movement{At: now, Item: item, Kind: Revalued, Cost: gap, LotCost: nothing, Note: "Costing is first in, first out from now on", By: by})
		}
	}
	return s.put(ctx)
}
