package labour_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing/labour"
)

// Rating and allowances: 800 s at 110 are 880 s (blog.ergo-mtm.it); with 12 % and 3 % of basic time they are 1012 s, and
// 0.25 min at 80 are 0.20 min (by hand, on the same definitions).
func TestObservedTime(t *testing.T) {
	o := labour.Observed{Minutes: d("800").Div(d("60")), Rating: d("110")}
	if got := o.Basic().Mul(d("60")).Round(6); !got.Equal(d("880")) {
		t.Errorf("basic %s s, published 880", got)
	}
	if got := o.Standard(d("0.12"), d("0.03")).Mul(d("60")).Round(6); !got.Equal(d("1012")) {
		t.Errorf("standard %s s, want 1012", got)
	}
	if got := (labour.Observed{Minutes: d("0.25"), Rating: d("80")}).Basic(); !got.Equal(d("0.20")) {
		t.Errorf("0.25 min at 80 are %s", got)
	}
}

// At standard pace nothing changes; a quicker pace is more work in the same time.
func TestRatingIsAPace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := labour.Observed{Minutes: decimal.New(rapid.Int64Range(1, 100_000).Draw(t, "minutes"), -2), Rating: d("100")}
		if !o.Basic().Equal(o.Minutes) || !o.Standard().Equal(o.Minutes) {
			t.Fatalf("%s at 100 is %s", o.Minutes, o.Basic())
		}
		o.Rating = decimal.NewFromInt(rapid.Int64Range(101, 150).Draw(t, "rating"))
		if !o.Basic().GreaterThan(o.Minutes) || o.Standard(d("0.15")).LessThan(o.Basic()) {
			t.Fatalf("%s at %s is %s", o.Minutes, o.Rating, o.Basic())
		}
	})
}
