package money_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// eur is a sum in euros; gbp and friends are made where they are needed.
func eur(s string) money.Amount { return amount(s, "EUR") }

func amount(s string, c money.Currency) money.Amount {
	a, err := money.New(dec(s), c)
	if err != nil {
		panic(err)
	}
	return a
}

func TestMinorUnits(t *testing.T) {
	// ISO 4217, list one of 2024-06-25, as carried by the npm package currency-codes 2.2.0.
	for digits, codes := range map[int32]string{
		0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
		3: "BHD IQD JOD KWD LYD OMR TND",
		4: "CLF UYW",
		// Locale data gives 0 for many of these.
		2: "GBP EUR USD AUD ZAR NZD CAD CHF SEK NOK DKK HUF AFN ALL AMD COP GYD IDR IRR KPW LAK LBP MGA MMK MNT MUR PKR RSD SOS SYP TZS UZS YER MRU SLE VED VES ZWG",
	} {
		for _, code := range strings.Fields(codes) {
			if c, err := money.ParseCurrency(strings.ToLower(code) + " "); err != nil || c.Digits() != digits || string(c) != code {
				t.Errorf("%s: %v, %v; want %d digits", code, c, err, digits)
			}
		}
	}
	known := 0
	for a := 'A'; a <= 'Z'; a++ {
		for b := 'A'; b <= 'Z'; b++ {
			for c := 'A'; c <= 'Z'; c++ {
				if _, err := money.ParseCurrency(string([]rune{a, b, c})); err == nil {
					known++
				}
			}
		}
	}
	if known != 167 { // 179 codes of the list, less 13 metals, units and test codes without a minor unit, and XCG
		t.Errorf("%d currencies known", known)
	}
	for _, code := range []string{"", "EURO", "ABC", "XXX", "€"} {
		if _, err := money.ParseCurrency(code); fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "EUR or GBP") {
			t.Errorf("%q: %v", code, err)
		}
	}
}

func TestNew(t *testing.T) {
	for _, c := range []struct{ in, code, out string }{
		{"573.82", "EUR", "573.82"}, {"5", "EUR", "5.00"}, {"5.1000", "EUR", "5.10"}, {"5e2", "JPY", "500"},
		{"-0.001", "KWD", "-0.001"}, {"0", "GBP", "0.00"}, {"999999999999999.99", "EUR", "999999999999999.99"},
	} {
		if a, err := money.New(dec(c.in), money.Currency(c.code)); err != nil || a.String() != c.out {
			t.Errorf("%s %s: %s, %v; want %s", c.in, c.code, a, err, c.out)
		}
	}
	for _, c := range []struct{ in, code, want string }{
		{"1.005", "EUR", "at most 2 places"}, {"0.5", "JPY", "whole number"}, {"0.0001", "KWD", "at most 3 places"},
		{"1e15", "EUR", "more money"}, {"1e9999", "EUR", "more money"}, {"1e-9999", "EUR", "at most 2"},
	} {
		if _, err := money.New(dec(c.in), money.Currency(c.code)); fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %s: %v; want a fault with %q", c.in, c.code, err, c.want)
		}
	}
}

func TestArithmetic(t *testing.T) {
	a, b := eur("10.00"), eur("0.05")
	for name, c := range map[string]struct{ got, want money.Amount }{
		"add": {a.Add(b), eur("10.05")}, "sub": {b.Sub(a), eur("-9.95")}, "neg": {a.Neg(), eur("-10")},
		"times": {b.Times(3), eur("0.15")}, "sum": {money.Sum("EUR", a, b, b), eur("10.10")}, "nothing": {money.Amount{}.Add(a), a},
		"empty": {money.Sum("EUR"), eur("0")},
	} {
		if !c.got.Equal(c.want) || c.got.Currency() != "EUR" {
			t.Errorf("%s: %s %s, want %s", name, c.got, c.got.Currency(), c.want)
		}
	}
	if s := (money.Amount{}).String(); s != "0" || a.Cmp(b) != 1 || b.Cmp(a) != -1 || a.Neg().Sign() != -1 {
		t.Errorf("zero is %q; %s, %s in the wrong order", s, a, b)
	}
	for name, act := range map[string]func(){
		"mixed": func() { a.Add(amount("1", "GBP")) }, "mixed compare": func() { a.Cmp(amount("1", "GBP")) },
		"unknown": func() { money.Round(dec("1"), "ABC") },
		"nobody":  func() { money.Allocate(a, nil) }, "no mode": func() { money.Mode("").Quo(dec("1"), dec("2"), 0) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s did not panic", name)
				}
			}()
			act()
		}()
	}
}

func TestAmountIsWholeUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom([]money.Currency{"JPY", "EUR", "KWD", "CLF"}).Draw(t, "currency")
		d := decimal.New(rapid.Int64().Draw(t, "coefficient"), rapid.Int32Range(-9, 3).Draw(t, "exponent"))
		a := money.Round(d, c)
		if a.Decimal().Exponent() != -c.Digits() {
			t.Fatalf("%s is not kept in %d places", a.Decimal(), c.Digits())
		}
		if off := a.Decimal().Sub(d).Abs(); off.GreaterThan(decimal.New(5, -c.Digits()-1)) {
			t.Fatalf("%s became %s", d, a)
		}
		if !money.Round(d.Neg(), c).Equal(a.Neg()) || !money.Round(a.Decimal(), c).Equal(a) {
			t.Fatalf("%s rounds otherwise below zero, or again", d)
		}
		if back, err := money.New(dec(a.String()), c); len(a.String()) < 16 && (err != nil || !back.Equal(a)) {
			t.Fatalf("%s came back as %s, %v", a, back, err)
		}
	})
}

// An amount that is written down comes back with its currency and its places.
func TestAmountAsText(t *testing.T) {
	for _, want := range []struct {
		value string
		in    money.Currency
		text  string
	}{{"573.8", "EUR", "573.80 EUR"}, {"-47988", "JPY", "-47988 JPY"}, {"66.406", "KWD", "66.406 KWD"}} {
		a := money.Round(decimal.RequireFromString(want.value), want.in)
		text, err := a.MarshalText()
		var back money.Amount
		if err != nil || string(text) != want.text || back.UnmarshalText(text) != nil || back.String() != a.String() || back.Currency() != want.in {
			t.Errorf("%s %s: %s, %v, back %s %s", want.value, want.in, text, err, back, back.Currency())
		}
	}
	var nothing money.Amount
	if text, err := nothing.MarshalText(); err != nil || string(text) != "0" || nothing.UnmarshalText(text) != nil || nothing.Currency() != "" {
		t.Errorf("%s, %v", text, err)
	}
	for _, bad := range []string{"", "5", "5.005 EUR", "five EUR", "5 XXX", "5 "} {
		if err := new(money.Amount).UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
}
