package pdf

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
)

var update = flag.Bool("update", false, "write the golden text anew")

// TestTextOfTheKite holds the whole text against the one that was read and found good. What other rooms say is
// set here, so that it changes only with this one's words and their places.
func TestTextOfTheKite(t *testing.T) {
	s := sheet(t, nil)
	s.Estimate.Price = kitePrice(t, s)
	s.Estimate.Outlook = schedule.Outlook{WorkingDays: 4, Start: day, Ready: day.AddDate(0, 0, 8)}
	s.Made = []string{"A kite shield, curved.", "3 layers of foam glued together.", "4 coats of natural rubber latex.", "Painted: face deep blue."}
	s.Cautions, s.Workshop.Terms = []string{"Keep it dry and dark."}, []string{"The bench is booked when the deposit is paid."}
	got := strings.Join(pages(t, printed(t, s)), "\f")
	const golden = "testdata/kite.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("The text of the quote has changed; look at it and run the test with -update.\n%s", got)
	}
}

// kitePrice is a price that does not follow the catalogue.
func kitePrice(t testing.TB, s sales.Sheet) pricing.BuildUp {
	t.Helper()
	figures := s.Workshop.Figures
	rate, err := figures.Tax.On("standard", day)
	if err != nil {
		t.Fatal(err)
	}
	return pricing.Build(pricing.Costs{
		Material: money.Round(decimal.RequireFromString("77.28"), "EUR"), Hours: decimal.RequireFromString("18.40"), Quantity: 1, FirstTime: true,
	}, figures.Rates, figures.Tax, rate)
}

// kind is one kind of quote: what has to stand in it, and what must not.
type kind struct {
	name      string
	sheet     sales.Sheet
	says, not []string
	pages     int
}

func kinds(t testing.TB) []kind {
	t.Helper()
	kite := sheet(t, nil)
	kitePrice := kite.Estimate.Price

	hurry := sheet(t, func(s *shield.Spec, _ *pricing.Snapshot) {
		s.Quantity, s.Delivery.By = 12, day.AddDate(0, 0, 10)
		s.Outline, s.Core.Former = shield.Outline{Shape: shield.Round, Diameter: 80 * measure.Centimetre}, 0
		s.Rim, s.Pieces, s.Gems = nil, nil, nil
	})
	hurry.Version, hurry.Customer.Name = 3, "Мара"
	hurryPrice := hurry.Estimate.Price

	free := sheet(t, func(s *shield.Spec, f *pricing.Snapshot) {
		f.Tax.Registered, s.Rule = false, ""
		f.Rates.Minimum = decimal.NewFromInt(5000)
	})
	free.Workshop.Head.TaxNumber, free.Number, free.Workshop.Terms = "", sales.Number{Series: "KY", Year: 2026, No: 7}, nil

	long := sheet(t, nil)
	long.Title = strings.Repeat("Board of the autumn muster ", 5)
	long.Customer.Name = "Wolfeschlegelsteinhausenbergerdorff-Żółć of the Upper Marsh, "
	long.Customer.Address = strings.Repeat("Lane of many lines\n", 30)
	long.Customer.Email = strings.Repeat("nobreak.", 20) + "@harrow.example"
	long.Workshop.Head.Name = "The Long-Established Workshop of Kestrel Yard, Propworks and Pattern Cutters of Harrowmouth"
	long.Made = append(long.Made, strings.Repeat("A sentence that never wants to end ", 200))
	long.Workshop.Terms = []string{strings.Repeat("Undividable", 900)}
	long.Version = 12

	letters := sheet(t, nil)
	letters.Title, letters.Customer.Name = "Ilse\u0301 ქართული \U0001f6e1\ufe0f 漢 Հայ", "Tom\x00\tand\u200d Mara \xff"

	return []kind{
		{"kite", kite, []string{
			"Quote 42 of 2026", "Ilse Βερονίκη", words.Price(kitePrice.Gross), words.Money(kitePrice.Net), "Tax 20 % " + words.Money(kitePrice.Tax),
			"1 × ", words.Price(kitePrice.Deposit) + " " + words.Price(kitePrice.Balance), "Books the bench.", words.Date(kite.ValidUntil), "Tax number HM 204 118 903",
			"560 mm wide and 880 mm high along the curve", sales.Judged(words.Tongue{}, kite.Estimate.Verdict), "natural rubber latex", "Local codes",
		}, []string{"Version", "Labour", "Margin", "Handling", "Contingency", words.Money(kitePrice.Cost), words.Money(kitePrice.Labour)}, 2},
		{"twelve in a hurry, flat and too big", hurry, []string{
			"Version 3", "version 3 ·", "Мара", "12 pieces, all alike", "12 × ", "Rush 25 % by 21 May 2026 " + words.Money(hurryPrice.Rush),
			"flat, 800 mm", "Too big for Marshlight medium", "The largest of this shape that fits", "You asked for 21 May 2026", words.Price(hurryPrice.Gross),
		}, []string{"along the curve"}, 2},
		{"without tax, rule or terms, smallest charge", free, []string{
			"Quote KY 7 of 2026", "No tax is charged", "No size rule was stated", "Up to the smallest charge", "5 000.00 EUR", "The whole price; books the",
		}, []string{"Tax number", "Net", "Balance", "Terms"}, 2},
		{"long words and many", long, []string{"of the Upper Marsh", "Lane of many lines, Lane of many lines", "Pattern Cutters", "version 12 ·"}, nil, 5},
		{"letters of many scripts and of none", letters, []string{"Ilsé ქართული □ □ Հայ", "Tom and Mara \ufffd"}, nil, 2},
	}
}

