package einvoice_test

import (
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/einvoice"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func day(s string) time.Time {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return d
}

var (
	standard = tax.Rate{Code: "standard", Name: "VAT", Percent: dec("21")}
	reduced  = tax.Rate{Code: "reduced", Name: "VAT", Percent: dec("5.5")}
	zero     = tax.Rate{Code: "zero", Name: "VAT", Percent: decimal.Zero}
)

// under is the rate that a treatment makes of the standard one.
func under(t tax.Treatment) tax.Rate {
	_, r := net().For(t, standard)
	return r
}

func net() tax.Regime { return tax.Regime{Registered: true, Mode: money.HalfUp} }

// item is a line: pieces, price of each, rate.
func item(text, pieces, each string, r tax.Rate) sales.BillLine {
	return sales.BillLine{Text: text, Quantity: dec(pieces), Each: money.Round(dec(each), "EUR"), Rate: r}
}

// bill is an invoice of lines in a currency, its sums worked out by the regime.
func bill(kind sales.BillKind, g tax.Regime, c money.Currency, lines ...sales.BillLine) sales.Invoice {
	inv := sales.Invoice{
		Number: sales.Number{Series: "KY", Year: 2027, No: 42}, Kind: kind, Order: sales.Number{Year: 2027, No: 7}, Title: "Heron kite",
		Issued: day("2027-03-01"), Supplied: day("2027-02-26"), Due: day("2027-03-15"), Language: "en",
		Seller: sales.Party{Name: "Kestrel Yard Propworks", Address: []string{"Unit 4", "Old Ropewalk", "Harrowmouth HM2 6QD"}, Country: "BE", TaxNumber: "BE 0123.456.749", Email: "bench@kestrelyard.example", Phone: "+32 1632 960 118"},
		Buyer:  sales.Party{Name: "Ilse & Söhne <Props>", Address: []string{"Weir Cottage", "3 Mill Lane", "Back door", "Harrowmouth HM1 2AB"}, Country: "FR", TaxNumber: "FR 40 123456824"},
		Regime: g, Account: sales.Account{Name: "Kestrel Yard Propworks", IBAN: "BE72000000001616", BIC: "BPOTBEB1"}, Reference: "RF18539007547034", Terms: "Within 14 days.",
	}
	var amounts []tax.Line
	for i := range lines {
		l := &lines[i]
		l.Each = money.Round(l.Each.Decimal(), c)
		l.Amount = money.Round(l.Each.Decimal().Mul(l.Quantity), c)
		if l.Quantity.IsZero() {
			l.Amount = l.Each
		}
		l.Net = l.Amount
		amounts = append(amounts, tax.Line{Amount: l.Amount, Rate: l.Rate})
	}
	inv.Totals = g.Totals(c, amounts)
	if g.GrossPrices && g.Registered {
		for _, s := range inv.Totals.Shares {
			var at []int
			var weights []decimal.Decimal
			for i, l := range lines {
				if l.Rate.Code == s.Rate.Code {
					at, weights = append(at, i), append(weights, l.Amount.Decimal())
				}
			}
			for i, n := range money.Allocate(s.Net, weights) {
				lines[at[i]].Net = n
			}
		}
	}
	inv.Lines = lines
	return inv
}

