package sales_test

import (
	"encoding/xml"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/db/dbtest"
	"foamwright/pricing/einvoice"
	"foamwright/pricing/money"
	"foamwright/pricing/pdf"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// Twelve prices worked out by hand: what is charged, and net, tax and gross of the whole, of the deposit and of the
// balance. The sums of an option, a discount (5 % of 325.50), a rush (25 %) and a payment fee ((100 + 0.30) / (1 − 0.029
// × 1.2), of which 3.92 is the fee) stand as lines; each invoice says the same in the books, on paper and in the XML.
func TestTwelvePricesByHand(t *testing.T) {
	rate := func(percent string) tax.Rate { return tax.Rate{Code: "standard", Name: "VAT", Percent: dec(percent)} }
	net := tax.Regime{Registered: true, Mode: money.HalfUp}
	perLine, inside, netFirst := net, net, net
	perLine.PerLine, inside.GrossPrices, netFirst.GrossPrices, netFirst.NetFirst = true, true, true, true
	reversed, nothing := net.For(tax.ReverseCharge, rate("20"))
	type sums [3]string // net, tax, gross
	d := dbtest.New(t)
	s := openTill(t, d)
	printer, err := pdf.New()
	if err != nil {
		t.Fatal(err)
	}
	s.Service = sales.NewService(d.Sales(), printer, func() time.Time { return thursday })
	s.WriteXMLWith(einvoice.UBL)
	for _, c := range []struct {
		name                    string
		regime                  tax.Regime
		rate                    tax.Rate
		currency                money.Currency
		lines                   []string
		whole, deposit, balance sums
	}{
		{"as it is", net, rate("20"), "EUR", []string{"478.18"}, sums{"478.18", "95.64", "573.82"}, sums{"143.46", "28.69", "172.15"}, sums{"334.72", "66.95", "401.67"}},
		{"option and discount", net, rate("19"), "EUR", []string{"300.00", "25.50", "-16.28"}, sums{"309.22", "58.75", "367.97"}, sums{"84.03", "15.97", "100.00"}, sums{"225.19", "42.78", "267.97"}},
		{"rush", net, rate("7"), "GBP", []string{"200.00", "50.00"}, sums{"250.00", "17.50", "267.50"}, sums{"125.00", "8.75", "133.75"}, sums{"125.00", "8.75", "133.75"}},
		{"payment fee", net, rate("20"), "EUR", []string{"100.00", "3.92"}, sums{"103.92", "20.78", "124.70"}, sums{"51.96", "10.39", "62.35"}, sums{"51.96", "10.39", "62.35"}},
		{"odd cents", net, rate("10"), "AUD", []string{"0.33", "0.33", "0.33"}, sums{"0.99", "0.10", "1.09"}, sums{"0.50", "0.05", "0.55"}, sums{"0.49", "0.05", "0.54"}},
		{"odd cents, tax on each line", perLine, rate("10"), "AUD", []string{"0.33", "0.33", "0.33"}, sums{"0.99", "0.09", "1.08"}, sums{"0.49", "0.05", "0.54"}, sums{"0.50", "0.04", "0.54"}},
		{"tax inside", inside, rate("20"), "EUR", []string{"9.99"}, sums{"8.32", "1.67", "9.99"}, sums{"4.17", "0.83", "5.00"}, sums{"4.15", "0.84", "4.99"}},
		{"tax inside, net rounded", netFirst, rate("20"), "EUR", []string{"9.99"}, sums{"8.33", "1.66", "9.99"}, sums{"4.17", "0.83", "5.00"}, sums{"4.16", "0.83", "4.99"}},
		{"no small coins", net, rate("10"), "JPY", []string{"19515"}, sums{"19515", "1952", "21467"}, sums{"9091", "909", "10000"}, sums{"10424", "1043", "11467"}},
		{"thousandths", net, rate("5"), "KWD", []string{"36.375"}, sums{"36.375", "1.819", "38.194"}, sums{"9.524", "0.476", "10.000"}, sums{"26.851", "1.343", "28.194"}},
		{"reverse charge", reversed, nothing, "EUR", []string{"620.00"}, sums{"620.00", "0.00", "620.00"}, sums{"310.00", "0.00", "310.00"}, sums{"310.00", "0.00", "310.00"}},
		{"not registered", tax.Regime{}, tax.Rate{}, "USD", []string{"79.98"}, sums{"79.98", "0.00", "79.98"}, sums{"20.00", "0.00", "20.00"}, sums{"59.98", "0.00", "59.98"}},
	} {
		o := sales.Order{Terms: sales.Terms{Regime: c.regime, Rate: c.rate}, Deposit: money.Round(dec(c.deposit[2]), c.currency)}
		for _, amount := range c.lines {
			o.Lines = append(o.Lines, sales.OrderLine{Kind: sales.QuoteLine, Text: "Heater", Quantity: 1, Amount: money.Round(dec(amount), c.currency)})
		}
		buyer := sales.Customer{Business: true, Country: "FR", TaxNumber: "FR40123456824", Address: "1 Ferry House\nHarrowmouth"}
		whole, parts := s.order(o, buyer), s.order(o, buyer)
		for _, b := range []struct {
			what, order string
			kind        sales.BillKind
			want        sums
		}{{"whole", whole.ID, sales.SaleBill, c.whole}, {"deposit", parts.ID, sales.DepositBill, c.deposit}, {"balance", parts.ID, sales.BalanceBill, c.balance}} {
			inv, err := s.Bill(s.ctx, b.order, sales.Billing{Kind: b.kind, Token: token()}, "Wren")
			if err != nil {
				t.Fatal(err)
			}
			if got := (sums{inv.Totals.Net.String(), inv.Totals.Tax.String(), inv.Totals.Gross.String()}); got != b.want {
				t.Errorf("%s, %s: the books say %v, by hand it is %v", c.name, b.what, got, b.want)
			}
			paper, twin := s.documents(t, inv)
			row := "Total " + words.Price(inv.Totals.Gross)
			if c.regime.Registered {
				row = " % " + strings.Join(printed(c.currency, b.want[:]), " ")
			}
			if !strings.Contains(plain(paper), plain(row)) {
				t.Errorf("%s, %s: the paper does not say %q\n%s", c.name, b.what, row, paper)
			}
			if c.name == "thousandths" {
				if twin != (sums{}) || !strings.Contains(inv.NoXML, "at most 2 places") {
					t.Errorf("%s, %s: XML %v, %q", c.name, b.what, twin, inv.NoXML)
				}
				continue
			}
			for i := range twin {
				if !decimal.RequireFromString(twin[i]).Equal(dec(b.want[i])) {
					t.Errorf("%s, %s: the XML says %v, by hand it is %v", c.name, b.what, twin, b.want)
				}
			}
		}
	}
}

// printed are figures as English documents print them.
func printed(c money.Currency, figures []string) (list []string) {
	for _, f := range figures {
		list = append(list, words.Money(money.Round(dec(f), c)))
	}
	return list
}

// plain is a text with one blank between its words, whichever kind it was.
func plain(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u202f", " ")), " ")
}

// documents are an invoice's paper as text, and the sums that its XML names.
func (s *till) documents(t *testing.T, i sales.Invoice) (paper string, sums [3]string) {
	t.Helper()
	s.must(s.store.Act(s.ctx, func(tx sales.Tx) error {
		doc, err := tx.Document(s.ctx, i.Document)
		if err != nil {
			return err
		}
		read := exec.CommandContext(t.Context(), "pdftotext", "-layout", "-", "-")
		read.Stdin = strings.NewReader(string(doc.Bytes))
		out, err := read.Output()
		if err != nil {
			t.Fatalf("pdftotext: %v: install the package poppler-utils.", err)
		}
		if paper = string(out); i.XML == "" {
			return nil
		}
		if doc, err = tx.Document(s.ctx, i.XML); err != nil {
			return err
		}
		var got struct {
			Tax   string `xml:"TaxTotal>TaxAmount"`
			Net   string `xml:"LegalMonetaryTotal>TaxExclusiveAmount"`
			Gross string `xml:"LegalMonetaryTotal>TaxInclusiveAmount"`
		}
		err = xml.Unmarshal(doc.Bytes, &got)
		sums = [3]string{got.Net, got.Tax, got.Gross}
		return err
	}))
	return paper, sums
}
