package stock

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"
)

// Need is what an order will take of an item, and the day it is wanted at the bench.
type Need struct {
	Item     string
	Quantity decimal.Decimal
	Due      time.Time
}

// Promise is what is set aside of an item for an order, by quantity and not by tin: held up to a time, or firm
// once the deposit is paid.
type Promise struct {
	Order, Item      string
	Label            string // number and title of the order, for lists
	Needed, Reserved decimal.Decimal
	Firm             bool
	Until            time.Time // a held one lapses then
	Due              time.Time
	Asked            time.Time
}

// Short is what is still missing.
func (p Promise) Short() decimal.Decimal { return p.Needed.Sub(p.Reserved) }

// lapsed tells that a held promise is past its time: nothing is set aside for it any more, until it is paid.
func (p Promise) lapsed(now time.Time) bool { return !p.Firm && p.Until.Before(now) }

// share gives what is on hand of one item to its promises, in the order firm before held, then as they were
// asked. Nobody who has something loses it to another; only when there is less than was set aside do the last
// ones give way, since the shelf is what it is. What is free goes to whoever waits first.
func share(onHand decimal.Decimal, promises []Promise, now time.Time) []Promise {
	shared := slices.Clone(promises)
	slices.SortStableFunc(shared, func(a, b Promise) int {
		if a.Firm != b.Firm {
			return map[bool]int{true: -1, false: 1}[a.Firm]
		}
		return a.Asked.Compare(b.Asked)
	})
	left := onHand
	for i := range shared {
		p := &shared[i]
		if p.lapsed(now) {
			p.Reserved = decimal.Zero
		}
		p.Reserved = decimal.Min(p.Reserved, p.Needed, left)
		left = left.Sub(p.Reserved)
	}
	for i := range shared {
		if p := &shared[i]; !p.lapsed(now) {
			more := decimal.Min(p.Short(), left)
			p.Reserved, left = p.Reserved.Add(more), left.Sub(more)
		}
	}
	return shared
}
