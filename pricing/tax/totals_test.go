package tax_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// Where tax is rounded decides the sum: HMRC VATREC12010 and VATREC12030 (a total may go down), GST Act 1999
// (Australia) s 9-90 and GST Act 1985 (New Zealand) s 19O (per line or per total); the figures are computed.
func TestWhereTaxIsRounded(t *testing.T) {
	for _, c := range []struct {
		n                                  int
		net, percent, total, lines, downed string
	}{
		{3, "0.33", "10", "0.10", "0.09", "0.09"}, {3, "1.04", "20", "0.62", "0.63", "0.62"},
		{4, "0.12", "20", "0.10", "0.08", "0.09"}, {4, "10.03", "15", "6.02", "6.00", "6.01"},
	} {
		var lines []tax.Line
		for range c.n {
			lines = append(lines, tax.Line{Amount: eur(c.net), Rate: percent(c.percent)})
		}
		perLine, down := nearest(), nearest()
		perLine.PerLine, down.Mode = true, money.Down
		for want, g := range map[*string]tax.Regime{&c.total: nearest(), &c.lines: perLine, &c.downed: down} {
			if got := g.Totals("EUR", lines).Tax.String(); got != *want {
				t.Errorf("%d × %s at %s %%, %+v: %s, want %s", c.n, c.net, c.percent, g, got, *want)
			}
		}
	}
}

// Exempt and zero-rated are both 0 %, and a document must tell them apart (EN 16931 categories E and Z).
func TestSharesAreByCodeAndPercentage(t *testing.T) {
	zero := decimal.Zero
	lines := []tax.Line{
		{Amount: eur("3"), Rate: tax.Rate{Code: "zero", Percent: zero}}, {Amount: eur("5"), Rate: percent("20")},
		{Amount: eur("4"), Rate: tax.Rate{Code: "exempt", Percent: zero}}, {Amount: eur("1"), Rate: tax.Rate{Code: "zero", Percent: dec("0.00")}},
	}
	var got []string
	for _, s := range nearest().Totals("EUR", lines).Shares {
		got = append(got, s.Rate.Code+" "+s.Net.String()+" "+s.Tax.String())
	}
	if s := strings.Join(got, ", "); s != "zero 4.00 0.00, 20 5.00 1.00, exempt 4.00 0.00" {
		t.Error(s)
	}
}

func TestTotalsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := regimes.Draw(t, "regime")
		lines := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) tax.Line {
			return tax.Line{Amount: amounts.Draw(t, "amount"), Rate: rates.Draw(t, "rate")}
		}), 0, 12).Draw(t, "lines")
		got := g.Totals("EUR", lines)
		sum := money.Sum("EUR")
		for _, l := range lines {
			sum = sum.Add(l.Amount)
		}
		if g.GrossPrices && !got.Gross.Equal(sum) || !g.GrossPrices && !got.Net.Equal(sum) {
			t.Fatalf("lines of %s became %s net, %s gross", sum, got.Net, got.Gross)
		}
		net, of, gross := money.Sum("EUR"), money.Sum("EUR"), money.Sum("EUR")
		var seen []string
		for _, s := range got.Shares {
			if !s.Net.Add(s.Tax).Equal(s.Gross) {
				t.Fatalf("%s + %s is not %s", s.Net, s.Tax, s.Gross)
			}
			net, of, gross = net.Add(s.Net), of.Add(s.Tax), gross.Add(s.Gross)
			seen = append(seen, s.Rate.Code+s.Rate.Percent.StringFixed(1))
			if !g.PerLine && !g.GrossPrices && !s.Tax.Equal(g.Exclusive(s.Net, s.Rate)) {
				t.Fatalf("tax on %s at %s %% is %s", s.Net, s.Rate.Percent, s.Tax)
			}
		}
		if !net.Equal(got.Net) || !of.Equal(got.Tax) || !gross.Equal(got.Gross) || !got.Net.Add(got.Tax).Equal(got.Gross) {
			t.Fatalf("shares do not sum to %s + %s = %s", got.Net, got.Tax, got.Gross)
		}
		for i, s := range seen {
			if strings.Contains(strings.Join(seen[:i], " "), s) {
				t.Fatalf("%s stands twice", s)
			}
		}
	})
}

// Totals that are added and taken off again are what they were, share by share; nothing of a share is left out.
func TestTotalsTakenApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := regimes.Draw(t, "regime")
		some := func(name string) tax.Totals {
			return g.Totals("EUR", rapid.SliceOfN(rapid.Custom(func(t *rapid.T) tax.Line {
				return tax.Line{Amount: amounts.Draw(t, "amount"), Rate: rates.Draw(t, "rate")}
			}), 0, 6).Draw(t, name))
		}
		a, b := some("a"), some("b")
		both := a.Add(b)
		back := both.Sub(b)
		if !back.Net.Equal(a.Net) || !back.Tax.Equal(a.Tax) || !back.Gross.Equal(a.Gross) || !both.Net.Add(both.Tax).Equal(both.Gross) {
			t.Fatalf("%+v became %+v", a, back)
		}
		net := money.Sum("EUR")
		for _, s := range both.Shares {
			net = net.Add(s.Net)
		}
		if !net.Equal(both.Net) {
			t.Fatalf("shares of %s in %s", net, both.Net)
		}
		if none := both.Sub(both); len(none.Shares) != 0 || none.Gross.Sign() != 0 {
			t.Fatalf("%+v", none)
		}
	})
}
