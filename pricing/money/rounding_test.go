package money_test

import (
	"testing"

	"github.com/cockroachdb/apd/v3"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// What the decimal library does, shopspring v1.6.0: computed with it and held here so that a new version cannot
// change a price unseen. The names of the modes are those of IEEE 754-2019 4.3 (from memory).
func TestLibraryRounding(t *testing.T) {
	for _, c := range []struct{ x, round, bank, up, down, ceil, floor string }{
		{"2.5", "3", "2", "3", "2", "3", "2"},
		{"-2.5", "-3", "-2", "-3", "-2", "-2", "-3"},
		{"0.5", "1", "0", "1", "0", "1", "0"},
		{"-0.5", "-1", "0", "-1", "0", "0", "-1"},
		{"3.5", "4", "4", "4", "3", "4", "3"},
	} {
		x := dec(c.x)
		for name, got := range map[string][2]string{
			"round": {x.Round(0).String(), c.round}, "bank": {x.RoundBank(0).String(), c.bank}, "up": {x.RoundUp(0).String(), c.up},
			"down": {x.RoundDown(0).String(), c.down}, "ceil": {x.Ceil().String(), c.ceil}, "floor": {x.Floor().String(), c.floor},
			"our half-up": {money.HalfUp.Quo(x, dec("1"), 0).String(), c.round}, "our down": {money.Down.Quo(x, dec("1"), 0).String(), c.down},
			"our half-down": {money.HalfDown.Quo(x, dec("1"), 0).String(), c.down}, // all of these are ties
		} {
			if got[0] != got[1] {
				t.Errorf("%s of %s = %s, want %s", name, c.x, got[0], got[1])
			}
		}
	}
	for _, c := range [][3]string{{"1.005", "1.01", "1.00"}, {"2.675", "2.68", "2.68"}} {
		if r, b := money.Round(dec(c[0]), "EUR").String(), dec(c[0]).StringFixedBank(2); r != c[1] || b != c[2] {
			t.Errorf("%s: %s, bank %s; want %s, %s", c[0], r, b, c[1], c[2])
		}
	}
	// ISO 80000-1:2009 annex B (from memory), to a tenth: rule A takes the even multiple, rule B the larger.
	for _, c := range [][3]string{{"12.25", "12.2", "12.3"}, {"12.35", "12.4", "12.4"}} {
		if a, b := dec(c[0]).RoundBank(1).String(), dec(c[0]).Round(1).String(); a != c[1] || b != c[2] {
			t.Errorf("%s: rule A %s, rule B %s; want %s, %s", c[0], a, b, c[1], c[2])
		}
	}
	if third := dec("1").Div(dec("3")).String(); third != "0.3333333333333333" {
		t.Errorf("1/3 = %s", third)
	}
}

func TestRoundTo(t *testing.T) {
	for _, c := range []struct{ in, step, near, up string }{
		// Nearest: shopspring v1.6.0 RoundCash, computed; 5, 10, 50, 100 are its names for these steps.
		{"3.43", "0.05", "3.45", "3.45"}, {"3.41", "0.05", "3.40", "3.45"}, {"0.02", "0.05", "0.00", "0.05"}, {"3.75", "0.10", "3.80", "3.80"},
		{"3.75", "0.50", "4.00", "4.00"}, {"3.50", "1.00", "4.00", "4.00"},
		{"3.25", "0.50", "3.50", "3.50"}, {"-3.25", "0.50", "-3.50", "-3.50"}, {"-3.20", "0.50", "-3.00", "-3.50"},
		// EN 16931 Norwegian example and the guide's payable rounding: 801.78 + 0.22, 999.81 + 0.19.
		{"801.78", "1", "802.00", "802.00"}, {"999.81", "1", "1000.00", "1000.00"},
		{"573.70", "5", "575.00", "575.00"}, {"575.00", "5", "575.00", "575.00"}, // whole fives for consumers: common practice, no source
		{"573.70", "0", "573.70", "573.70"}, {"573.70", "-1", "573.70", "573.70"},
	} {
		a, step := eur(c.in), eur(c.step)
		if near, up := a.RoundTo(step).String(), a.RoundUpTo(step).String(); near != c.near || up != c.up {
			t.Errorf("%s to %s: nearest %s, up %s; want %s, %s", c.in, c.step, near, up, c.near, c.up)
		}
	}
	for _, c := range []struct{ in, want string }{{"3.425", "3.45"}, {"0.0249", "0"}} {
		if got := dec(c.in).RoundCash(5); !got.Equal(dec(c.want)) {
			t.Errorf("%s in cash is %s, want %s", c.in, got, c.want)
		}
	}
}

func TestRoundToIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := money.Round(decimal.New(rapid.Int64Range(-1e9, 1e9).Draw(t, "cents"), -2), "EUR")
		step := money.Round(decimal.New(rapid.Int64Range(1, 1e5).Draw(t, "step"), -2), "EUR")
		near, up := a.RoundTo(step), a.RoundUpTo(step)
		for _, r := range []money.Amount{near, up} {
			if !r.Decimal().Mod(step.Decimal()).IsZero() {
				t.Fatalf("%s is no multiple of %s", r, step)
			}
		}
		if off := near.Sub(a).Decimal().Abs(); off.Mul(dec("2")).GreaterThan(step.Decimal()) {
			t.Fatalf("%s went to %s by steps of %s", a, near, step)
		}
		grown := up.Decimal().Abs().Sub(a.Decimal().Abs())
		if grown.IsNegative() || !grown.LessThan(step.Decimal()) {
			t.Fatalf("%s went up to %s by steps of %s", a, up, step)
		}
	})
}

// A second decimal library must round every quotient as ours does.
func TestModesAgreeWithSecondLibrary(t *testing.T) {
	second := map[money.Mode]apd.Rounder{money.HalfUp: apd.RoundHalfUp, money.HalfDown: apd.RoundHalfDown, money.Down: apd.RoundDown}
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.Int32Range(0, 4).Draw(t, "places")
		n := rapid.Int64Range(-1e12, 1e12).Draw(t, "n")
		// A divisor of twos and fives ends, so apd's 200 digits are exact and ties do come up; any other is never a tie.
		d := rapid.OneOf(rapid.SampledFrom([]int64{1, 2, 4, 5, 8, 20, 200, 2000, -8}), rapid.Int64Range(1, 1e4)).Draw(t, "d")
		for mode, rounder := range second {
			exact := apd.BaseContext.WithPrecision(200)
			exact.Rounding = rounder
			var q apd.Decimal
			if _, err := exact.Quo(&q, apd.New(n, -3), apd.New(d, 0)); err != nil {
				t.Fatal(err)
			}
			if _, err := exact.Quantize(&q, &q, -places); err != nil {
				t.Fatal(err)
			}
			if got := mode.Quo(decimal.New(n, -3), decimal.NewFromInt(d), places); !got.Equal(dec(q.Text('f'))) {
				t.Fatalf("%s: %d/1000/%d to %d places = %s, the other says %s", mode, n, d, places, got, q.Text('f'))
			}
		}
	})
}

func TestParseModeRefuses(t *testing.T) {
	for _, name := range []string{"", "half_up", "bank"} {
		if _, err := money.ParseMode(name); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%q: %v", name, err)
		}
	}
}
