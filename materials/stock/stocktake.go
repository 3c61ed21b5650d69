package stock

import (
	"context"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// Finding is one line of a count sheet: what the books said when the sheet was made, what was found, and why they
// differ.
type Finding struct {
	Item            string
	Expected, Found decimal.Decimal
	Why             string
}

// Stocktake posts the differences of a count sheet, each with its reason, all or none. An item that moved since
// the sheet was made is refused by name: it has to be counted again. It gives how many differed.
func (s *Service) Stocktake(ctx context.Context, found []Finding, by string) (int, error) {
	items := make([]string, len(found))
	for i, f := range found {
		items[i] = f.Item
	}
	posted := 0
	err := s.shelf(ctx, by, func(tx Tx, shelf *shelf) error {
		var l fault.List
		posted = 0
		for _, f := range found {
			b := shelf.balances[f.Item]
			field := "found." + f.Item
			difference := f.Found.Sub(b.OnHand)
			switch {
			case !f.Expected.Equal(b.OnHand):
				l.Add(field, f.Found.String(), fmt.Sprintf("This moved since the sheet was made: the books now say %s %s. Count it again.", b.OnHand, b.Unit))
				continue
			case f.Found.IsZero() && b.OnHand.IsZero(), difference.IsZero():
				continue
			case f.Found.IsPositive():
				amount(&l, field, f.Found, b)
			case f.Found.IsNegative():
				l.Add(field, f.Found.String(), "Write what you found, 0 or more.")
			}
			reason(&l, "why."+f.Item, f.Why)
			if !l.Empty() {
				continue
			}
			posted++
			if err := shelf.differ(ctx, tx, f.Item, difference, strings.TrimSpace(f.Why)); err != nil {
				return err
			}
		}
		return l.Err()
	}, items...)
	return posted, err
}

// differ posts a difference. Less is taken off the oldest lots. More goes into a lot of its own, at what a unit is
// worth by the books, or what it is bought at where nothing is left to go by.
func (s *shelf) differ(ctx context.Context, tx Tx, item string, difference decimal.Decimal, why string) error {
	if difference.IsNegative() {
		_, err := s.out(Counted, item, "", difference.Neg(), "", why)
		return err
	}
	b := s.balances[item]
	unit, err := tx.UnitPrice(ctx, item, s.now)
	if err != nil {
		return err
	}
	if b.OnHand.IsPositive() {
		unit = b.Value.Decimal().DivRound(b.OnHand, 16)
	}
	s.in(Counted, Lot{Item: item, Label: "Found"}, difference, money.Round(unit.Mul(difference), s.terms.Currency), "", why)
	return nil
}