// documents are the kinds there are, by name.
func documents() map[string]sales.Invoice {
	less := func(text, amount string, r tax.Rate) sales.BillLine { return item(text, "1", "-"+amount, r) }
	gross := net()
	gross.GrossPrices = true
	perLine := net()
	perLine.PerLine = true
	list := map[string]sales.Invoice{
		"deposit":         bill(sales.DepositBill, net(), "EUR", item("Deposit for a shield", "1", "191.27", standard)),
		"part":            bill(sales.PartBill, net(), "EUR", item("Four of twelve bucklers", "4", "48.33", standard)),
		"balance":         bill(sales.BalanceBill, net(), "EUR", item("Heron kite", "1", "478.18", standard), less("Less deposit", "191.27", standard)),
		"sale":            bill(sales.SaleBill, net(), "EUR", item("Buckler", "3", "39.90", standard)),
		"credit":          bill(sales.CreditNote, net(), "EUR", item("Buckler, sent back", "1", "39.90", standard)),
		"reverse charge":  bill(sales.SaleBill, net(), "EUR", item("Tower shield", "2", "310", under(tax.ReverseCharge))),
		"exempt":          bill(sales.SaleBill, net(), "EUR", item("Buckler", "1", "39.90", under(tax.Exempt))),
		"export":          bill(sales.SaleBill, net(), "EUR", item("Buckler", "1", "39.90", under(tax.Export))),
		"zero-rated":      bill(sales.SaleBill, net(), "EUR", item("Care sheet", "1", "2.50", zero)),
		"unregistered":    bill(sales.SaleBill, tax.Regime{}, "EUR", item("Buckler", "3", "39.90", standard)),
		"prices with tax": bill(sales.SaleBill, gross, "EUR", item("Buckler", "3", "39.99", standard), item("Care sheet", "1", "2.99", reduced), less("Discount", "9.99", standard)),
		"several rates":   bill(sales.SaleBill, net(), "EUR", item("Buckler", "1", "39.90", standard), item("Care sheet", "2", "0.99", reduced), item("Booklet", "1", "1.25", zero), item("Tax-free", "1", "3", under(tax.Exempt))),
		"discounts":       bill(sales.SaleBill, net(), "EUR", item("Buckler", "12", "39.90", standard), less("Discount 10 %", "47.88", standard), item("Rounding", "0", "0.08", standard)),
		"yen":             bill(sales.SaleBill, net(), "JPY", item("Buckler", "3", "6505", standard)),
		"per line":        bill(sales.SaleBill, perLine, "EUR", item("Rivet", "1", "0.33", standard), item("Rivet", "1", "0.33", standard), item("Rivet", "1", "0.33", standard)),
		"paid, rounded":   bill(sales.SaleBill, net(), "EUR", item("Buckler", "1", "39.92", standard)),
		"nothing to pay":  bill(sales.BalanceBill, net(), "EUR", item("Heron kite", "1", "191.27", standard), less("Less deposit", "200", standard)),
		"thousandths":     bill(sales.SaleBill, net(), "KWD", item("Buckler", "1", "12.500", zero)),
	}
	change := func(name string, f func(*sales.Invoice)) {
		inv := list[name]
		f(&inv)
		list[name] = inv
	}
	change("balance", func(i *sales.Invoice) {
		i.Before = []sales.Earlier{{Number: sales.Number{Series: "KY", Year: 2027, No: 40}, Kind: sales.DepositBill, Issued: day("2027-01-11"), Gross: money.Round(dec("231.44"), "EUR")}}
	})
	change("credit", func(i *sales.Invoice) {
		i.Credits, i.Reason, i.Terms, i.Due = sales.Earlier{Number: sales.Number{Series: "KY", Year: 2027, No: 41}, Issued: day("2027-02-01")}, "The rim came off.", "", time.Time{}
	})
	change("unregistered", func(i *sales.Invoice) { i.Remarks, i.Buyer.Country = []string{"No tax is charged."}, "BE" })
	change("prices with tax", func(i *sales.Invoice) { i.Consumer, i.Buyer.TaxNumber = true, "" })
	change("yen", func(i *sales.Invoice) {
		i.Seller.Country, i.Seller.TaxNumber, i.Account = "JP", "T1234567890123", sales.Account{}
	})
	change("paid, rounded", func(i *sales.Invoice) {
		i.Paid, i.Rounding = money.Round(dec("10"), "EUR"), money.Round(dec("-0.02"), "EUR")
	})
	return list
}

// named is the documents' names in order.
func named(list map[string]sales.Invoice) (names []string) {
	for name := range list {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func ubl(t testing.TB, inv sales.Invoice) string {
	t.Helper()
	doc, err := einvoice.UBL(inv)
	if err != nil {
		t.Fatal(err)
	}
	return string(doc)
}
