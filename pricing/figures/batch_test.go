package figures

import (
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// By brute force over costs that jump as sheets do: the smallest number that pays is found, larger ones that do not are
// named, and what each number adds sums to the cost of the last.
func TestSmallestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cents := func(name string, least, most int) money.Amount {
			return money.Round(decimal.New(int64(rapid.IntRange(least, most).Draw(t, name)), -2), "EUR")
		}
		var b Batches
		cost := cents("set up", 0, 20_000)
		most := rapid.IntRange(1, 14).Draw(t, "numbers")
		for n := 1; n <= most; n++ {
			cost = cost.Add(cents("next", -500, 9000))
			o := Batch{Quantity: n}
			if rapid.IntRange(0, 9).Draw(t, "made") == 0 {
				o.Why = "too many"
			} else {
				o.Costing = pricing.Costing{Net: cost, Fee: cents("", 0, 0), Material: cost, Hours: one}
			}
			b.All = append(b.All, o)
		}
		b.Each, b.Aimed = cents("each", 0, 15_000), Margin{decimal.New(int64(rapid.IntRange(0, 60).Draw(t, "aimed")), -2)}
		rates := pricing.Rates{Currency: "EUR", FeeRate: decimal.New(int64(rapid.IntRange(0, 4).Draw(t, "fee")), -2), FeeFixed: decimal.New(int64(rapid.IntRange(0, 50).Draw(t, "fixed")), -2)}
		regime := tax.Regime{Registered: rapid.Bool().Draw(t, "taxed"), Mode: money.HalfUp, Rates: []tax.Rate{{Code: "S", Name: "Tax", Percent: decimal.NewFromInt(20)}}}
		if err := b.smallest(pricing.Snapshot{Rates: rates, Tax: regime, TaxCode: "S"}); err != nil {
			t.Fatal(err)
		}
		b.add()

		covered, keeps, sum, last := 0, 0, decimal.Zero, decimal.Zero
		var fails []int
		for _, o := range b.All {
			if o.Why != "" {
				continue
			}
			sum, last = sum.Add(o.Adds.Decimal()), o.Cost().Decimal()
			gross := b.Each.Decimal().Mul(decimal.NewFromInt(int64(o.Quantity)))
			net := gross
			if regime.Registered {
				net = gross.Sub(gross.Div(decimal.NewFromInt(6)).Round(2))
			}
			got := net
			if gross.IsPositive() {
				got = net.Sub(gross.Mul(rates.FeeRate).Add(rates.FeeFixed).Round(2))
			}
			pays := got.GreaterThanOrEqual(last)
			if pays && covered == 0 {
				covered = o.Quantity
			} else if !pays && covered > 0 {
				fails = append(fails, o.Quantity)
			}
			share := decimal.Zero
			if !got.IsZero() {
				share = got.Sub(last).Div(got).Round(4)
			}
			if keeps == 0 && share.GreaterThanOrEqual(b.Aimed.Share) {
				keeps = o.Quantity
			}
		}
		if b.Covered != covered || b.Keeps != keeps || !slices.Equal(b.Again, fails) {
			t.Fatalf("covered from %d, keeps from %d, not %v; by hand %d, %d, %v", b.Covered, b.Keeps, b.Again, covered, keeps, fails)
		}
		if !sum.Equal(last) {
			t.Fatalf("what was added sums to %s, the last costs %s", sum, last)
		}
	})
}

// The numbers below a find that were not priced are asked for, and no others.
func TestBetween(t *testing.T) {
	var b Batches
	for _, n := range numbers() {
		b.All = append(b.All, Batch{Quantity: n})
	}
	for found, want := range map[int][]int{0: nil, 1: nil, 12: nil, 16: {15, 14, 13}, 20: {19, 18, 17}, 24: {23, 22, 21}} {
		b.Covered, b.Keeps = found, found
		if got := b.between(); !slices.Equal(got, want) {
			t.Errorf("below %d: %v", found, got)
		}
	}
}
