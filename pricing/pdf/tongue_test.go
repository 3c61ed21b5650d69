package pdf

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/tax"
	"foamwright/pricing/workshop"
)

// spoken is a sheet for a customer who reads a language, with everything that is said in it.
func spoken(t testing.TB, code string, change func(*shield.Spec, *pricing.Snapshot)) sales.Sheet {
	t.Helper()
	s := sheet(t, change)
	s.Customer.Language, s.Workshop.Foreign = code, workshop.UsualForeign()
	s.Made, s.Cautions = sales.Describe(s.Tongue(), s.Estimate.Shield), sales.Cautions(s.Tongue(), s.Estimate)
	return s
}

// TestTextInOtherTongues holds the whole text of the kite against the one that was read and found good, in each tongue.
// The price is set here, so that it changes only with the words.
func TestTextInOtherTongues(t *testing.T) {
	for _, code := range []string{"de", "fr"} {
		s := spoken(t, code, nil)
		s.Estimate.Price = kitePrice(t, s)
		s.Estimate.Outlook = schedule.Outlook{WorkingDays: 4, Start: day, Ready: day.AddDate(0, 0, 21)}
		doc := printed(t, s)
		if !bytes.Contains(doc, []byte("/Lang ("+code+")")) {
			t.Errorf("the document is not marked as %s", code)
		}
		got, golden := strings.Join(pages(t, doc), "\f"), "testdata/kite-"+code+".txt"
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
			t.Errorf("The text of the quote in %s has changed; look at it and run the test with -update.\n%s", code, got)
		}
		for _, english := range []string{"Quote", "Valid", "along", "coat", "Tax ", "Deposit", "Terms", "page 1 of", "mm wide", "measures"} {
			if strings.Contains(got, english) {
				t.Errorf("%s: it says %q", code, english)
			}
		}
	}
}

// TestBuyerWithoutTax: no rate stands on the quote of who is charged none, but why, in their tongue; total and net are one.
func TestBuyerWithoutTax(t *testing.T) {
	for code, why := range map[string]string{
		"en": "No tax is charged: Reverse charge.", "de": "Es wird keine Steuer berechnet: Steuerschuldnerschaft des Leistungsempfängers.", "fr": "Aucune taxe n’est facturée : Autoliquidation.",
	} {
		s := spoken(t, code, func(_ *shield.Spec, snap *pricing.Snapshot) { snap.Treatment = tax.ReverseCharge })
		s.Customer.TaxNumber, s.Customer.Country = "NL 000 099 998", "NL"
		text := spaced(strings.Join(pages(t, printed(t, s)), " "))
		net := s.Tongue().Money(s.Estimate.Price.Net)
		if !strings.Contains(text, spaced(why)) || strings.Contains(text, "0 %") || strings.Count(text, spaced(net)) != 2 || !strings.Contains(text, "NL 000 099 998") || !strings.Contains(text, s.Tongue().Country("NL")) {
			t.Errorf("%s: want %q and %s twice in %s", code, why, net, text)
		}
	}
}

// TestLongNames: a name, a title and an address of 60 letters are printed whole in every tongue, between the margins.
func TestLongNames(t *testing.T) {
	const name = "Quartermaster Bram Ostergaard-Wetherby of the Lower Saltmere"
	if n := len(name); n != 60 {
		t.Fatalf("it has %d letters", n)
	}
	for _, code := range []string{"en", "de", "fr"} {
		s := spoken(t, code, nil)
		s.Customer.Name, s.Title, s.Workshop.Head.Name = name, "The kite of "+name[:48], name
		text := spaced(strings.Join(pages(t, printed(t, s)), " "))
		for _, want := range []string{s.Title} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: nowhere %q in %s", code, want, text)
			}
		}
		for _, word := range strings.Fields(name) {
			if strings.Count(text, word) < 3 { // head, foot and whom it is for
				t.Errorf("%s: %q is not printed whole", code, word)
			}
		}
	}
}

// TestSameBytesInEveryTongue, and the picture of the page is the same again too.
func TestSameBytesInEveryTongue(t *testing.T) {
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	for _, code := range []string{"de", "fr"} {
		s := spoken(t, code, nil)
		again, err := r.Quote(context.Background(), s)
		if err != nil || !bytes.Equal(again, printed(t, s)) {
			t.Errorf("%s came out otherwise (%v)", code, err)
		}
		if p := r.Picture(s); p != r.Picture(s) || strings.Contains(p, "straight") || !strings.Contains(p, s.Tongue().Say("measures in mm")) {
			t.Errorf("%s: %.300s", code, p)
		}
	}
}
