package tax_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// figures are the numbers of the example documents for EN 16931; testdata/money/README.md names their origin.
type figures struct {
	Docs []struct {
		Path, Currency string
		Holds          bool `json:"line_formula_holds"`
		Lines          []struct {
			Qty, Price, Net decimal.Decimal
			Base            decimal.Decimal `json:"base_qty"`
			Adj             [][2]string
			Cat             string
			Rate            decimal.Decimal
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

func TestDocumentsOfTheEuropeanStandard(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/money/en16931_figures.json")
	if err != nil {
		t.Fatal(err)
	}
	var f figures
	if err := json.Unmarshal(raw, &f); err != nil {
		t.Fatal(err)
	}
	lineCount, whole := 0, 0
	for _, d := range f.Docs {
		c, err := money.ParseCurrency(d.Currency)
		if err != nil {
			t.Fatal(err)
		}
		differ := func(what string, got money.Amount, want decimal.Decimal) {
			t.Helper()
			if !got.Decimal().Equal(want) {
				t.Errorf("%s: %s is %s, want %s", d.Path, what, got, want)
			}
		}
		exact := func(v decimal.Decimal) money.Amount {
			a, err := money.New(v, c)
			if err != nil {
				t.Errorf("%s: %v", d.Path, err)
			}
			return a
		}
		var lines []tax.Line
		for _, l := range d.Lines {
			lineCount++
			net := exact(l.Net)
			lines = append(lines, tax.Line{Amount: net, Rate: tax.Rate{Code: l.Cat, Percent: l.Rate}})
			if !d.Holds {
				continue
			}
			got := money.Round(l.Qty.Mul(l.Price).DivRound(l.Base, 12), c)
			for _, a := range l.Adj {
				got = got.Add(exact(dec(a[0] + a[1])))
			}
			differ("a line", got, net.Decimal())
		}
		if d.Holds {
			whole++
		}
		lineSum := nearest().Totals(c, lines).Net
		differ("the sum of lines", lineSum, d.Totals.LineExtensionAmount)
		adjusted := map[string]money.Amount{"+": money.Sum(c), "-": money.Sum(c)}
		for _, a := range d.Adj {
			amount := exact(a.Amount)
			adjusted[a.Sign] = adjusted[a.Sign].Add(amount)
			if a.Sign == "-" {
				amount = amount.Neg()
			}
			lines = append(lines, tax.Line{Amount: amount, Rate: tax.Rate{Code: a.Cat, Percent: a.Rate}})
		}
		differ("charges", adjusted["+"], d.Totals.ChargeTotalAmount)
		differ("allowances", adjusted["-"], d.Totals.AllowanceTotalAmount)

		got := nearest().Totals(c, lines)
		differ("net", got.Net, d.Totals.TaxExclusiveAmount)
		differ("tax", got.Tax, d.TaxTotal)
		differ("gross", got.Gross, d.Totals.TaxInclusiveAmount)
		differ("to pay", got.Gross.Sub(exact(d.Totals.PrepaidAmount)).Add(exact(d.Totals.PayableRoundingAmount)), d.Totals.PayableAmount)
		if len(got.Shares) != len(d.VAT) {
			t.Errorf("%s: %d rates, want %d", d.Path, len(got.Shares), len(d.VAT))
		}
		for _, want := range d.VAT {
			found := false
			for _, s := range got.Shares {
				if s.Rate.Code == want.Cat && s.Rate.Percent.Equal(want.Rate) {
					found = true
					differ("base at "+want.Rate.String()+" %", s.Net, want.Base)
					differ("tax at "+want.Rate.String()+" %", s.Tax, want.Tax)
				}
			}
			if !found {
				t.Errorf("%s: nothing under %s %s %%", d.Path, want.Cat, want.Rate)
			}
		}
	}
	if len(f.Docs) != 30 || lineCount != 130 || whole != 23 {
		t.Errorf("%d documents, %d lines, %d whole; want 30, 130, 23", len(f.Docs), lineCount, whole)
	}
}
