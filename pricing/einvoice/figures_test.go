package einvoice_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

// figures are the numbers of the example documents for EN 16931; testdata/money/README.md names their origin.
type figures struct {
	Docs []struct {
		Path, Kind, Currency string
		Lines                []struct {
			Qty, Net, Rate decimal.Decimal
			Cat            string
		}
		Adj []struct {
			Sign, Cat    string
			Amount, Rate decimal.Decimal
		} `json:"doc_adj"`
		VAT []struct {
			Base, Tax, Rate decimal.Decimal
			Cat             string
		}
		TaxTotal decimal.Decimal `json:"tax_total"`
		Totals   struct {
			LineExtensionAmount, AllowanceTotalAmount, ChargeTotalAmount, TaxExclusiveAmount, TaxInclusiveAmount,
			PrepaidAmount, PayableRoundingAmount, PayableAmount decimal.Decimal
		}
	}
}

// Every figure of the 30 documents comes out of the XML, and the XML keeps every rule. What those have as allowances
// and charges of the document we have as lines, below zero or above: the sum of our lines is theirs after them.
func TestFiguresOfTheStandardGoThroughTheXML(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/money/en16931_figures.json")
	if err != nil {
		t.Fatal(err)
	}
	var f figures
	if err := json.Unmarshal(raw, &f); err != nil {
		t.Fatal(err)
	}
	for _, d := range f.Docs {
		c, err := money.ParseCurrency(d.Currency)
		if err != nil {
			t.Fatal(err)
		}
		inv := documents()["sale"]
		inv.Paid, inv.Rounding, inv.Lines, inv.Regime = money.Round(d.Totals.PrepaidAmount, c), money.Round(d.Totals.PayableRoundingAmount, c), nil, net()
		if d.Kind == "CreditNote" {
			inv.Kind = sales.CreditNote
		}
		var lines []tax.Line
		add := func(text string, pieces, amount, percent decimal.Decimal, category string) {
			l := sales.BillLine{Text: text, Quantity: pieces, Net: money.Round(amount, c), Rate: tax.Rate{Code: category, Percent: percent, Category: category}}
			if !pieces.IsZero() {
				l.Each = money.Round(amount.Div(pieces), c)
			}
			l.Amount = l.Net
			inv.Lines, lines = append(inv.Lines, l), append(lines, tax.Line{Amount: l.Net, Rate: l.Rate})
			if category == "O" {
				inv.Regime = tax.Regime{}
			}
		}
		for _, l := range d.Lines {
			add("Line", l.Qty, l.Net, l.Rate, l.Cat)
		}
		for _, a := range d.Adj {
			if a.Sign == "-" {
				a.Amount = a.Amount.Neg()
			}
			add("Allowance or charge", decimal.Zero, a.Amount, a.Rate, a.Cat)
		}
		inv.Totals = inv.Regime.Totals(c, lines)
		doc := parse(t, ubl(t, inv))
		for _, r := range rules() {
			if !r.holds(doc) {
				t.Errorf("%s breaks %s", d.Path, r.id)
			}
		}
		figure := func(at *element, path string, want decimal.Decimal) {
			t.Helper()
			if !at.num(path).Equal(want) {
				t.Errorf("%s: %s is %s, want %s", d.Path, path, at.say(path), want)
			}
		}
		figure(doc, totalAt+"/LineExtensionAmount", d.Totals.LineExtensionAmount.Sub(d.Totals.AllowanceTotalAmount).Add(d.Totals.ChargeTotalAmount))
		figure(doc, totalAt+"/TaxExclusiveAmount", d.Totals.TaxExclusiveAmount)
		figure(doc, totalAt+"/TaxInclusiveAmount", d.Totals.TaxInclusiveAmount)
		figure(doc, totalAt+"/PrepaidAmount", d.Totals.PrepaidAmount)
		figure(doc, totalAt+"/PayableRoundingAmount", d.Totals.PayableRoundingAmount)
		figure(doc, totalAt+"/PayableAmount", d.Totals.PayableAmount)
		figure(doc, "TaxTotal/TaxAmount", d.TaxTotal)
		got := doc.lines()
		if len(got) != len(d.Lines)+len(d.Adj) || len(doc.all(groupsAt)) != len(d.VAT) {
			t.Fatalf("%s: %d lines, %d shares", d.Path, len(got), len(doc.all(groupsAt)))
		}
		for n, l := range d.Lines {
			figure(got[n], "LineExtensionAmount", l.Net)
			figure(got[n], "Item/ClassifiedTaxCategory/Percent", l.Rate)
			if said := got[n].say("Item/ClassifiedTaxCategory/ID"); said != l.Cat {
				t.Errorf("%s, line %d: category %s, want %s", d.Path, n+1, said, l.Cat)
			}
		}
		for _, want := range d.VAT {
			found := false
			for _, g := range doc.all(groupsAt) {
				if g.say("TaxCategory/ID") == want.Cat && g.num("TaxCategory/Percent").Equal(want.Rate) {
					found = true
					figure(g, "TaxableAmount", want.Base)
					figure(g, "TaxAmount", want.Tax)
				}
			}
			if !found {
				t.Errorf("%s: no share of %s %s", d.Path, want.Cat, want.Rate)
			}
		}
	}
	if len(f.Docs) != 30 {
		t.Errorf("%d documents", len(f.Docs))
	}
}
