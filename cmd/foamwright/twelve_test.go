package main

import (
	"context"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os/exec"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/api"
	"foamwright/cmd/foamwright/demo"
	"foamwright/db/dbtest"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// handPrice is a price worked out by hand: what it is made from, and net, tax and gross of the order, its deposit
// invoice and its final invoice. Steps are beside each; the worked job of number 1 is the handbook's, the rest is ours.
type handPrice struct {
	name     string
	currency money.Currency
	material string
	hours    string // at 30.00, of currencies with other coins at rate
	rate     string
	set      func(*pricing.Rates, *pricing.Costs)
	regime   tax.Regime
	percent  string
	options  []string
	order    [3]string // net, tax, gross
	deposit  [3]string
	balance  [3]string
}

func twelve() []handPrice {
	net, with := tax.Regime{Registered: true, Mode: money.HalfUp}, tax.Regime{Registered: true, GrossPrices: true, Mode: money.HalfUp}
	netFirst, down, perLine := with, net, net
	netFirst.NetFirst, down.Mode, perLine.PerLine = true, money.Down, true
	// share sets the deposit.
	share := func(of string, also ...func(*pricing.Rates, *pricing.Costs)) func(*pricing.Rates, *pricing.Costs) {
		return func(r *pricing.Rates, c *pricing.Costs) {
			r.Deposit, r.DepositHeavy = dec(of), dec(of)
			for _, set := range also {
				set(r, c)
			}
		}
	}
	handled := func(r *pricing.Rates, _ *pricing.Costs) { r.Handling, r.Contingency = dec("0.10"), dec("0.08") }
	return []handPrice{
		// 64.27 + 10 % 6.427 → 6.43 + 9.45 × 30 = 283.50 → 354.20; + 8 % 28.336 → 28.34 = 382.54; ÷ 0.8 = 478.175 → 478.18; tax 95.636 → 95.64.
		// Deposit 40 % of 573.82 = 229.528 → 229.53, in it 229.53 × 20/120 = 38.255 → 38.26. Balance: what is left of each.
		{"the worked job", "EUR", "64.27", "9.45", "30.00", share("0.40", handled), net, "20", nil,
			[3]string{"478.18", "95.64", "573.82"}, [3]string{"191.27", "38.26", "229.53"}, [3]string{"286.91", "57.38", "344.29"}},
		// 478.18 + 25.00 − 5.55 = 497.63; × 20 % = 99.526 → 99.53; 597.16. Deposit 238.864 → 238.86, × 1/6 = 39.81.
		{"options, one of which saves", "EUR", "64.27", "9.45", "30.00", share("0.40", handled), net, "20", []string{"25.00", "-5.55"},
			[3]string{"497.63", "99.53", "597.16"}, [3]string{"199.05", "39.81", "238.86"}, [3]string{"298.58", "59.72", "358.30"}},
		// 90 + 300 = 390; ÷ (3 × 0.8) = 162.50 each; rush 25 %: 203.125 → 203.13; × 3 = 609.39; tax 121.878 → 121.88; 731.27.
		// Deposit 292.508 → 292.51, × 1/6 = 48.7517 → 48.75.
		{"three in a rush", "EUR", "90.00", "10.00", "30.00", share("0.40", func(_ *pricing.Rates, c *pricing.Costs) { c.Quantity, c.Rush = 3, dec("0.25") }), net, "20", nil,
			[3]string{"609.39", "121.88", "731.27"}, [3]string{"243.76", "48.75", "292.51"}, [3]string{"365.63", "73.13", "438.76"}},
		// 200 ÷ 0.8 = 250; − 7.5 % 18.75 = 231.25; × 21 % = 48.5625 → 48.56; 279.81. Deposit 111.924 → 111.92, × 21/121 = 19.4241 → 19.42.
		{"a discount", "EUR", "200.00", "0", "30.00", share("0.40", func(_ *pricing.Rates, c *pricing.Costs) { c.Discount = dec("0.075") }), net, "21", nil,
			[3]string{"231.25", "48.56", "279.81"}, [3]string{"92.50", "19.42", "111.92"}, [3]string{"138.75", "29.14", "167.89"}},
		// 240 ÷ 0.8 = 300; fee 1.5 % and 0.25: 300.25 ÷ (1 − 0.015 × 1.19) = 300.25 ÷ 0.98215 = 305.7069 → 305.71; × 19 % = 58.0849 → 58.08; 363.79.
		// The fee of 363.79 is 5.70685, and 363.79 − 58.08 − 5.71 = 300.00. Deposit 145.516 → 145.52, × 19/119 = 23.2343 → 23.23.
		{"a fee of all that is paid", "EUR", "240.00", "0", "30.00", share("0.40", func(r *pricing.Rates, _ *pricing.Costs) { r.FeeRate, r.FeeFixed = dec("0.015"), dec("0.25") }), net, "19", nil,
			[3]string{"305.71", "58.08", "363.79"}, [3]string{"122.29", "23.23", "145.52"}, [3]string{"183.42", "34.85", "218.27"}},
		// 478.18 + 95.64 = 573.82, up to 574; in it 574 ÷ 6 = 95.6667 → 95.67. Deposit 229.60, ÷ 6 = 38.2667 → 38.27.
		{"tax inside, whole euros", "EUR", "64.27", "9.45", "30.00", share("0.40", handled, func(r *pricing.Rates, _ *pricing.Costs) { r.Step = dec("1") }), with, "20", nil,
			[3]string{"478.33", "95.67", "574.00"}, [3]string{"191.33", "38.27", "229.60"}, [3]string{"287.00", "57.40", "344.40"}},
		// 200 ÷ 0.8 = 250, + 37.50 = 287.50, up to a five: 290; + 9.99 = 299.99; net first: ÷ 1.15 = 260.8609 → 260.86.
		// Deposit 30 %: 89.997 → 90.00, ÷ 1.15 = 78.2609 → 78.26.
		{"tax inside, the net rounded, an odd option", "EUR", "200.00", "0", "30.00", share("0.30", func(r *pricing.Rates, _ *pricing.Costs) { r.Step = dec("5") }), netFirst, "15", []string{"9.99"},
			[3]string{"260.86", "39.13", "299.99"}, [3]string{"78.26", "11.74", "90.00"}, [3]string{"182.60", "27.39", "209.99"}},
		// 8.01 ÷ 0.8 = 10.0125 → 10.01; × 5.5 % = 0.55055 → 0.55; 10.56. Deposit a third: 3.51648 → 3.52, × 5.5/105.5 = 0.1835 → 0.18.
		{"odd cents", "EUR", "8.01", "0", "30.00", share("0.333"), net, "5.5", nil,
			[3]string{"10.01", "0.55", "10.56"}, [3]string{"3.34", "0.18", "3.52"}, [3]string{"6.67", "0.37", "7.04"}},
		// 6400 + 9.5 × 3000 = 34900; ÷ 0.8 = 43625; × 10 % = 4362.5 → 4363; 47988. Deposit 19195.2 → 19195, ÷ 11 = 1745.
		{"no cents at all", "JPY", "6400", "9.50", "3000", share("0.40"), net, "10", nil,
			[3]string{"43625", "4363", "47988"}, [3]string{"17450", "1745", "19195"}, [3]string{"26175", "2618", "28793"}},
		// 43625 + 333 = 43958; × 10 % = 4395.8, down: 4395; 48353. Deposit half: 24176.5 → 24177, ÷ 11 = 2197.9, down: 2197.
		{"no cents, tax rounded down", "JPY", "6400", "9.50", "3000", share("0.50"), down, "10", []string{"333"},
			[3]string{"43958", "4395", "48353"}, [3]string{"21980", "2197", "24177"}, [3]string{"21978", "2198", "24176"}},
		// 12.345 + 4.25 × 9 = 50.595; ÷ 0.8 = 63.24375 → 63.244; × 5 % = 3.1622 → 3.162; 66.406. Deposit 26.5624 → 26.562, × 5/105 = 1.26486 → 1.265.
		{"thousandths", "KWD", "12.345", "4.25", "9.000", share("0.40"), net, "5", nil,
			[3]string{"63.244", "3.162", "66.406"}, [3]string{"25.297", "1.265", "26.562"}, [3]string{"37.947", "1.897", "39.844"}},
		// 0.83 ÷ 0.8 = 1.0375 → 1.04, and two options of 1.04: 3.12; tax a line 0.208 → 0.21, three times 0.63; 3.75. Deposit 1.50, ÷ 6 = 0.25.
		{"tax rounded on every line", "EUR", "0.83", "0", "30.00", share("0.40"), perLine, "20", []string{"1.04", "1.04"},
			[3]string{"3.12", "0.63", "3.75"}, [3]string{"1.25", "0.25", "1.50"}, [3]string{"1.87", "0.38", "2.25"}},
	}
}

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// Twelve prices by hand are the program's to the cent: in the build-up, as JSON, on the page, in the document's text and in
// the XML.
func TestTwelvePricesByHand(t *testing.T) {
	v := visiting(t)
	for i, c := range twelve() {
		t.Run(c.name, func(t *testing.T) {
			o := c.accepted(t, i+1)
			if got := [3]string{o.Totals().Net.String(), o.Totals().Tax.String(), o.Totals().Gross.String()}; got != c.order {
				t.Fatalf("the order is %v, by hand %v", got, c.order)
			}
			v.t = t
			v.keep(o)
			v.sees(o, sales.DepositBill, c.deposit)
			v.sees(o, sales.BalanceBill, c.balance)
			var m api.OrderMoney
			v.json("/orders/"+o.ID+"/money", &m)
			if got := [3]string{m.Invoiced.Net, m.Invoiced.Tax, m.Invoiced.Gross}; got != c.order || m.Rest.Gross != money.Sum(c.currency).String() {
				t.Errorf("deposit and balance are %v, the order %v", got, c.order)
			}
		})
	}
}

// accepted is an order of the price, made by the build-up.
func (c handPrice) accepted(t *testing.T, no int) sales.Order {
	t.Helper()
	r := pricing.Rates{Currency: c.currency, Hour: dec(c.rate), Margin: dec("0.20")}
	costs := pricing.Costs{Material: money.Round(dec(c.material), c.currency), Hours: dec(c.hours), Quantity: 1}
	c.set(&r, &costs)
	rate := tax.Rate{Code: "standard", Name: "Tax", Percent: dec(c.percent)}
	b := pricing.Build(costs, r, c.regime, rate)
	base := b.Net
	if c.regime.GrossPrices {
		base = b.Gross
	}
	o := sales.Order{
		ID: uuid.NewString(), QuoteID: uuid.NewString(), Number: sales.Number{Year: 2026, No: no}, Title: "Price by hand", State: sales.Accepted, Accepted: thursday(),
		DepositDue: thursday().AddDate(0, 0, 7), Starts: thursday().AddDate(0, 0, 8), Terms: sales.Terms{Regime: c.regime, Rate: rate}, Deposit: money.Sum(c.currency),
		Lines: []sales.OrderLine{{Kind: sales.QuoteLine, Text: "Price by hand", Quantity: costs.Quantity, Amount: base}},
	}
	for k, a := range c.options {
		o.Lines = append(o.Lines, sales.OrderLine{Kind: sales.OptionLine, Key: fmt.Sprint(k), Text: "An option", Quantity: 1, Amount: money.Round(dec(a), c.currency)})
	}
	o.Deposit = money.Round(o.Totals().Gross.Decimal().Mul(b.DepositShare), c.currency)
	if len(c.options) == 0 && (b.Deposit.String() != c.deposit[2] || b.Balance.String() != c.balance[2] || b.Gross.String() != c.order[2]) {
		t.Errorf("the build-up says %s, deposit %s, balance %s", b.Gross, b.Deposit, b.Balance)
	}
	return o
}

// visitor is the owner at the running program.
type visitor struct {
	t       *testing.T
	shop    *shop
	http    *http.Client
	address string
}

func visiting(t *testing.T) *visitor {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	p := &program{in: strings.NewReader(""), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, now: time.Now, log: slog.New(slog.DiscardHandler)}
	s := settings{databaseURL: dbtest.URL(t), address: "127.0.0.1:0"}
	shop, err := p.open(ctx, s, theDemo())
	fatal(t, err)
	owner, err := demo.Owner(ctx, shop.people)
	fatal(t, err)
	link, _, err := shop.people.NewLink(ctx, owner.ID)
	fatal(t, err)
	opened, ended := make(chan string, 1), make(chan error, 1)
	go func() { ended <- p.listen(ctx, s, shop, "", func(address string) { opened <- address }) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Errorf("the program ended with: %v", err)
		}
		shop.close()
	})
	jar, err := cookiejar.New(nil)
	fatal(t, err)
	v := &visitor{t: t, shop: shop, http: &http.Client{Jar: jar}, address: <-opened}
	page := v.get("/link/" + link)
	csrf := regexp.MustCompile(`name="csrf" value="([^"]+)"`).FindStringSubmatch(page)
	if csrf == nil {
		t.Fatalf("no form: %s", page)
	}
	a, err := v.http.PostForm(v.address+"/link/"+link, url.Values{"csrf": {csrf[1]}})
	fatal(t, err)
	fatal(t, a.Body.Close())
	return v
}

