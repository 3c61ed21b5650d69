package pdf

import (
	"bytes"
	"context"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

var (
	vat20 = tax.Rate{Code: "standard", Name: "VAT", Percent: decimal.NewFromInt(20)}
	vat5  = tax.Rate{Code: "reduced", Name: "VAT", Percent: decimal.NewFromInt(5)}
	vat0  = tax.Rate{Code: "zero", Name: "VAT", Percent: decimal.Zero}
)

// supply is a line: what, how many, price of each.
func supply(what string, pieces int64, each string, r tax.Rate) sales.BillLine {
	return sales.BillLine{Text: what, Quantity: decimal.NewFromInt(pieces), Each: money.Round(decimal.RequireFromString(each), "EUR"), Rate: r}
}

// bill is an invoice in a language, in EUR and by net prices unless change says otherwise; its sums are worked out
// after change.
func bill(language string, change func(*sales.Invoice), lines ...sales.BillLine) sales.Invoice {
	inv := sales.Invoice{
		Number: sales.Number{Series: "KY", Year: 2027, No: 42}, Kind: sales.SaleBill, Order: sales.Number{Year: 2027, No: 7}, Title: "Heron kite",
		Issued: time.Date(2027, 3, 1, 9, 30, 0, 0, time.UTC), Supplied: time.Date(2027, 2, 26, 0, 0, 0, 0, time.UTC), Due: time.Date(2027, 3, 15, 0, 0, 0, 0, time.UTC), Language: language,
		Seller: sales.Party{Name: "Kestrel Yard Propworks", Address: []string{"Unit 4, Old Ropewalk", "Harrowmouth HM2 6QD"}, Country: "GB", TaxNumber: "GB 204 1189 03", Email: "bench@kestrelyard.example", Phone: "+44 1632 960 118"},
		Buyer:  sales.Party{Name: "Ilse Βερονίκη", Address: []string{"Weir Cottage", "3 Mill Lane", "Harrowmouth HM1 2AB"}, Country: "GB", Email: "ilse@whitefen.example"},
		Regime: tax.Regime{Registered: true, Mode: money.HalfUp}, Account: sales.Account{Name: "Kestrel Yard Propworks", IBAN: "GB82WEST12345698765432", BIC: "WESTGB2L"},
		Reference: "RF18539007547034", Lines: lines,
	}
	if change != nil {
		change(&inv)
	}
	var amounts []tax.Line
	c := money.Currency("EUR")
	for i := range inv.Lines {
		l := &inv.Lines[i]
		c = l.Each.Currency()
		l.Amount = l.Each.Times(int(l.Quantity.IntPart()))
		l.Net = l.Amount // what is printed is the amount; nets go to other programs
		amounts = append(amounts, tax.Line{Amount: l.Amount, Rate: l.Rate})
	}
	inv.Totals = inv.Regime.Totals(c, amounts)
	return inv
}

// sixty is a name of 60 letters.
const sixty = "Tower shield with the heron badge of the autumn muster, left"

// thirty is an invoice of 30 lines, each with a name of 60 letters, under three rates.
func thirty(language string) sales.Invoice {
	var lines []sales.BillLine
	for n := range 30 {
		lines = append(lines, supply(fmt.Sprintf("%.57s %02d", sixty, n+1), int64(n%3+1), fmt.Sprintf("%d.%02d", 90+n*37, n), []tax.Rate{vat20, vat5, vat0}[n%3]))
	}
	return bill(language, nil, lines...)
}

// bills are the kinds there are, in a language.
func bills(language string) map[string]sales.Invoice {
	deposit := sales.Earlier{Number: sales.Number{Series: "KY", Year: 2027, No: 40}, Kind: sales.DepositBill, Issued: time.Date(2027, 1, 11, 0, 0, 0, 0, time.UTC), Gross: money.Round(decimal.RequireFromString("229.52"), "EUR")}
	foreign := func(t tax.Treatment) (r tax.Rate) { _, r = tax.Regime{Registered: true}.For(t, vat20); return r }
	return map[string]sales.Invoice{
		"sale":    bill(language, nil, supply("Buckler “Ferry”, blue", 3, "39.90", vat20), supply("Care sheet, printed", 3, "2.50", vat0)),
		"deposit": bill(language, func(i *sales.Invoice) { i.Kind, i.Supplied = sales.DepositBill, time.Time{} }, supply("Deposit for order 7 of 2027, Heron kite", 1, "191.27", vat20)),
		"balance": bill(language, func(i *sales.Invoice) {
			i.Kind, i.Before, i.Terms = sales.BalanceBill, []sales.Earlier{deposit}, "Payable within 14 days without deduction."
		}, supply("Heron kite, curved, four coats of latex", 1, "478.18", vat20), supply("Less deposit invoice KY 40 of 2027", 1, "-191.27", vat20)),
		"credit": bill(language, func(i *sales.Invoice) {
			i.Kind, i.Credits, i.Reason = sales.CreditNote, deposit, "The rim came off within the time of the warranty."
		}, supply("Rim, taken back", 1, "40.00", vat20)),
		"reverse": bill(language, func(i *sales.Invoice) {
			i.Buyer = sales.Party{Name: "Jonas Lichtwerk", Address: []string{"Am Wehr 3", "12345 Moorstadt"}, Country: "DE", TaxNumber: "DE123456788"}
		}, supply("Tower shield", 2, "310", foreign(tax.ReverseCharge))),
		"gross": bill(language, func(i *sales.Invoice) {
			i.Regime.GrossPrices, i.Consumer, i.Paid, i.Rounding = true, true, money.Round(decimal.NewFromInt(50), "EUR"), money.Round(decimal.RequireFromString("-0.02"), "EUR")
		}, supply("Buckler", 2, "39.99", vat20), supply("Booklet", 1, "2.99", vat5)),
		"free":   bill(language, func(i *sales.Invoice) { i.Regime, i.Seller.TaxNumber, i.Account = tax.Regime{}, "", sales.Account{} }, supply("Buckler", 2, "39.99", vat20)),
		"thirty": thirty(language),
		"long": bill(language, func(i *sales.Invoice) {
			i.Seller.Name, i.Title = "The Long-Established Workshop of Kestrel Yard, Propworks and Pattern Cutters of Harrowmouth", strings.Repeat("Board of the autumn muster ", 5)
			i.Buyer.Name, i.Buyer.Address = "Wolfeschlegelsteinhausenbergerdorff-Żółć of the Upper Marsh and all who bear shields there", slices.Repeat([]string{"Lane of many lines"}, 12)
			i.Buyer.Email, i.Remarks = strings.Repeat("nobreak.", 20)+"@harrow.example", []string{strings.Repeat("A sentence that never wants to end ", 60), strings.Repeat("Undividable", 60)}
		}, supply(strings.Repeat("A description that goes on ", 120), 1, "999999999999.99", vat20), supply(strings.Repeat("Undividable", 40), 120000, "1234567.89", vat20)),
	}
}

func printedBill(t testing.TB, inv sales.Invoice) []byte {
	t.Helper()
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := r.Invoice(context.Background(), inv)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// TestBills: every kind in every language stands between the margins, on as many pages as it needs, and comes out the
// same twice, beside others.
func TestBills(t *testing.T) {
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	most := map[string]int{"thirty": 2, "long": 4}
	for _, language := range []string{"en", "de", "fr"} {
		for name, inv := range bills(language) {
			t.Run(language+" "+name, func(t *testing.T) {
				t.Parallel()
				doc := printedBill(t, inv)
				if again, err := r.Invoice(context.Background(), inv); err != nil || !bytes.Equal(again, doc) {
					t.Errorf("other bytes the second time (%v)", err)
				}
				if n := withinMargins(t, name, doc); n > max(1, most[name]) || name == "thirty" && n != 2 {
					t.Errorf("%d pages", n)
				}
				if !bytes.Contains(doc, []byte("/Lang ("+language+")")) {
					t.Error("the file does not say its language")
				}
			})
		}
	}
}

// A table that goes over pages: every page has its head, says what the page before came to, and carries what it
// comes to itself; the sums are never without a line above them.
func TestSubtotalsAreCarried(t *testing.T) {
	for n := 1; n <= 70; n += 3 {
		var lines []sales.BillLine
		for i := range n {
			lines = append(lines, supply(fmt.Sprintf("Rivet no %d", i), 1, fmt.Sprintf("%d.07", i+1), vat20))
		}
		list := pages(t, printedBill(t, bill("en", nil, lines...)))
		line, sum := regexp.MustCompile(`Rivet no \d+ +1 +\S+ +20\S* %? +(\S+)`), decimal.Zero
		figure := func(page, what string) string {
			if m := regexp.MustCompile(what + ` +([\d ]+\.\d\d)`).FindStringSubmatch(page); m != nil {
				return strings.ReplaceAll(m[1], " ", "")
			}
			return ""
		}
		seen := 0
		for i, page := range list {
			page = strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(page)
			found := line.FindAllStringSubmatch(page, -1)
			if i > 0 && len(found) > 0 && figure(page, "Brought over") != sum.StringFixed(2) {
				t.Errorf("%d lines, page %d brings %s, not %s", n, i+1, figure(page, "Brought over"), sum)
			}
			for _, m := range found {
				sum = sum.Add(decimal.RequireFromString(m[1]))
			}
			seen += len(found)
			if seen < n && figure(page, "Carried over") != sum.StringFixed(2) {
				t.Errorf("%d lines, page %d carries %s, not %s", n, i+1, figure(page, "Carried over"), sum)
			}
			if (len(found) > 0) != strings.Contains(page, "Description") {
				t.Errorf("%d lines, page %d: head and lines do not go together", n, i+1)
			}
			if strings.Contains(page, "Total ") && len(found) == 0 {
				t.Errorf("%d lines: the sums stand alone on page %d", n, i+1)
			}
		}
		if seen != n {
			t.Errorf("%d of %d lines are printed", seen, n)
		}
	}
}

// What stands in the documents, in each language.
func TestTextOfBills(t *testing.T) {
	for _, c := range []struct {
		language, name string
		says, not      []string
	}{
		{"en", "sale", []string{"Invoice KY 42 of 2027", "Date 1 March 2027", "Date of supply 26 February 2027", "Order 7 of 2027, Heron kite", "Payable by 15 March 2027", "VAT 20 % 119.70 23.94 143.64",
			"VAT 0 % 7.50 0.00 7.50", "Together 127.20 23.94 151.14", "Total 151.14 EUR", "IBAN GB82 WEST 1234 5698 7654 32", "BIC WESTGB2L", "Reference RF18 5390 0754 7034", "Scan to pay", "page 1 of 1"}, []string{"Tax invoice", "Remarks"}},
		{"de", "sale", []string{"Rechnung KY 42/2027", "Datum 1. März 2027", "Leistungsdatum 26. Februar 2027", "Zahlbar bis 15. März 2027", "MwSt. 20 % 119,70 23,94 143,64", "Gesamt 151,14 EUR", "Zahlungsreferenz RF18", "Seite 1 von 1"}, []string{"Tax", "VAT"}},
		{"fr", "sale", []string{"Facture KY 42/2027", "Date de livraison 26 février 2027", "Échéance 15 mars 2027", "TVA 20 % 119,70 23,94 143,64", "Total 151,14 EUR", "page 1 sur 1"}, []string{"Tax ", "VAT"}},
		{"de", "balance", []string{"Schlussrechnung", "Bereits berechnet Anzahlungsrechnung KY 40/2027 vom 11. Januar 2027: 229,52 EUR", "−191,27"}, nil},
		{"en", "credit", []string{"Credit note KY 42 of 2027", "For invoice KY 40 of 2027, issued on 11 January 2027", "Reason The rim came off", "Total credited 48.00 EUR", "set off"}, []string{"IBAN", "Scan", "Payable"}},
		{"fr", "deposit", []string{"Facture d’acompte KY 42/2027"}, []string{"Date de livraison"}},
		{"de", "reverse", []string{"Steuerschuldnerschaft des Leistungsempfängers", "Deutschland", "Vereinigtes Königreich", "DE123456788"}, nil},
		{"en", "gross", []string{"Each Tax Amount in EUR with tax with tax", "VAT 20 % 66.65 13.33 79.98", "Total 82.97 EUR", "Paid already −50.00", "Rounded −0.02", "To pay 32.95 EUR"}, nil},
		{"en", "free", []string{"No tax is charged: the workshop is not registered for it."}, []string{"VAT", "without tax", "IBAN", "Scan", "Tax"}},
	} {
		text := spaced(strings.Join(pages(t, printedBill(t, bills(c.language)[c.name])), " "))
		for _, want := range c.says {
			if !strings.Contains(text, spaced(want)) {
				t.Errorf("%s %s: nowhere %q in\n%s", c.language, c.name, want, text)
			}
		}
		for _, no := range c.not {
			if strings.Contains(text, no) {
				t.Errorf("%s %s says %q", c.language, c.name, no)
			}
		}
	}
}

// BenchmarkInvoice is an invoice of 30 lines with its payment code; p95 of what one takes is reported.
func BenchmarkInvoice(b *testing.B) {
	r, err := New()
	if err != nil {
		b.Fatal(err)
	}
	inv := thirty("de")
	b.ReportAllocs()
	var took []time.Duration
	for b.Loop() {
		began := time.Now()
		if _, err := r.Invoice(context.Background(), inv); err != nil {
			b.Fatal(err)
		}
		took = append(took, time.Since(began))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
}
