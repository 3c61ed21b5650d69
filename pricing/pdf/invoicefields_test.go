package pdf

import (
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

// in is an invoice whose lines are in a currency.
func in(c money.Currency, inv *sales.Invoice) {
	for i := range inv.Lines {
		inv.Lines[i].Each = money.Round(inv.Lines[i].Each.Decimal(), c)
	}
}

// fieldsAsked is what a law asks an invoice to say, by its own numbering, and how ours says it.
type fieldsAsked struct {
	law    string
	of     func(*sales.Invoice)
	lines  []sales.BillLine
	fields map[string]string
	not    []string
}

// The lists: UK, VAT Regulations 1995, reg 14 and 16A (revised text); EU, Directive 2006/112/EC, Art. 226 (1) to (7)
// and 226b (the rest of 226 from memory); Australia, the tax office's page on tax invoices; South Africa, VAT Act
// s 20(4) and (5) (a copy at SARS). Local law prevails.
func TestFieldsThatLawsAskFor(t *testing.T) {
	gst := tax.Rate{Code: "standard", Name: "GST", Percent: decimal.NewFromInt(10)}
	vat15 := tax.Rate{Code: "standard", Name: "VAT", Percent: decimal.NewFromInt(15)}
	_, reverse := tax.Regime{Registered: true}.For(tax.ReverseCharge, vat20)
	nobody := func(i *sales.Invoice) { i.Buyer, i.Regime.GrossPrices = sales.Party{}, true }
	lines := func(r tax.Rate) []sales.BillLine {
		return []sales.BillLine{supply("Buckler, blue", 3, "39.90", r), supply("Discount 10 %", 1, "-11.97", r)}
	}
	for _, c := range []fieldsAsked{
		{"United Kingdom, reg 14", func(i *sales.Invoice) { in("GBP", i) }, lines(vat20), map[string]string{
			"(a) sequential number": "Invoice KY 42 of 2027", "(b) time of supply": "Date of supply 26 February 2027", "(c) date of issue": "Date 1 March 2027",
			"(d) supplier": "Kestrel Yard Propworks", "(d) address": "Unit 4, Old Ropewalk", "(d) number": "Tax number GB 204 1189 03", "(e) customer": "Ilse Βερονίκη", "(e) address": "3 Mill Lane",
			"(g)(h)(m) description, quantity, unit price, rate, amount": "Buckler, blue 3 39.90 20 % 119.70", "(i) gross total without tax": "VAT 20 % 107.73 21.55 129.28",
			"(j) discount": "Discount 10 % 1 −11.97 20 % −11.97", "(l) tax in sterling": "Amount in GBP",
		}, []string{"Tax invoice"}},
		{"United Kingdom, reg 16A, nobody named", func(i *sales.Invoice) { in("GBP", i); nobody(i) }, lines(vat20), map[string]string{
			"supplier": "Kestrel Yard Propworks", "address": "Harrowmouth HM2 6QD", "number": "GB 204 1189 03", "time": "26 February 2027", "description": "Buckler, blue", "total": "Total 107.73 GBP", "per rate gross and rate": "VAT 20 % 89.77 17.96 107.73",
		}, []string{"For Ilse", "Tax invoice"}},
		{"European Union, Art. 226", func(i *sales.Invoice) { i.Seller.Country, i.Seller.TaxNumber = "DE", "DE 123456788" }, lines(vat20), map[string]string{
			"(1) date": "Date 1 March 2027", "(2) number": "KY 42 of 2027", "(3) seller's number": "DE 123456788", "(5) seller": "Kestrel Yard Propworks", "(5) seller's address": "Unit 4, Old Ropewalk Harrowmouth",
			"(5) customer": "Ilse Βερονίκη", "(5) customer's address": "Weir Cottage", "(6)(8) quantity, nature, unit price, rate": "Buckler, blue 3 39.90 20 %", "(7) date of supply": "26 February 2027", "(8)(9)(10) base, tax, rate": "VAT 20 % 107.73 21.55",
		}, []string{"Tax invoice"}},
		{"European Union, Art. 226 (4) and (11a)", func(i *sales.Invoice) {
			i.Seller.Country, i.Seller.TaxNumber, i.Buyer.Country, i.Buyer.TaxNumber = "DE", "DE 123456788", "FR", "FR40123456824"
		}, lines(reverse), map[string]string{"(4) customer's number": "Tax number FR40123456824", "(11a) mention": "Reverse charge", "(5) country": "France", "no tax": "107.73 0.00 107.73"}, nil},
		{"European Union, Art. 226b", nobody, lines(vat20), map[string]string{"date": "1 March 2027", "seller": "Kestrel Yard Propworks", "what": "Buckler, blue", "tax or what it is computed by": "VAT 20 % 89.77 17.96 107.73"}, nil},
		{"European Union, Art. 219, amending", func(i *sales.Invoice) {
			i.Kind, i.Credits = sales.CreditNote, sales.Earlier{Number: sales.Number{Series: "KY", Year: 2027, No: 41}, Issued: i.Issued}
		}, lines(vat20)[:1], map[string]string{"specific reference to the first": "For invoice KY 41 of 2027, issued on 1 March 2027"}, nil},
		{"Australia", func(i *sales.Invoice) {
			in("AUD", i)
			i.Seller.Country, i.Seller.TaxNumber, i.Regime.GrossPrices = "AU", "ABN 51 824 753 556", true
		}, lines(gst), map[string]string{
			"intended as a tax invoice": "Tax invoice KY 42 of 2027", "number advised": "KY 42 of 2027", "seller": "Kestrel Yard Propworks", "ABN": "ABN 51 824 753 556", "date of issue": "Date 1 March 2027", "buyer from $1,000": "Ilse Βερονίκη",
			"what, quantity, price": "Buckler, blue 3 39.90", "GST and how far each sale includes it": "GST 10 % 97.94 9.79 107.73", "price includes GST": "Amount in AUD with tax",
		}, nil},
		{"Australia, credit", func(i *sales.Invoice) { i.Seller.Country, i.Kind = "AU", sales.CreditNote }, lines(gst)[:1], map[string]string{"name": "Adjustment note KY 42 of 2027"}, nil},
		{"Australia, deposit", func(i *sales.Invoice) { i.Seller.Country, i.Kind = "AU", sales.DepositBill }, lines(gst)[:1], map[string]string{"name": "Tax invoice KY 42 of 2027 Deposit invoice"}, nil},
		{"Australia, not registered", func(i *sales.Invoice) { i.Seller.Country, i.Regime = "AU", tax.Regime{} }, lines(gst), map[string]string{"name": "Invoice KY 42 of 2027", "said": "No tax is charged"}, []string{"Tax invoice", "GST"}},
		{"South Africa, s 20(4)", func(i *sales.Invoice) {
			in("ZAR", i)
			i.Seller.Country, i.Seller.TaxNumber, i.Buyer.TaxNumber = "ZA", "4012345678", "4087654321"
		}, lines(vat15), map[string]string{
			"words": "Tax invoice", "serial number": "KY 42 of 2027", "date": "1 March 2027", "supplier": "Kestrel Yard Propworks", "address": "Unit 4, Old Ropewalk", "number": "Tax number 4012345678", "recipient": "Ilse Βερονίκη", "recipient's address": "Weir Cottage",
			"recipient's number, if a vendor": "Tax number 4087654321", "description, quantity": "Buckler, blue 3", "value, tax, consideration": "VAT 15 % 107.73 16.16 123.89", "total": "Total 123.89 ZAR",
		}, nil},
		{"South Africa, s 20(5), abridged", func(i *sales.Invoice) { in("ZAR", i); i.Seller.Country = "ZA"; nobody(i) }, lines(vat15), map[string]string{
			"words": "Tax invoice", "date": "1 March 2027", "supplier": "Kestrel Yard Propworks", "description": "Buckler, blue", "value, tax, consideration": "93.68 14.05 107.73",
		}, nil},
	} {
		t.Run(c.law, func(t *testing.T) {
			text := spaced(strings.Join(pages(t, printedBill(t, bill("en", c.of, c.lines...))), " "))
			// The columns beside each other are one line to the reader of the text: what stands alone is asked for alone.
			raw := spaced(strings.Join(strings.Split(poppler(t, printedBill(t, bill("en", c.of, c.lines...)), "pdftotext", "-raw", "-", "-"), "\f"), " "))
			for field, want := range c.fields {
				if !strings.Contains(text, spaced(want)) && !strings.Contains(raw, spaced(want)) {
					t.Errorf("%s: nowhere %q in\n%s", field, want, text)
				}
			}
			for _, no := range c.not {
				if strings.Contains(text, no) {
					t.Errorf("it says %q", no)
				}
			}
		})
	}
}

// TestPlacesOfCurrencies: amounts have the places that the currency has, no more and no fewer.
func TestPlacesOfCurrencies(t *testing.T) {
	for c, wants := range map[money.Currency][]string{"JPY": {"Buckler 3 6,505", "VAT 20 % 19,515 3,903 23,418", "Total 23,418 JPY"}, "KWD": {"Buckler 3 12.125", "VAT 20 % 36.375 7.275 43.650", "Total 43.650 KWD"}} {
		each := map[money.Currency]string{"JPY": "6505", "KWD": "12.125"}[c]
		inv := bill("en", nil, sales.BillLine{Text: "Buckler", Quantity: decimal.NewFromInt(3), Each: money.Round(decimal.RequireFromString(each), c), Rate: vat20})
		text := strings.ReplaceAll(spaced(strings.Join(pages(t, printedBill(t, inv)), " ")), "\u202f", " ")
		for _, want := range wants {
			if want = strings.ReplaceAll(want, ",", " "); !strings.Contains(text, want) {
				t.Errorf("nowhere %q in\n%s", want, text)
			}
		}
	}
}

// TestInvoiceOfAnything: what people typed cannot break the document.
func TestInvoiceOfAnything(t *testing.T) {
	for n, inv := range []sales.Invoice{
		{Lines: []sales.BillLine{{}}},
		bill("xx", func(i *sales.Invoice) {
			i.Seller, i.Buyer, i.Lines = sales.Party{}, sales.Party{Name: "\x00\xff\u202e\U0001f6e1"}, nil
		}),
		bill("fr", func(i *sales.Invoice) {
			i.Terms, i.Reason, i.Account.Name = strings.Repeat("100 % ", 900), "%d %s %!", strings.Repeat("x", 71)
			i.Remarks = []string{"%v"}
		}, supply("%s", 0, "1", tax.Rate{Name: "50 % of %s", Reason: "%d"})),
	} {
		text := strings.Join(pages(t, printedBill(t, inv)), " ")
		if strings.Contains(text, "MISSING") || strings.Contains(text, "BADPREC") {
			t.Errorf("%d: a text was taken for a format: %s", n, fmt.Sprintf("%.2000s", text))
		}
	}
}
