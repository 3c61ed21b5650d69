package figures

import (
	"slices"

	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// smallest sells every number at the price of one and looks for the smallest that pay. A larger order can fail where a
// smaller one pays, so those are named.
func (b *Batches) smallest(snap pricing.Snapshot) error {
	rate, err := snap.Tax.On(snap.TaxCode, snap.Now)
	if err != nil {
		return err
	}
	regime, rate := snap.Tax.For(snap.Treatment, rate)
	b.Covered, b.Keeps, b.Again = 0, 0, nil
	for i := range b.All {
		o := &b.All[i]
		if o.Why != "" {
			continue
		}
		o.At = o.Weighed
		o.At.Price = b.Each.Times(o.Quantity)
		o.At.Net, o.At.Fee = sold(o.At.Price, snap.Rates, regime, rate)
		switch {
		case o.Covered() && b.Covered == 0:
			b.Covered = o.Quantity
		case !o.Covered() && b.Covered > 0:
			b.Again = append(b.Again, o.Quantity)
		}
		if b.Keeps == 0 && o.Keeps(b.Aimed) {
			b.Keeps = o.Quantity
		}
	}
	return nil
}

// sold is what is left of a price with tax: the net of it, and the payment fee on all of it.
func sold(gross money.Amount, r pricing.Rates, regime tax.Regime, rate tax.Rate) (net, fee money.Amount) {
	net, _ = regime.Inclusive(gross, rate)
	if gross.Sign() == 0 {
		return net, gross
	}
	return net, r.FeeOf(gross)
}

// between are the numbers below those found that were not priced.
func (b Batches) between() (all []int) {
	for _, found := range []int{b.Covered, b.Keeps} {
		for n := found - 1; n > 0 && !slices.ContainsFunc(b.All, func(o Batch) bool { return o.Quantity == n }); n-- {
			if !slices.Contains(all, n) {
				all = append(all, n)
			}
		}
	}
	return all
}

// add tells what each number costs over the one before it; the first over nothing. They sum to the cost of the last.
func (b *Batches) add() {
	before, cost := 0, money.Sum(b.Each.Currency())
	for i := range b.All {
		o := &b.All[i]
		if o.Why != "" {
			continue
		}
		o.Added, o.Adds = o.Quantity-before, o.Cost().Sub(cost)
		before, cost = o.Quantity, o.Cost()
	}
}
