package einvoice

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
	"golang.org/x/text/language"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// isCountry tells whether a code is of ISO 3166-1 (BR-CL-14): neither UK nor EL nor a made-up one is. Codes that are
// only reserved for a place, such as XK, pass.
func isCountry(code string) bool {
	r, err := language.ParseRegion(code)
	return err == nil && r.IsCountry() && r.Canonicalize().String() == code
}

// check notes what the standard asks for and the invoice lacks, with the rule and where to write it.
func (d *document) check() error {
	var l fault.List
	need := func(field, value, remedy string) {
		if strings.TrimSpace(value) == "" {
			l.Add(field, "", remedy)
		}
	}
	if d.Number.No == 0 || d.Issued.IsZero() {
		l.Add("number", d.Number.String(), "Only an issued invoice goes to other programs: issue it first (BR-02, BR-03).")
	}
	need("seller.name", d.Seller.Name, "Write the workshop's name in the settings (BR-06).")
	need("buyer.name", d.Buyer.Name, "Write the customer's name on the customer's page (BR-07).")
	for _, c := range []struct{ field, country, remedy string }{
		{"seller.country", d.Seller.Country, "Write the workshop's country in the settings, two letters such as DE (BR-09)."},
		{"buyer.country", d.Buyer.Country, "Write the customer's country on the customer's page, two letters such as DE (BR-11)."},
	} {
		if !isCountry(c.country) {
			l.Add(c.field, c.country, c.remedy)
		}
	}
	d.checkNumbers(&l)
	if d.Payable().Sign() > 0 && d.Due.IsZero() && d.terms() == "" {
		l.Add("due", "", "Say by when it is to be paid: a day, or terms of payment in the settings (BR-CO-25).")
	}
	if len(d.Lines) == 0 {
		l.Add("lines", "", "An invoice has at least one line (BR-16).")
	}
	for i, line := range d.Lines {
		need(fmt.Sprintf("lines.%d.text", i), line.Text, "Say what the line is for (BR-25).")
		d.checkRate(&l, i)
	}
	d.checkPlaces(&l)
	return l.Err()
}

// checkNumbers looks for the tax numbers that the categories of the lines need.
func (d *document) checkNumbers(l *fault.List) {
	number, isVAT := vat(d.Seller)
	switch {
	case number == "":
		l.Add("seller.tax_number", "", "Write the tax number of the workshop in the settings, or the number it is registered under (BR-CO-26): other programs know a seller by a number.")
	case d.has("G") && !isVAT:
		l.Add("seller.tax_number", d.Seller.TaxNumber, "For an export, write the workshop's VAT number with the letters of its country in front, in the settings (BR-G-02).")
	}
	if number, _ := vat(d.Buyer); d.has("AE") && number == "" {
		l.Add("buyer.tax_number", "", "Where the customer owes the tax, write its tax number on the customer's page (BR-AE-02).")
	}
}

func (d *document) has(code string) bool {
	return slices.ContainsFunc(d.Lines, func(line sales.BillLine) bool { return kindOf(line.Rate, d.free()).code == code })
}

func (d *document) checkRate(l *fault.List, i int) {
	r := d.Lines[i].Rate
	k := kindOf(r, d.free())
	field := fmt.Sprintf("lines.%d.rate", i)
	switch charged := r.Percent.IsPositive(); {
	case !slices.Contains([]string{"S", "Z", "E", "AE", "G", "O"}, k.code):
		l.Add(field, k.code, "Other programs are told S, Z, E, AE, G or O as the category of a rate. Choose one of these in the tax rates.")
	case k.code == "S" && !charged:
		l.Add(field, r.Percent.String(), "The standard category S needs a percentage above 0; a rate of nothing is Z, E, AE, G or O (BR-S-05).")
	case k.code != "S" && charged && !d.free():
		l.Add(field, r.Percent.String(), "A rate of category "+k.code+" has 0 %. Use S, or take the percentage away.")
	case k.code == "O" && kindOf(d.Lines[0].Rate, d.free()).code != "O", k.code != "O" && d.has("O"):
		l.Add(field, k.code, "What is outside the scope of tax (O) needs an invoice of its own (BR-O-11).")
	}
}

// checkPlaces refuses what has more places than the standard can say.
func (d *document) checkPlaces(l *fault.List) {
	if d.currency() == "" {
		l.Add("currency", "", "The invoice has no currency (BR-05).")
		return
	}
	amounts := []money.Amount{d.Totals.Net, d.Totals.Tax, d.Totals.Gross, d.Paid, d.Rounding}
	for _, line := range d.Lines {
		amounts = append(amounts, line.Net)
	}
	for _, s := range d.Totals.Shares {
		amounts = append(amounts, s.Net, s.Tax)
	}
	for _, a := range amounts {
		if v := a.Decimal(); !v.Equal(v.Round(places)) {
			l.Add("currency", a.String()+" "+string(d.currency()), fmt.Sprintf("A European e-invoice has at most %d places after the point (BR-DEC), and this amount has more. Send the PDF instead.", places))
			return
		}
	}
}

// checkTax refuses what rounding has carried too far from the tax on the sum: line by line or down, in whole yen and
// their like, or over very many lines.
func (d *document) checkTax() error {
	var l fault.List
	for _, g := range d.groups {
		percent, err := decimal.NewFromString(cmp.Or(g.percent, "0"))
		if err != nil {
			return err
		}
		onSum := g.net.Decimal().Abs().Mul(percent).Shift(-2).Round(places)
		if off := g.tax.Decimal().Abs().Sub(onSum).Abs(); off.GreaterThanOrEqual(decimal.NewFromInt(1)) {
			l.Add("tax", g.tax.String()+" "+string(d.currency()), fmt.Sprintf("As tax is rounded here, that at %s %% is %s away from the tax on the net sum, and other programs take less than 1 (BR-CO-17). Send the PDF instead.", percent, off))
		}
	}
	return l.Err()
}