func TestKinds(t *testing.T) {
	for _, k := range kinds(t) {
		t.Run(k.name, func(t *testing.T) {
			list := pages(t, printed(t, k.sheet))
			if len(list) != k.pages {
				t.Errorf("%d pages, want %d", len(list), k.pages)
			}
			for i, page := range list {
				for _, foot := range []string{fmt.Sprintf("page %d of %d", i+1, len(list)), "Quote " + k.sheet.Number.String()} {
					if !strings.Contains(page, foot) {
						t.Errorf("page %d lacks %q", i+1, foot)
					}
				}
			}
			text := spaced(strings.Join(list, " "))
			for _, want := range k.says {
				if !strings.Contains(text, spaced(want)) {
					t.Errorf("nowhere %q in\n%s", want, text)
				}
			}
			for _, no := range append(k.not, "certified", "certificate", "safe", "Safe") {
				if strings.Contains(text, spaced(no)) {
					t.Errorf("it says %q", no)
				}
			}
		})
	}
}

// TestManyLinesOfPrice: a price of 30 lines goes over to a second page between two lines, and its sums stay
// together.
func TestManyLinesOfPrice(t *testing.T) {
	s := sheet(t, nil)
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	q := &quote{Sheet: s, tongue: s.Tongue(), paper: paper{setter: newSetter(r.faces)}}
	if err := q.compose(); err != nil {
		t.Fatal(err)
	}
	q.blocks = q.blocks[:2] // head and facts
	var list []sales.Entry
	for i := range 30 {
		list = append(list, sales.Entry{What: fmt.Sprintf("Thing number %d of many", i+1), Amount: s.Estimate.Price.Net})
	}
	q.price(list)
	doc, err := q.print()
	if err != nil {
		t.Fatal(err)
	}
	got := pages(t, doc)
	if len(got) != 2 {
		t.Fatalf("%d pages, want 2", len(got))
	}
	for i := range list {
		what := list[i].What + " "
		if n := strings.Count(got[0], what) + strings.Count(got[1], what); n != 1 {
			t.Errorf("%q is printed %d times", what, n)
		}
	}
	for _, sum := range []string{"Thing number 30", "Net", "Tax 20 %", "Total"} {
		if !strings.Contains(got[1], sum) || strings.Contains(got[0], sum) {
			t.Errorf("%q is not on the second page alone", sum)
		}
	}
}
