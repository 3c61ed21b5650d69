package figures_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"
	"foamwright/pricing/money"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func eur(s string) money.Amount { return money.Round(dec(s), "EUR") }

// Computed by hand: m ÷ (1 − m) and u ÷ (1 + u). 8 and 20 % is 9.60, 9 and 20 % is 10.80.
func TestMarkupAndMargin(t *testing.T) {
	for margin, markup := range map[string]string{"10": "11.1111", "15": "17.6471", "20": "25", "25": "33.3333", "40": "66.6667", "50": "100", "60": "150", "75": "300"} {
		up, err := figures.Margin{Share: dec(margin).Shift(-2)}.Markup()
		if err != nil || !up.Share.Shift(2).Round(4).Equal(dec(markup)) {
			t.Errorf("margin %s %%: %s, %v", margin, up.Share, err)
		}
	}
	for markup, margin := range map[string]string{"10": "9.0909", "20": "16.6667", "25": "20", "150": "60"} {
		m, err := figures.Markup{Share: dec(markup).Shift(-2)}.Margin()
		if err != nil || !m.Share.Shift(2).Round(4).Equal(dec(margin)) {
			t.Errorf("markup %s %%: %s, %v", markup, m.Share, err)
		}
	}
	for cost, price := range map[string]string{"8": "9.60", "9": "10.80"} {
		m, _ := figures.Markup{Share: dec("0.2")}.Margin()
		if p, err := m.Price(eur(cost)); err != nil || p.String() != price {
			t.Errorf("%s and 20 %%: %s, %v", cost, p, err)
		}
	}
	if _, err := (figures.Margin{Share: dec("1")}).Markup(); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a margin of 100 %%: %v", err)
	}
	if _, err := (figures.Markup{Share: dec("-1")}).Margin(); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a markup of −100 %%: %v", err)
	}
	if m := figures.MarginOf(eur("0"), eur("5")); !m.Share.IsZero() {
		t.Errorf("of nothing: %s", m.Percent())
	}
}

// There and back: a margin's markup has that margin.
func TestMarkupBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := figures.Margin{Share: decimal.New(int64(rapid.IntRange(-5000, 9000).Draw(t, "margin")), -4)}
		up, err := m.Markup()
		if err != nil {
			t.Fatal(err)
		}
		back, err := up.Margin()
		if err != nil || back.Share.Sub(m.Share).Abs().GreaterThan(decimal.New(1, -6)) {
			t.Fatalf("%s is %s is %s, %v", m.Share, up.Share, back.Share, err)
		}
	})
}

// OpenStax, Principles of Accounting vol. 2, section 10.6 (figures alone): contributions of 185, 55 and 48 that take
// 1, 0.5 and 0.25 hours bring 185, 110 and 192 an hour; of 80 000 hours the third is made first, whole, then the
// first, and 20 000 hours are left for the second. Computed: 16 in 15 minutes are 64 an hour, 32 in 24 minutes 80.
func TestBottleneck(t *testing.T) {
	filled, left := figures.Fill(dec("80000"), []figures.Wish{
		{"first", 60000, dec("185"), dec("1")}, {"second", 48000, dec("55"), dec("0.5")}, {"third", 40000, dec("48"), dec("0.25")},
	})
	want := []struct {
		name, rate string
		makes      int
	}{{"third", "192", 40000}, {"first", "185", 60000}, {"second", "110", 20000}}
	for i, w := range want {
		if f := filled[i]; f.Name != w.name || !f.Rate().Equal(dec(w.rate)) || f.Makes != w.makes {
			t.Errorf("%d: %s at %s makes %d, want %+v", i, f.Name, f.Rate(), f.Makes, w)
		}
	}
	if !left.IsZero() {
		t.Errorf("%s hours left", left)
	}
	for _, c := range [][3]string{{"16", "0.25", "64"}, {"32", "0.4", "80"}} {
		if r := (figures.Wish{Contribution: dec(c[0]), Takes: dec(c[1])}).Rate(); !r.Equal(dec(c[2])) {
			t.Errorf("%v: %s", c, r)
		}
	}
}

// Never more than is wanted, never more hours than there are, and no order of two swapped pieces brings more.
func TestFillKeepsTheHours(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hours := decimal.NewFromInt(int64(rapid.IntRange(0, 200).Draw(t, "hours")))
		var wishes []figures.Wish
		for range rapid.IntRange(0, 6).Draw(t, "wishes") {
			wishes = append(wishes, figures.Wish{
				Wanted: rapid.IntRange(0, 9).Draw(t, "wanted"), Contribution: decimal.NewFromInt(int64(rapid.IntRange(-20, 300).Draw(t, "brings"))),
				Takes: decimal.New(int64(rapid.IntRange(0, 400).Draw(t, "takes")), -1),
			})
		}
		filled, left := figures.Fill(hours, wishes)
		used := decimal.Zero
		for i, f := range filled {
			used = used.Add(f.Takes.Mul(decimal.NewFromInt(int64(f.Makes))))
			if f.Makes < 0 || f.Makes > f.Wanted || f.Makes > 0 && !f.Contribution.IsPositive() {
				t.Fatalf("%+v", f)
			}
			if f.Makes < f.Wanted && f.Contribution.IsPositive() && f.Takes.IsPositive() && left.GreaterThanOrEqual(f.Takes) {
				t.Fatalf("%d could be made once more: %s left of %+v", i, left, f)
			}
		}
		if used.GreaterThan(hours) || !hours.Sub(used).Equal(left) {
			t.Fatalf("%s of %s used, %s left", used, hours, left)
		}
	})
}
