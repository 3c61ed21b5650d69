package pdf

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

func letters(t testing.TB) *setter {
	t.Helper()
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	return newSetter(r.faces)
}

// holds checks what every broken text keeps: no line is too wide for its room unless it is one letter, every letter
// is one of its face's, and nothing but blanks is lost.
func holds(t interface{ Errorf(string, ...any) }, s *setter, typed string, st style, width float64) {
	all := ""
	for _, l := range s.wrap(typed, st, width) {
		all += l.text
		if l.width > width && utf8.RuneCountInString(l.text) > 1 {
			t.Errorf("%q is %.2f mm wide, more than %.2f", l.text, l.width, width)
		}
		for _, r := range l.text {
			if s.advance(l.face, r) < 0 {
				t.Errorf("%q of %q is not in %s", r, l.text, l.face.family)
			}
		}
	}
	bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
	if got, want := utf8.RuneCountInString(bare(all)), utf8.RuneCountInString(bare(plain(typed))); got != want {
		t.Errorf("%d letters of %q became %d", want, typed, got)
	}
}

func TestWrap(t *testing.T) {
	s := letters(t)
	rapid.Check(t, func(t *rapid.T) {
		typed := strings.Join(rapid.SliceOf(rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-zA-Zα-ωА-я]{1,70}`))).Draw(t, "words"), " ")
		holds(t, s, typed, rapid.SampledFrom([]style{text, heading, fine}).Draw(t, "style"), rapid.Float64Range(0.1, 170).Draw(t, "width"))
	})
}

func FuzzWrap(f *testing.F) {
	for _, seed := range []string{"", "Ilse Βερονίκη", "Мара", "\xff\xfe", "\U0001f6e1\ufe0f", "a\u0301\u202f\u00a0b\n\nc", strings.Repeat("w", 300)} {
		f.Add(seed, 40.0)
	}
	s := letters(f)
	f.Fuzz(func(t *testing.T, typed string, width float64) {
		holds(t, s, typed, text, width)
	})
}

// TestWidthsAreTheFonts compares with advances of the sans face in thousandths of its size: figures 556, a blank
// 278, M 833. They are those of the standard sans face of PDF, which it was drawn to match; from memory.
func TestWidthsAreTheFonts(t *testing.T) {
	s := letters(t)
	for typed, thousandths := range map[string]float64{"0": 556, "8888": 4 * 556, "M": 833, " ": 278} {
		if got := s.set(typed, style{sans, 1000, 1, ink}).width / point; got < thousandths-2 || got > thousandths+2 {
			t.Errorf("%q is %.1f wide, want %.0f", typed, got, thousandths)
		}
	}
}

func TestShort(t *testing.T) {
	s := letters(t)
	for typed, want := range map[string]string{"Heron": "Heron", "A board for the autumn muster": "A board for…"} {
		if l := s.short(typed, text, 20); l.text != want || l.width > 20 {
			t.Errorf("%q became %q, %.1f mm", typed, l.text, l.width)
		}
	}
}

// TestEntriesAddUp: what a customer reads adds up to the net price, whatever it is made of.
func TestEntriesAddUp(t *testing.T) {
	base := sheet(t, nil)
	s := letters(t)
	rapid.Check(t, func(t *rapid.T) {
		share := func(name string, most int) decimal.Decimal {
			return decimal.New(int64(rapid.IntRange(0, most).Draw(t, name)), -2)
		}
		q := &quote{Sheet: base, paper: paper{setter: s}}
		rates := base.Workshop.Figures.Rates
		rates.FeeRate, rates.Margin = share("fee", 10), share("margin", 60)
		rates.Step = decimal.NewFromInt(int64(rapid.IntRange(0, 10).Draw(t, "step")))
		regime := tax.Regime{Registered: rapid.Bool().Draw(t, "registered"), GrossPrices: rapid.Bool().Draw(t, "gross"), Mode: money.HalfUp}
		q.Estimate.Price = pricing.Build(pricing.Costs{
			Material: money.Round(share("material", 200_000), "EUR"), Hours: share("hours", 20_000), Quantity: rapid.IntRange(1, 40).Draw(t, "pieces"),
			Rush: share("rush", 50), Discount: share("discount", 30),
		}, rates, regime, tax.Rate{Name: "Tax", Percent: share("tax", 3_000)})
		sum := money.Sum("EUR")
		for _, e := range q.Entries() {
			sum = sum.Add(e.Amount)
		}
		if p := q.Estimate.Price; !sum.Equal(p.Net) {
			t.Fatalf("the lines add up to %s, the net price is %s", sum, p.Net)
		}
	})
}
