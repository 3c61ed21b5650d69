package figures

import (
	"strings"
	"testing"
	"time"

	"foamwright/pricing"
	"foamwright/pricing/money"
)

// Whether a month paid is one sentence; of a month that goes on nothing is called too little yet.
func TestWhetherAMonthPaid(t *testing.T) {
	eur := func(text string) money.Amount { return money.Round(dec(text), "EUR") }
	first := time.Date(2026, 10, 1, 0, 0, 0, 0, time.UTC)
	month := func(now time.Time, ended Ended) MonthPage {
		for _, a := range []*money.Amount{&ended.Kept, &ended.Wasted, &ended.Took.Net, &ended.Took.Fee, &ended.Took.BoughtIn, &ended.Took.Material} {
			if a.Currency() == "" {
				*a = eur("0")
			}
		}
		return MonthPage{Month: Month{First: first, Next: first.AddDate(0, 1, 0), Sums: Sums{Ended: ended, Lost: eur("0")}, Fixed: eur("140"), There: dec("160")}, Now: now}
	}
	during, after := first.AddDate(0, 0, 9), first.AddDate(0, 2, 0)
	kept := Ended{Dropped: 1, Kept: eur("240"), Minutes: dec("120")}
	for want, p := range map[string]MonthPage{
		"The month has not begun.": month(first.AddDate(0, 0, -1), Ended{}),
		"No job has ended in the month yet, so it cannot be told what an hour earns.":           month(during, Ended{}),
		"No job ended in the month, so nothing was earned in it.":                               month(after, Ended{}),
		"The jobs that ended left 100.00 EUR after everything: 50.00 EUR an hour at the bench.": month(after, kept),
		"The jobs that ended so far fell 40.00 EUR short of what was paid for.":                 month(during, Ended{Dropped: 1, Kept: eur("100")}),
	} {
		if got := strings.ReplaceAll(p.Verdict(), "\u00a0", " "); got != want {
			t.Errorf("says %q, want %q", got, want)
		}
	}
	if said := month(during, Ended{}).OverheadWords(); len(said) != 1 {
		t.Errorf("a month that goes on is judged: %q", said)
	}
	if said := strings.Join(month(after, Ended{}).OverheadWords(), " "); !strings.Contains(said, "were paid for hours that nobody worked") {
		t.Errorf("a month that is over is not: %q", said)
	}
}

// Today's price of one is held against quotes of one, not against those of a dozen, of which one costs less.
func TestDriftHoldsLikeAgainstLike(t *testing.T) {
	eur := func(text string) money.Amount { return money.Round(dec(text), "EUR") }
	of := func(pieces int, net string) Quoted {
		return Quoted{1, pieces, eur(net), map[int]Quoted{pieces: {Quotes: 1, Pieces: pieces, Net: eur(net)}}}
	}
	c := Compared{Weighed: Weighed{Costing: pricing.Costing{Quantity: 1, Net: eur("412")}}, Quoted: of(1, "400").Of(of(12, "3000")).Of(of(1, "400"))}
	if c.Quoted.Quotes != 3 || c.Quoted.Pieces != 14 || c.Alike().Quotes != 2 {
		t.Errorf("%+v", c.Quoted)
	}
	if got := c.Drift(); got != "+3.0\u00a0%" {
		t.Errorf("drifted by %q", got)
	}
	if c.Quoted = of(12, "3000"); c.Drift() != "" {
		t.Errorf("a price of one is held against a dozen: %q", c.Drift())
	}
}
