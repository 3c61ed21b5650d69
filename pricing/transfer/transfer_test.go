package transfer_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
	"foamwright/pricing/transfer"
)

// Samples that were published for ISO 11649, checked again by exact arithmetic.
func TestReference(t *testing.T) {
	for text, want := range map[string]string{
		"539007547034": "RF18539007547034", "AB2G5": "RF68AB2G5", "1234512345": "RF451234512345", "TU06FX": "RF96TU06FX", "tu 06-fx": "RF96TU06FX",
		"X2HU4TC28XTYLHASYWT91": "RF14X2HU4TC28XTYLHASYWT91",
	} {
		if got, err := transfer.Reference(text); err != nil || got != want {
			t.Errorf("%s: %s, %v; want %s", text, got, err, want)
		}
		if got, err := transfer.ParseReference(transfer.Grouped(strings.ToLower(want))); err != nil || got != want {
			t.Errorf("%s read back: %s, %v", want, got, err)
		}
	}
	if _, err := transfer.ParseReference("RF720HYA6"); err != nil {
		t.Error(err)
	}
	for _, bad := range []string{"", "RF", "RF00", "RF19GAX8WS5JYOOUJ87", "RF18539007547043", "RF1A539007547034", "XF18539007547034", "RF72X2HU4TC28XTYLHASYWT91A", "RF72Ä"} {
		if _, err := transfer.ParseReference(bad); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%q was taken: %v", bad, err)
		}
	}
	for _, bad := range []string{"", "Ä/ ", strings.Repeat("7", 22)} {
		if _, err := transfer.Reference(bad); fault.KindOf(err) != fault.Invalid {
			t.Errorf("a reference of %q: %v", bad, err)
		}
	}
}

// Every reference can be read back, and one wrong character or two neighbours changed over are always noticed
// (what modulo 97 is for).
func TestSlipsAreNoticed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, err := transfer.Reference(rapid.StringMatching(`[A-Z0-9]{1,21}`).Draw(t, "text"))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := transfer.ParseReference(s); err != nil {
			t.Fatal(err)
		}
		at := rapid.IntRange(4, len(s)-1).Draw(t, "at")
		slip := s[:at] + rapid.StringMatching(`[0-9]`).Draw(t, "other") + s[at+1:]
		if s[at] >= '0' && s[at] <= '9' && slip != s {
			if _, err := transfer.ParseReference(slip); err == nil {
				t.Fatalf("%s passed for %s", slip, s)
			}
		}
		if at+1 < len(s) && s[at] != s[at+1] {
			slip = s[:at] + s[at+1:at+2] + s[at:at+1] + s[at+2:]
			digits := func(c byte) bool { return c >= '0' && c <= '9' }
			if digits(s[at]) == digits(s[at+1]) {
				if _, err := transfer.ParseReference(slip); err == nil {
					t.Fatalf("%s passed for %s", slip, s)
				}
			}
		}
	})
}

// The first is from EPC069-12, the second from the registry of ISO 13616.
func TestIBAN(t *testing.T) {
	for typed, want := range map[string]string{"BE72 0000 0000 1616": "BE72000000001616", " gb82 west 1234 5698 7654 32": "GB82WEST12345698765432", "": ""} {
		if got, err := transfer.ParseIBAN(typed); err != nil || got != want {
			t.Errorf("%q: %q, %v", typed, got, err)
		}
	}
	for bad, says := range map[string]string{"BE72000000001661": "check digits", "BE73000000001616": "check digits", "BE72": "two letters", "Ä272000000001616": "two letters", "BE72-0000-0000-1616": "two letters"} {
		_, err := transfer.ParseIBAN(bad)
		if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Value != bad || !strings.Contains(p[0].Remedy, says) {
			t.Errorf("%q: %v", bad, err)
		}
	}
	for typed, good := range map[string]bool{"BPOTBEB1": true, "bpot be b1 xxx": true, "": true, "BPOTBEB": false, "BPOT12B1": false, "BPOTBEB1XX": false} {
		if _, err := transfer.ParseBIC(typed); (err == nil) != good {
			t.Errorf("BIC %q: %v", typed, err)
		}
	}
}

func eur(s string) money.Amount { return money.Round(decimal.RequireFromString(s), "EUR") }

// The sample of EPC069-12 (version 2.1 of 2012), which is in version 001 and writes EUR1 for EUR1.00.
func TestPayloadOfTheGuideline(t *testing.T) {
	got, err := transfer.Order{
		BIC: "BPOTBEB1", Name: "Red Cross of Belgium", IBAN: "BE72000000001616", Amount: eur("1"), Purpose: "CHAR", Text: "Urgency fund", Info: "Sample EPC QR code",
	}.Payload()
	sample := "BCD\n001\n1\nSCT\nBPOTBEB1\nRed Cross of Belgium\nBE72000000001616\nEUR1\nCHAR\n\nUrgency fund\nSample EPC QR code"
	if len(sample) != 103 {
		t.Fatalf("the sample has %d bytes", len(sample))
	}
	if want := strings.NewReplacer("\n001\n", "\n002\n", "EUR1\n", "EUR1.00\n").Replace(sample); err != nil || got != want {
		t.Errorf("%q, %v", got, err)
	}
}

func TestPayloadRefusesWhatACodeCannotSay(t *testing.T) {
	good := transfer.Order{Name: "Kestrel Yard\nPropworks", IBAN: "BE72 0000 0000 1616", Amount: eur("573.82"), Reference: "rf18 5390 0754 7034"}
	if got, err := good.Payload(); err != nil || got != "BCD\n002\n1\nSCT\n\nKestrel Yard Propworks\nBE72000000001616\nEUR573.82\n\nRF18539007547034" {
		t.Errorf("%q, %v", got, err)
	}
	for field, change := range map[string]func(*transfer.Order){
		"iban":      func(o *transfer.Order) { o.IBAN = "" },
		"bic":       func(o *transfer.Order) { o.BIC = "B" },
		"name":      func(o *transfer.Order) { o.Name = strings.Repeat("ß", 71) },
		"amount":    func(o *transfer.Order) { o.Amount = eur("1000000000") },
		"text":      func(o *transfer.Order) { o.Text = "for a shield" },
		"info":      func(o *transfer.Order) { o.Info = strings.Repeat("i", 71) },
		"purpose":   func(o *transfer.Order) { o.Purpose = "CHARI" },
		"reference": func(o *transfer.Order) { o.Reference = "RF19GAX8WS5JYOOUJ87" },
		"":          func(o *transfer.Order) { o.Name, o.Info = strings.Repeat("漢", 70), strings.Repeat("漢", 70) },
	} {
		o := good
		change(&o)
		_, err := o.Payload()
		if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	abroad := good
	abroad.IBAN = "GB82WEST12345698765432"
	if p := fault.ProblemsOf(second(abroad.Payload())); len(p) != 1 || p[0].Field != "bic" {
		t.Errorf("no BIC outside the Economic Area: %v", p)
	}
	for _, a := range []money.Amount{{}, eur("0"), eur("-1"), money.Round(decimal.NewFromInt(5), "GBP")} {
		o := good
		o.Amount = a
		if _, err := o.Payload(); fault.KindOf(err) != fault.Invalid {
			t.Errorf("a code for %s %s", a, a.Currency())
		}
	}
}

func second[T any](_ T, err error) error { return err }
