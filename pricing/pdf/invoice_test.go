package pdf

import (
	"context"
	"fmt"
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

