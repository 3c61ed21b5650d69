package money_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing/money"
)

func TestAllocate(t *testing.T) {
	for name, c := range map[string]struct {
		total         string
		currency      money.Currency
		weights, want string
	}{
		// electowiki, "Hamilton method": 60 seats by the 1790 census (VA MA PA NC NY MD CT SC NJ NH VT GA KY RI DE).
		"fifteen states": {"60", "JPY", "630560 475327 432879 353523 331589 278514 236841 206236 179570 141822 85533 70835 68705 68446 55540",
			"11 8 7 6 6 5 4 3 3 2 1 1 1 1 1"},
		"ten seats":   {"10", "JPY", "47000 16000 15800 12000 6100 3100", "5 2 1 1 1 0"}, // from memory, recomputed
		"a tie":       {"100.00", "EUR", "1 1 1", "33.34 33.33 33.33"},                   // computed; first on a tie
		"a credit":    {"-100.00", "EUR", "1 1 1", "-33.34 -33.33 -33.33"},               // the mirror of it
		"zero weight": {"0.05", "EUR", "0 3 0 3", "0.00 0.03 0.00 0.02"},                 // computed
		"all zero":    {"1.00", "EUR", "0 0 0", "0.34 0.33 0.33"},                        // decided: all the same
		"a discount":  {"10.00", "EUR", "15 -5", "15.00 -5.00"},                          // computed
		"two thirds":  {"0.01", "EUR", "2 -1 2", "0.01 0.00 0.00"},                       // quotas 0.0067 -0.0033 0.0067
		"deposit":     {"230.00", "EUR", "0.4 0.6", "92.00 138.00"},                      // computed
		"nothing":     {"0.00", "EUR", "5 6", "0.00 0.00"},
	} {
		var weights []decimal.Decimal
		for _, w := range strings.Fields(c.weights) {
			weights = append(weights, dec(w))
		}
		var got []string
		for _, a := range money.Allocate(amount(c.total, c.currency), weights) {
			got = append(got, a.String())
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: %s, want %s", name, s, c.want)
		}
	}
	if parts := money.Allocate(eur("0"), nil); len(parts) != 0 {
		t.Errorf("nothing among nobody: %v", parts)
	}
}

func TestAllocateKeepsEveryCent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom([]money.Currency{"JPY", "EUR", "KWD"}).Draw(t, "currency")
		total := money.Round(decimal.New(rapid.Int64Range(-1e12, 1e12).Draw(t, "units"), -c.Digits()), c)
		weights := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) decimal.Decimal {
			return decimal.New(rapid.Int64Range(-1e3, 1e6).Draw(t, "weight"), rapid.Int32Range(-3, 2).Draw(t, "exponent"))
		}), 1, 20).Draw(t, "weights")
		parts := money.Allocate(total, weights)
		if sum := money.Sum(c, parts...); !sum.Equal(total) || len(parts) != len(weights) {
			t.Fatalf("%s in parts is %s", total, sum)
		}
		whole := decimal.Sum(weights[0], weights[1:]...)
		if whole.IsZero() {
			return // equal parts, checked in the table
		}
		unit := decimal.New(1, -c.Digits())
		for i, p := range parts {
			// |part − total·w/whole| < unit, multiplied out so that nothing is rounded
			off := p.Decimal().Mul(whole).Sub(total.Decimal().Mul(weights[i])).Abs()
			if !off.LessThan(unit.Mul(whole.Abs())) {
				t.Fatalf("%s of %s for %s of %s is a unit or more off", p, total, weights[i], whole)
			}
			if weights[i].IsZero() && p.Sign() != 0 {
				t.Fatalf("a weight of zero got %s", p)
			}
		}
	})
}
