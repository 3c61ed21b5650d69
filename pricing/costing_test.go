package pricing_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing"
	"foamwright/pricing/money"
)

// A job that took exactly what was planned comes out as it was planned, to the cent; only what was set aside for what
// did not happen is earned on top.
func TestTookAsPlanned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cents := func(name string, most int) money.Amount {
			return money.Round(decimal.New(int64(rapid.IntRange(0, most).Draw(t, name)), -2), "EUR")
		}
		c := pricing.Costing{
			Quantity: 1, Net: cents("net", 500_000), Fee: cents("fee", 5000), Material: cents("material", 99_999), Handling: cents("handling", 9999), Labour: cents("labour", 300_000),
			BoughtIn: cents("bought in", 9999), Contingency: cents("contingency", 30_000), Hours: decimal.New(int64(rapid.IntRange(0, 99_999).Draw(t, "hours")), -2),
		}
		took := c.Took(c.Material, c.Hours.Mul(decimal.NewFromInt(60)))
		if !took.Material.Equal(c.Material) || !took.Handling.Equal(c.Handling) || !took.Labour.Equal(c.Labour) || !took.Hours.Equal(c.Hours) || !took.Contribution().Equal(c.Contribution()) {
			t.Fatalf("planned %+v, took %+v", c, took)
		}
		if !took.Earned().Equal(c.Earned().Add(c.Contingency)) {
			t.Fatalf("earned %s of %s and %s set aside", took.Earned(), c.Earned(), c.Contingency)
		}
		if two := c.Add(c); !two.Earned().Equal(c.Earned().Times(2)) || !two.Contribution().Equal(c.Contribution().Times(2)) || !two.Hours.Equal(c.Hours.Add(c.Hours)) {
			t.Fatalf("twice %+v is %+v", c, two)
		}
	})
}
