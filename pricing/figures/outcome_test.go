package figures

import (
	"fmt"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing/money"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// TestRatePublished: the score interval without continuity correction of table I in R. G. Newcombe, Two-sided confidence
// intervals for the single proportion, Statistics in Medicine 17 (1998). The figures are from memory; that they are
// right is shown by TestRateSecondWay, which solves for the interval instead.
func TestRatePublished(t *testing.T) {
	for _, c := range []struct {
		k, n      int
		low, high string
	}{
		{81, 263, "0.2553", "0.3662"}, {15, 148, "0.0624", "0.1605"}, {0, 20, "0", "0.1611"}, {1, 29, "0.0061", "0.1718"},
	} {
		r := RateOf(c.k, c.n)
		if !r.Low.Round(4).Equal(dec(c.low)) || !r.High.Round(4).Equal(dec(c.high)) {
			t.Errorf("%d of %d lies in %s to %s, published is %s to %s", c.k, c.n, r.Low, r.High, c.low, c.high)
		}
	}
}

// TestRateSecondWay: an end of the interval is the share p of which the count is 1.96 standard errors away,
// (k − np)² = z²np(1 − p), looked for by halving.
func TestRateSecondWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "n")
		k := rapid.IntRange(0, n).Draw(t, "k")
		z, count, of := dec("1.959963984540054"), decimal.NewFromInt(int64(k)), decimal.NewFromInt(int64(n))
		outside := func(p decimal.Decimal) bool { // further off than 1.96 standard errors
			off := count.Sub(of.Mul(p))
			return off.Mul(off).GreaterThan(z.Mul(z).Mul(of).Mul(p).Mul(one.Sub(p)))
		}
		look := func(in, out decimal.Decimal) decimal.Decimal { // between a share inside and one outside
			for range 50 {
				middle := in.Add(out).Div(decimal.NewFromInt(2)).Round(30)
				if outside(middle) {
					out = middle
				} else {
					in = middle
				}
			}
			return in
		}
		share, r := count.Div(of), RateOf(k, n)
		low, high := decimal.Zero, one
		if k > 0 {
			low = look(share, decimal.Zero)
		}
		if k < n {
			high = look(share, one)
		}
		if near := dec("0.000000001"); r.Low.Sub(low).Abs().GreaterThan(near) || r.High.Sub(high).Abs().GreaterThan(near) {
			t.Fatalf("%d of %d: %s to %s, the other way %s to %s", k, n, r.Low, r.High, low, high)
		}
		if r.Low.GreaterThan(r.Share) || r.Share.GreaterThan(r.High) || r.Low.IsNegative() || r.High.GreaterThan(one) {
			t.Fatalf("%d of %d is %s, not within %s to %s", k, n, r.Share, r.Low, r.High)
		}
	})
}

// TestSaysWithFew: below five there is no rate, and intervals that meet tell no difference.
func TestSaysWithFew(t *testing.T) {
	for want, tally := range map[string]Tally{
		"none ended yet":                   {Open: 3},
		"3 of 4 accepted: too few to tell": {Accepted: 3, Declined: 1, Open: 9},
		"75\u00a0% (53 to 89\u00a0%)":      {Accepted: 15, Declined: 3, RanOut: 2},
		"0\u00a0% (0 to 43\u00a0%)":        {Declined: 5},
	} {
		if got := tally.Says(); got != want {
			t.Errorf("%+v says %q, want %q", tally, got, want)
		}
	}
	row := func(name string, won, lost int) Grouped {
		return Grouped{name, name, Tally{Accepted: won, Declined: lost}}
	}
	for want, rows := range map[string][]Grouped{
		"Too few have ended to hold these against each other.":                                      {row("cheap", 30, 10), row("dear", 1, 3)},
		"No difference can be told: each of these rates may be the same, and chance does the rest.": {row("cheap", 12, 8), row("dear", 7, 13)},
		"“cheap” wins more often than “dear”.":                                                      {row("cheap", 60, 20), row("dear", 10, 40)},
	} {
		if got := (Grouping{Rows: rows}).Says(); got != want {
			t.Errorf("%v says %q, want %q", rows, got, want)
		}
	}
}

