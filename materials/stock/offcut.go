package stock

import (
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/pricing/money"
)

// offcut is a lot that has a shape; nil when it is not on the shelf.
func (s *shelf) offcut(item, lot string) *Lot {
	lots := s.lots[item]
	i := slices.IndexFunc(lots, func(l Lot) bool { return l.ID == lot && l.Shape != nil && l.Left.IsPositive() })
	if i < 0 {
		return nil
	}
	return &lots[i]
}

// outOffcut takes a whole offcut off the shelf and gives its value.
func (s *shelf) outOffcut(kind Kind, lot Lot, order, note string) money.Amount {
	q, value := lot.Left, lot.Value
	s.moves = append(s.moves, Movement{At: s.now, Item: lot.Item, Lot: lot.ID, Kind: kind, Quantity: q.Neg(), Cost: value.Neg(), LotCost: value.Neg(), Order: order, Note: note, By: s.by})
	s.count(lot, q.Neg(), value.Neg(), value.Neg())
	return value
}

// Share is how much of a whole sheet an area is, to four places and at least the smallest of them: offcuts are
// counted so. Areas in mm².
func Share(area, sheet float64) decimal.Decimal {
	share := measure.Of(area/sheet, measure.Ratio).Value
	return decimal.Max(share, decimal.New(1, -measure.Ratio.Places()))
}
