package money_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
)

func TestArithmeticIsGeneralDecimalArithmetic(t *testing.T) {
	for _, file := range []struct {
		name                string
		all, usable, passed int
	}{ // counts found with an independent reading of the files, apd v3.2.3
		{"add", 2100, 776, 776}, {"subtract", 681, 328, 328}, {"multiply", 521, 151, 151}, {"divide", 631, 304, 304},
		{"remainder", 517, 358, 358}, {"divideint", 389, 212, 212}, {"compare", 639, 514, 514}, {"abs", 89, 49, 49},
		{"minus", 113, 70, 70},
	} {
		all, cases := decCases(t, file.name)
		usable, passed := 0, 0
		for _, c := range cases {
			if c.limited() {
				continue
			}
			got, ok := c.exact()
			if !ok {
				continue
			}
			usable++
			if got.Equal(c.want) {
				passed++
			} else {
				t.Errorf("%s: %s %v = %s, want %s", c.id, c.op, c.args, got, c.want)
			}
		}
		if all != file.all || usable != file.usable || passed != file.passed {
			t.Errorf("%s: %d cases, %d usable, %d passed; want %v", file.name, all, usable, passed, file)
		}
	}
}

func TestQuantizeIsGeneralDecimalArithmetic(t *testing.T) {
	all, cases := decCases(t, "quantize")
	usable := 0
	for _, c := range cases {
		if c.limited("rounded", "inexact") || c.mode != "half_up" {
			continue
		}
		usable++
		places := -c.args[1].Exponent()
		if got := c.args[0].Round(places); !got.Equal(c.want) {
			t.Errorf("%s: %s to %d places = %s, want %s", c.id, c.args[0], places, got, c.want)
		}
		if got := money.HalfUp.Quo(c.args[0], decimal.NewFromInt(1), places); !got.Equal(c.want) {
			t.Errorf("%s: %s over 1 to %d places = %s, want %s", c.id, c.args[0], places, got, c.want)
		}
	}
	if all != 775 || usable != 527 {
		t.Errorf("%d cases, %d usable; want 775, 527", all, usable)
	}
}

// rounding.decTest rounds results to a few significant digits; our modes must find the same numbers.
func TestModesAreGeneralDecimalArithmetic(t *testing.T) {
	_, cases := decCases(t, "rounding")
	usable := map[money.Mode]int{}
	for _, c := range cases {
		mode, err := money.ParseMode(strings.ReplaceAll(c.mode, "_", "-"))
		exact, ok := c.exact()
		if err != nil || !ok || c.limited("rounded", "inexact") {
			continue
		}
		usable[mode]++
		n, d := exact, decimal.NewFromInt(1)
		if c.op == "divide" {
			n, d = c.args[0], c.args[1]
		}
		places := c.precision - int32(exact.NumDigits()) - exact.Exponent()
		if got := mode.Quo(n, d, places); !got.Equal(c.want) {
			t.Errorf("%s: %s %v to %d places %s = %s, want %s", c.id, c.op, c.args, places, mode, got, c.want)
		}
	}
	for mode, want := range map[money.Mode]int{money.HalfUp: 101, money.HalfDown: 101, money.Down: 101} {
		if usable[mode] != want {
			t.Errorf("%s: %d usable cases, want %d", mode, usable[mode], want)
		}
	}
}