func (v *visitor) get(path string) string {
	v.t.Helper()
	a, err := v.http.Get(v.address + path)
	fatal(v.t, err)
	defer func() { _ = a.Body.Close() }()
	body, err := io.ReadAll(a.Body)
	fatal(v.t, err)
	if a.StatusCode != http.StatusOK {
		v.t.Fatalf("%s: %d %s", path, a.StatusCode, body)
	}
	return string(body)
}

func (v *visitor) json(path string, into any) {
	v.t.Helper()
	fatal(v.t, json.Unmarshal([]byte(v.get(api.Path+path)), into))
}

// keep puts an order into the books as its quote would have made it.
func (v *visitor) keep(o sales.Order) {
	v.t.Helper()
	ctx, sum := v.t.Context(), strings.Repeat("0", 64)
	c := sales.Customer{ID: uuid.NewString(), Name: "Mara Quist", Address: "2 Ferry Steps\nHarrowmouth", Country: "IE", Changed: thursday()}
	o.CustomerID = c.ID
	q := sales.Quote{ID: o.QuoteID, Number: o.Number, Version: 1, State: sales.Issued, CustomerID: c.ID, Title: o.Title, Created: thursday(), Changed: thursday(), IssuedAt: thursday(), IssuedBy: "Wren",
		ValidUntil: thursday(), Net: o.Totals().Net, Gross: o.Totals().Gross, Snapshot: sum, Document: sum}
	fatal(v.t, v.shop.db.Sales().Act(ctx, func(tx sales.Tx) error {
		for _, put := range []func() error{
			func() error { return tx.KeepSnapshot(ctx, sum, []byte("{}")) },
			func() error {
				return tx.KeepDocument(ctx, sales.Document{Hash: sum, Name: "quote.pdf", Bytes: []byte{}})
			},
			func() error { return tx.KeepCustomer(ctx, c) }, func() error { return tx.AddQuote(ctx, q) }, func() error { return tx.AddOrder(ctx, o) },
		} {
			if err := put(); err != nil {
				return err
			}
		}
		return nil
	}))
}

