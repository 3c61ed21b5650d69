package stock

import (
	"cmp"
	"slices"
	"time"

	"github.com/shopspring/decimal"
)

// Charged is the pack an estimate charges an item by, and its price on a day.
func Charged(offers []Offer, day time.Time) (Offer, Price, bool) {
	var best Offer
	var price Price
	found := false
	for _, o := range offers {
		p, ok := o.On(day)
		if !ok || o.Retired || !o.Pack.IsPositive() {
			continue
		}
		if o.Usual {
			return o, p, true
		}
		if !found || cheaper(o, p.Amount, best, price.Amount) {
			best, price, found = o, p, true
		}
	}
	return best, price, found
}

// cheaper tells which of two packs costs less a stock unit; of equal ones the smaller, then the one that was first.
func cheaper(a Offer, amount decimal.Decimal, b Offer, than decimal.Decimal) bool {
	if c := amount.Mul(b.Pack).Cmp(than.Mul(a.Pack)); c != 0 {
		return c < 0
	}
	if c := a.Pack.Cmp(b.Pack); c != 0 {
		return c < 0
	}
	return a.ID < b.ID
}

// Day is the calendar day of a moment, as prices are dated: midnight UTC.
func Day(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// sortPrices puts the newest day first, and of one day the last word.
func sortPrices(prices []Price) {
	slices.SortStableFunc(prices, func(a, b Price) int {
		return cmp.Or(b.From.Compare(a.From), b.Noted.Compare(a.Noted))
	})
}