// offered draws how a quote ended.
func offered(t *rapid.T, i int) Offered {
	first := time.Date(2026, 1, 1, 9, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 300).Draw(t, "day"))
	q := Offered{
		Quote: fmt.Sprint(i), Before: rapid.Bool().Draw(t, "before"), Design: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "design"),
		Gross: money.Round(decimal.New(rapid.Int64Range(1, 90_000).Draw(t, "gross"), -1), "EUR"), Outcome: rapid.SampledFrom(Endings()).Draw(t, "outcome"),
		Asked: first.AddDate(0, 0, -rapid.IntRange(0, 12).Draw(t, "wait")), First: first, Issued: first,
	}
	if q.Outcome == Won || q.Outcome == Lost {
		q.Answered = first.AddDate(0, 0, rapid.IntRange(0, 30).Draw(t, "answer"))
		q.Reason = rapid.SampledFrom([]string{"", "Too dear", "too  dear.", "not in time"}).Draw(t, "reason")
	}
	return q
}

// TestRowsSumToTheWhole: every grouping has each quote once, whatever is counted; every row opens to as many quotes as
// it counts; bands of prices are not empty and follow each other.
func TestRowsSumToTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var quotes []Offered
		for i := range rapid.IntRange(0, 40).Draw(t, "quotes") {
			quotes = append(quotes, offered(t, i))
		}
		Summed(t, Judge(quotes), len(quotes))
	})
}

// Summed holds the rows against the whole and against the quotes that they open to.
func Summed(t rapid.TB, o Outcomes, quotes int) {
	if o.All.All() != quotes {
		t.Fatalf("%d quotes are counted as %+v", quotes, o.All)
	}
	opens := func(r Row, want int) {
		list, _, found := o.Quotes(r)
		if !found || len(list) != want {
			t.Fatalf("%+v opens to %d (%v), counts %d", r, len(list), found, want)
		}
	}
	for _, e := range Endings() {
		opens(Row{Outcome: string(e)}, o.All.Of(e))
	}
	for _, g := range o.Groups {
		var sum Tally
		for _, r := range g.Rows {
			sum = Tally{sum.Accepted + r.Accepted, sum.Declined + r.Declined, sum.RanOut + r.RanOut, sum.Open + r.Open}
			if r.All() == 0 {
				t.Fatalf("%s has an empty row %q", g.Name, r.Name)
			}
			opens(Row{Group: g.Key, Key: r.Key}, r.All())
			for _, e := range Endings() {
				opens(Row{string(e), g.Key, r.Key}, r.Of(e))
			}
		}
		if sum != o.All {
			t.Fatalf("rows by %s sum to %+v, all are %+v", g.Name, sum, o.All)
		}
	}
	declined := 0
	for _, r := range o.Reasons {
		declined += r.Quotes
		opens(Row{Group: reasonsKey, Key: r.Key}, r.Quotes)
	}
	if declined != o.All.Declined {
		t.Fatalf("reasons sum to %d, declined were %d", declined, o.All.Declined)
	}
}

// TestReasons: the same words are the same reason.
func TestReasons(t *testing.T) {
	lost := func(reason string) Offered {
		return Offered{Outcome: Lost, Reason: reason, Gross: money.Round(one, "EUR")}
	}
	all := Judge([]Offered{lost("Too dear"), lost("Not in time"), lost(" too  DEAR. "), lost("")}).Reasons
	if len(all) != 3 || all[0].Name() != "Too dear" || all[0].Quotes != 2 || all[1].Name() != "No reason given" {
		t.Errorf("reasons are %+v", all)
	}
}

// TestBands: thirds, as round numbers.
func TestBands(t *testing.T) {
	for _, c := range []struct{ prices, edges []string }{
		{[]string{"102.50", "298", "455", "461", "1132", "1499.99"}, []string{"460", "1100"}},
		{[]string{"417", "417", "417", "417"}, nil},
		{[]string{"10", "20"}, []string{"20"}},
		{nil, nil},
	} {
		var prices, want []decimal.Decimal
		for _, p := range c.prices {
			prices = append(prices, dec(p))
		}
		for _, e := range c.edges {
			want = append(want, dec(e))
		}
		if got := bands(prices); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%v parts at %v, want %v", c.prices, got, want)
		}
	}
}