// sees invoices an order and looks for net, tax and gross in all that comes of it.
func (v *visitor) sees(o sales.Order, kind sales.BillKind, want [3]string) {
	v.t.Helper()
	i, err := v.shop.sales.Bill(v.t.Context(), o.ID, sales.Billing{Kind: kind, Token: uuid.NewString()}, "Wren")
	fatal(v.t, err)
	var j api.Invoice
	v.json("/invoices/"+i.ID, &j)
	if got := [3]string{j.Net, j.Tax, j.Gross}; got != want || i.Kind != kind {
		v.t.Errorf("%s as JSON: %v, by hand %v", i.Kind, got, want)
	}
	printed := [3]string{words.Money(i.Totals.Net), words.Money(i.Totals.Tax), words.Price(i.Totals.Gross)}
	page := plain(tags.ReplaceAllString(v.get("/invoices/"+i.ID), " "))
	if line := fmt.Sprintf("Tax %s %% on %s %s In all %s", o.Terms.Rate.Percent, printed[0], printed[1], printed[2]); !strings.Contains(page, plain(line)) {
		v.t.Errorf("%s on the page: no %q in %s", i.Kind, plain(line), page)
	}
	run := exec.CommandContext(v.t.Context(), "pdftotext", "-layout", "-", "-")
	run.Stdin = strings.NewReader(v.get("/invoices/" + i.ID + "/invoice.pdf"))
	text, err := run.Output()
	if err != nil {
		v.t.Fatalf("pdftotext of the package poppler-utils: %v", err)
	}
	for what, line := range map[string]string{
		"tax":   fmt.Sprintf("%s%% %s %s %s", o.Terms.Rate.Percent, printed[0], printed[1], words.Money(i.Totals.Gross)),
		"total": fmt.Sprintf("Total %s", printed[2]),
	} {
		if squeezed := strings.ReplaceAll(plain(string(text)), " %", "%"); !strings.Contains(squeezed, plain(line)) {
			v.t.Errorf("%s in the document, %s: no %q in %s", i.Kind, what, plain(line), squeezed)
		}
	}
	reason, off := "", dec(want[0]).Mul(o.Terms.Rate.Percent).Shift(-2).Round(2).Sub(dec(want[1])).Abs()
	switch {
	case o.Deposit.Currency().Digits() > 2:
		reason = "at most 2 places"
	case off.GreaterThanOrEqual(dec("1")): // the deposit whose tax is rounded down: 2197 of 21980
		reason = "BR-CO-17"
	}
	if !strings.Contains(i.NoXML, reason) || reason == "" && i.NoXML != "" {
		v.t.Errorf("%s: %q", i.Kind, i.NoXML)
	}
	if reason != "" {
		return
	}
	var ubl struct {
		Tax struct {
			Amount string `xml:"TaxAmount"`
		} `xml:"TaxTotal"`
		Sums struct {
			Net   string `xml:"TaxExclusiveAmount"`
			Gross string `xml:"TaxInclusiveAmount"`
		} `xml:"LegalMonetaryTotal"`
	}
	fatal(v.t, xml.Unmarshal([]byte(v.get("/invoices/"+i.ID+"/invoice.xml")), &ubl))
	if got := [3]string{ubl.Sums.Net, ubl.Tax.Amount, ubl.Sums.Gross}; got != want {
		v.t.Errorf("%s as XML: %v, by hand %v", i.Kind, got, want)
	}
}

var tags = regexp.MustCompile(`<[^>]*>`)

// plain is a text in one line, whatever kinds of space stand in it.
func plain(s string) string { return strings.Join(strings.Fields(s), " ") }
