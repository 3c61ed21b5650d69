package workshop

import (
	"time"

	"foamwright/materials"
	"foamwright/materials/stock"
	"foamwright/pricing"
)

// Stocked is what estimates of a day take of a catalogue: its items in their places but those no longer offered,
// and of each the price of the pack it is charged by.
func Stocked(list stock.List, day time.Time) (materials.Catalogue, []pricing.Price) {
	offers := map[string][]stock.Offer{}
	for _, o := range list.Offers {
		offers[o.Item] = append(offers[o.Item], o)
	}
	var c materials.Catalogue
	var prices []pricing.Price
	day = stock.Day(day)
	for _, i := range list.Items {
		if i.Retired {
			continue
		}
		switch {
		case i.Foam != nil:
			c.Foams = append(c.Foams, *i.Foam)
		case i.Liquid != nil:
			c.Liquids = append(c.Liquids, *i.Liquid)
		case i.Good != nil:
			c.Goods = append(c.Goods, *i.Good)
		}
		if o, p, ok := stock.Charged(offers[i.Code], day); ok {
			prices = append(prices, pricing.Price{Item: i.Code, Amount: p.Amount, Pack: o.Pack, Unit: i.Unit})
		}
	}
	return c, prices
}
