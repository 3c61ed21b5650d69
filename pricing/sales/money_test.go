package sales_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/einvoice"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/tax"
	"foamwright/pricing/workshop"
)

// paper stands in for the printer, which has tests of its own: a document is its invoice in words.
type paper struct{ sales.Renderer }

func (paper) Invoice(_ context.Context, i sales.Invoice) ([]byte, error) {
	return []byte(fmt.Sprintf("%+v", i)), nil
}

func (paper) Attach(doc []byte, name, _ string, file []byte, _ time.Time) ([]byte, error) {
	return fmt.Appendf(doc, " with %s of %d bytes", name, len(file)), nil
}

var thursday = time.Date(2026, time.November, 26, 10, 0, 0, 0, time.UTC)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// till is a workshop with nothing but orders.
type till struct {
	*sales.Service
	store sales.Store
	ctx   context.Context
	fails func(...any)
	no    int
}

func openTill(t testing.TB, d *db.DB) *till {
	t.Helper()
	s := &till{Service: sales.NewService(d.Sales(), paper{}, func() time.Time { return thursday }), store: d.Sales(), ctx: context.Background(), fails: t.Fatal}
	s.WriteXMLWith(einvoice.UBL)
	w := workshop.Usual()
	w.Head = workshop.Head{Name: "Kestrel Yard Propworks", Address: []string{"3 Weir Lane", "Harrowmouth"}, TaxNumber: "DE 0142 7781", Country: "DE", IBAN: "BE72000000001616"}
	w.Figures.Rates = pricing.Rates{Currency: "EUR"}
	w.Figures.Calendar = schedule.Calendar{Hours: [7]time.Duration{1: 8 * time.Hour, 2: 8 * time.Hour, 3: 8 * time.Hour, 4: 8 * time.Hour, 5: 8 * time.Hour}}
	w.Figures.Steps = []labour.Step{}
	s.must(s.Begin(s.ctx, w, stock.List{}))
	return s
}

func (s *till) must(err error) {
	if err != nil {
		s.fails(err)
	}
}

// order puts an accepted order into the books as its quote would have made it.
func (s *till) order(o sales.Order, c sales.Customer) sales.Order {
	s.no++
	c.ID, c.Name, c.Changed = uuid.NewString(), "Mara Quist", thursday
	o.ID, o.QuoteID, o.CustomerID, o.State, o.Title = uuid.NewString(), uuid.NewString(), c.ID, sales.Accepted, "Tidewall heater"
	o.Number, o.Accepted, o.DepositDue, o.Starts = sales.Number{Year: 2026, No: s.no}, thursday, thursday.AddDate(0, 0, 7), thursday.AddDate(0, 0, 8)
	sum := sha256.Sum256(nil)
	q := sales.Quote{
		ID: o.QuoteID, Number: o.Number, Version: 1, State: sales.Issued, CustomerID: c.ID, Title: o.Title, Created: thursday, Changed: thursday, IssuedAt: thursday, IssuedBy: "Wren",
		ValidUntil: thursday, Net: o.Totals().Net, Gross: o.Totals().Gross, Snapshot: hex.EncodeToString(sum[:]), Document: hex.EncodeToString(sum[:]),
	}
	s.must(s.store.Act(s.ctx, func(tx sales.Tx) error {
		if err := tx.KeepSnapshot(s.ctx, q.Snapshot, []byte{}); err != nil {
			return err
		}
		if err := tx.KeepDocument(s.ctx, sales.Document{Hash: q.Document, Name: "quote.pdf", Bytes: []byte{}}); err != nil {
			return err
		}
		if err := tx.KeepCustomer(s.ctx, c); err != nil {
			return err
		}
		if err := tx.AddQuote(s.ctx, q); err != nil {
			return err
		}
		return tx.AddOrder(s.ctx, o)
	}))
	return o
}

var (
	currencies = rapid.SampledFrom([]money.Currency{"EUR", "EUR", "GBP", "JPY", "KWD"})
	terms      = rapid.Custom(func(t *rapid.T) sales.Terms {
		g := tax.Regime{
			Registered: rapid.IntRange(0, 4).Draw(t, "registered") > 0, GrossPrices: rapid.Bool().Draw(t, "gross"), PerLine: rapid.Bool().Draw(t, "per line"),
			NetFirst: rapid.Bool().Draw(t, "net first"), Mode: rapid.SampledFrom([]money.Mode{money.HalfUp, money.HalfDown, money.Down}).Draw(t, "mode"),
		}
		if !g.Registered {
			return sales.Terms{Regime: g}
		}
		rate := tax.Rate{Code: "standard", Name: "Tax", Percent: decimal.New(rapid.Int64Range(1, 300).Draw(t, "percent"), -1)}
		g, rate = g.For(rapid.SampledFrom(append(slices.Repeat([]tax.Treatment{tax.AsUsual}, 6), tax.Treatments()...)).Draw(t, "treatment"), rate)
		return sales.Terms{Regime: g, Rate: rate}
	})
)

// drawn is an order of some lines above zero in all.
func drawn(t *rapid.T) sales.Order {
	c := currencies.Draw(t, "currency")
	amount := func(from, to int64) money.Amount {
		return money.Round(decimal.New(rapid.Int64Range(from, to).Draw(t, "amount"), -c.Digits()), c)
	}
	o := sales.Order{Terms: terms.Draw(t, "terms"), Deposit: money.Sum(c)}
	pieces := rapid.IntRange(1, 3).Draw(t, "pieces")
	o.Lines = []sales.OrderLine{{Kind: sales.QuoteLine, Text: rapid.SampledFrom([]string{"Tidewall heater", ""}).Draw(t, "title"), Quantity: pieces, Amount: amount(1, 90_000)}}
	for i := range rapid.IntRange(0, 3).Draw(t, "options") {
		o.Lines = append(o.Lines, sales.OrderLine{Kind: sales.OptionLine, Key: fmt.Sprint(i), Text: "an option", Quantity: pieces, Amount: amount(-20, 5_000)})
	}
	total := o.Totals().Gross
	if total.Sign() <= 0 {
		o.Lines = o.Lines[:1]
		total = o.Totals().Gross
	}
	o.Deposit = money.Round(total.Decimal().Mul(decimal.New(rapid.Int64Range(0, 10).Draw(t, "deposit"), -1)), c)
	return o
}

// An order's money under whatever people do with it: nothing is issued twice, no order is invoiced above what it comes
// to, no payment is lost, no number is left out, and in the end all invoices sum to the order in net, tax and gross.
func TestMoneyAddsUp(t *testing.T) {
	t.Parallel()
	s := openTill(t, dbtest.New(t))
	until := time.Now().Add(2 * time.Second)
	runs := 0
	rapid.Check(t, func(t *rapid.T) {
		if time.Now().After(until) {
			return
		}
		runs++
		s.fails = t.Fatal
		o := s.order(drawn(t), sales.Customer{Country: "DE", Address: "1 Ferry House\nHarrowmouth", TaxNumber: "DE 99 4410", Language: rapid.SampledFrom([]string{"", "de", "fr"}).Draw(t, "language")})
		m := &machine{till: s, T: t, id: o.ID, c: o.Deposit.Currency(), issued: map[string]string{}}
		t.Repeat(map[string]func(*rapid.T){
			"":          func(t *rapid.T) { m.check(t) },
			"bill":      m.bill,
			"part":      m.part,
			"credit":    m.credit,
			"pay":       m.pay,
			"take back": m.takeBack,
			"change":    m.change,
			"again":     m.again,
			"two":       m.two,
		})
		m.end(t)
	})
	t.Logf("%d runs", runs)
	numbers(t, s)
}

// machine is what was done to one order.
type machine struct {
	*till
	*rapid.T
	id     string
	c      money.Currency
	paid   []money.Amount
	issued map[string]string // token: id of what was issued with it
	// changed is whether the order was changed since the last invoice that took all that was left.
	changed bool
}

func token() string { return uuid.NewString() }

func (m *machine) dues(t *rapid.T) sales.Dues {
	d, err := m.Dues(m.ctx, m.id)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// might is what may happen; another failure is one of the program.
func might(t *rapid.T, err error) {
	if k := fault.KindOf(err); err != nil && k != fault.State && k != fault.Invalid {
		t.Fatal(err)
	}
}

func (m *machine) asked(t *rapid.T, b sales.Billing) {
	b.Token = token()
	i, err := m.Bill(m.ctx, m.id, b, "Mara")
	might(t, err)
	if err == nil {
		m.issued[b.Token] = i.ID
	}
}

func (m *machine) bill(t *rapid.T) {
	m.asked(t, sales.Billing{Kind: rapid.SampledFrom([]sales.BillKind{sales.DepositBill, sales.DepositBill, sales.BalanceBill, sales.SaleBill}).Draw(t, "kind")})
}

func (m *machine) part(t *rapid.T) {
	if rapid.Bool().Draw(t, "share") {
		m.asked(t, sales.Billing{Kind: sales.PartBill, Share: decimal.New(rapid.Int64Range(1, 100).Draw(t, "percent"), -2)})
		return
	}
	m.asked(t, sales.Billing{Kind: sales.PartBill, Amount: m.some(t, m.dues(t).Rest.Gross)})
}

// some is an amount around what there is: often all, sometimes a little, sometimes too much.
func (m *machine) some(t *rapid.T, of money.Amount) decimal.Decimal {
	cent := decimal.New(1, -m.c.Digits())
	switch rapid.IntRange(0, 4).Draw(t, "how much") {
	case 0:
		return of.Decimal()
	case 1:
		return of.Decimal().Sub(cent)
	case 2:
		return of.Decimal().Add(cent)
	case 3:
		return cent
	}
	return money.Round(of.Decimal().Mul(decimal.New(rapid.Int64Range(1, 99).Draw(t, "share"), -2)), m.c).Decimal()
}

func (m *machine) credit(t *rapid.T) {
	d := m.dues(t)
	if len(d.Bills) == 0 {
		t.Skip()
	}
	b := rapid.SampledFrom(d.Bills).Draw(t, "invoice")
	c := sales.Crediting{Reason: "A slip", Token: token()}
	switch rapid.IntRange(0, 2).Draw(t, "what") {
	case 0:
		c.Amount = m.some(t, b.Left().Gross)
	case 1:
		c.Lines = rapid.SliceOfN(rapid.IntRange(0, len(b.Lines)), 1, 3).Draw(t, "lines")
	}
	i, err := m.Credit(m.ctx, b.ID, c, "Mara")
	might(t, err)
	if err == nil {
		m.issued[c.Token] = i.ID
	}
}

func (m *machine) pay(t *rapid.T) {
	d := m.dues(t)
	p := sales.Paying{Day: thursday.AddDate(0, 0, -rapid.IntRange(0, 3).Draw(t, "days")), Way: sales.ByTransfer, Token: token()}
	switch rapid.IntRange(0, 3).Draw(t, "for") {
	case 0:
		p.Amount = m.some(t, d.DepositOpen())
	case 1:
		p.Amount = m.some(t, d.Owed())
	case 2:
		p.Amount = m.some(t, d.Open())
	default:
		p.Amount = m.some(t, d.Paid).Neg()
	}
	after, err := m.Receive(m.ctx, m.id, p, "Mara")
	might(t, err)
	if err != nil {
		return
	}
	m.paid = append(m.paid, money.Round(p.Amount, m.c))
	if again, err := m.Receive(m.ctx, m.id, p, "Mara"); err != nil || !again.Paid.Equal(after.Paid) {
		t.Fatalf("written down twice: %s, then %s, %v", after.Paid, again.Paid, err)
	}
	if o := after.Order; o.State == sales.Accepted && p.Amount.IsPositive() && after.Paid.Cmp(o.Deposit) >= 0 {
		t.Fatalf("%s came of a deposit of %s, and it is %s", after.Paid, o.Deposit, o.State)
	}
}

func (m *machine) takeBack(t *rapid.T) {
	d := m.dues(t)
	if len(d.Payments) == 0 {
		t.Skip()
	}
	p := rapid.SampledFrom(d.Payments).Draw(t, "payment")
	_, err := m.TakeBack(m.ctx, m.id, p.ID, "A slip", token(), "Mara")
	might(t, err)
	if err == nil {
		m.paid = append(m.paid, p.Amount.Neg())
	}
}

// change adds a line that costs or saves something, or brings the order down to a share of it, as cancelling does.
func (m *machine) change(t *rapid.T) {
	err := m.Changed(m.ctx, m.id, "Mara", func(o sales.Order) []sales.OrderLine {
		total := o.Totals().Gross
		if rapid.IntRange(0, 3).Draw(t, "what") == 0 {
			kept := money.Round(total.Decimal().Mul(decimal.New(rapid.Int64Range(0, 10).Draw(t, "kept"), -1)), m.c)
			line := o.NotKept(kept, rapid.SampledFrom([]string{"", "what is not kept"}).Draw(t, "said"))
			if o.Lines = append(o.Lines, line); !o.Totals().Gross.Equal(kept) {
				t.Fatalf("brought down to %s it is %s", kept, o.Totals().Gross)
			}
			return []sales.OrderLine{line}
		}
		line := sales.OrderLine{Kind: sales.ChangeLine, Key: "1", Text: "a change", Quantity: 1, Amount: money.Round(decimal.New(rapid.Int64Range(-9_000, 9_000).Draw(t, "amount"), -m.c.Digits()), m.c)}
		if o.Lines = append(o.Lines, line); o.Totals().Gross.Sign() < 0 {
			line.Amount = line.Amount.Neg()
		}
		return []sales.OrderLine{line}
	})
	if err != nil {
		t.Fatal(err)
	}
	m.changed = true
}

// again asks with a token that was used.
func (m *machine) again(t *rapid.T) {
	for used, id := range m.issued {
		i, err := m.Bill(m.ctx, m.id, sales.Billing{Kind: sales.BalanceBill, Token: used}, "Jonas")
		if err != nil || i.ID != id {
			t.Fatalf("asked again: %s, %v; want %s", i.ID, err, id)
		}
	}
}

// two people press a button at the same moment: the same one twice, or each their own.
func (m *machine) two(t *rapid.T) {
	tokens := [2]string{token(), token()}
	if rapid.Bool().Draw(t, "same page") {
		tokens[1] = tokens[0]
	}
	kind := rapid.SampledFrom([]sales.BillKind{sales.DepositBill, sales.BalanceBill}).Draw(t, "kind")
	var all sync.WaitGroup
	var got [2]sales.Invoice
	var errs [2]error
	for i := range 2 {
		all.Go(func() { got[i], errs[i] = m.Bill(m.ctx, m.id, sales.Billing{Kind: kind, Token: tokens[i]}, "Mara") })
	}
	all.Wait()
	for i := range 2 {
		might(t, errs[i])
		if errs[i] == nil {
			m.issued[tokens[i]] = got[i].ID
		}
	}
	if same := tokens[0] == tokens[1]; same && (got[0].ID != got[1].ID || (errs[0] == nil) != (errs[1] == nil)) || !same && errs[0] == nil && errs[1] == nil && kind == sales.BalanceBill {
		t.Fatalf("two at once: %s %v, %s %v", got[0].ID, errs[0], got[1].ID, errs[1])
	}
}

func (m *machine) check(t *rapid.T) {
	d := m.dues(t)
	if d.Invoiced.Gross.Cmp(d.Total.Gross) > 0 {
		t.Fatalf("an order of %s is invoiced with %s", d.Total.Gross, d.Invoiced.Gross)
	}
	// Where a change brings an order to what was invoiced already, rounding may have parted net and tax elsewhere.
	if off := d.Rest.Tax.Decimal().Abs(); d.Rest.Gross.Sign() == 0 && (!m.changed && off.Sign() != 0 || off.GreaterThan(decimal.New(5, -m.c.Digits()))) {
		t.Fatalf("all is invoiced, but %s net and %s tax", d.Rest.Net, d.Rest.Tax)
	}
	sum, settled := money.Sum(m.c, m.paid...), money.Sum(m.c)
	if len(d.Payments) != len(m.paid) || !d.Paid.Equal(sum) || d.Paid.Sign() < 0 {
		t.Fatalf("%d payments of %s are in the books, %d of %s came", len(d.Payments), d.Paid, len(m.paid), sum)
	}
	if len(d.Bills)+len(d.Credits) < len(m.issued) {
		t.Fatalf("%d were issued, %d are there", len(m.issued), len(d.Bills)+len(d.Credits))
	}
	for _, b := range d.Bills {
		left := b.Left().Gross
		if left.Sign() < 0 || b.Open.Sign() < 0 || !b.Open.Add(b.Settled).Equal(left) {
			t.Fatalf("invoice %s: %s left, %s settled, %s open", b.Number, left, b.Settled, b.Open)
		}
		settled = settled.Add(b.Settled)
	}
	if want := d.Paid; settled.Add(d.Ahead()).Cmp(want) != 0 {
		t.Fatalf("%s settled and %s ahead of %s", settled, d.Ahead(), want)
	}
	for _, i := range d.Credits {
		whole(t, i)
	}
	for _, b := range d.Bills {
		whole(t, b.Invoice)
	}
}

// whole looks at one document: its sums, its number and its twin.
func whole(t *rapid.T, i sales.Invoice) {
	net, amounts := money.Sum(i.Totals.Net.Currency()), money.Sum(i.Totals.Net.Currency())
	for _, l := range i.Lines {
		net, amounts = net.Add(l.Net), amounts.Add(l.Amount)
		if l.Text == "" || !l.Each.Decimal().Mul(l.Quantity).Equal(l.Amount.Decimal()) {
			t.Fatalf("%s: a line %+v", i.Number, l)
		}
	}
	shown := i.Totals.Net
	if i.Regime.GrossPrices && i.Regime.Registered {
		shown = i.Totals.Gross
	}
	if !net.Equal(i.Totals.Net) || !amounts.Equal(shown) || !i.Totals.Net.Add(i.Totals.Tax).Equal(i.Totals.Gross) || i.Totals.Gross.Sign() <= 0 {
		t.Fatalf("%s %s: lines of %s net and %s, totals %+v", i.Kind, i.Number, net, amounts, i.Totals)
	}
	if i.Paid.Sign() < 0 || i.Payable().Sign() < 0 || i.Number.No == 0 || (i.Reference == "") != (i.Kind == sales.CreditNote) {
		t.Fatalf("%+v", i)
	}
	far := slices.ContainsFunc(i.Totals.Shares, func(s tax.Share) bool { // BR-CO-17 wants the tax less than 1 from that of the net sum
		of := s.Net.Decimal().Abs().Mul(s.Rate.Percent).Shift(-2).Round(2)
		return s.Tax.Decimal().Abs().Sub(of).Abs().GreaterThanOrEqual(decimal.NewFromInt(1))
	})
	if (i.XML == "") == (i.NoXML == "") || i.XML == "" && i.Totals.Gross.Currency().Digits() < 3 && !strings.Contains(i.NoXML, "VAT number") && !(far && strings.Contains(i.NoXML, "BR-CO-17")) {
		t.Fatalf("%s %s has no XML: %s", i.Kind, i.Number, i.NoXML)
	}
}

// end invoices what is left: then deposit, parts and balance are the order, to the cent.
func (m *machine) end(t *rapid.T) {
	m.check(t)
	if m.dues(t).Rest.Gross.Sign() > 0 {
		m.changed = false
		if _, err := m.Bill(m.ctx, m.id, sales.Billing{Kind: sales.BalanceBill, Token: token()}, "Mara"); err != nil {
			t.Fatal(err)
		}
	}
	d := m.dues(t)
	if !m.changed && (!d.Invoiced.Net.Equal(d.Total.Net) || !d.Invoiced.Tax.Equal(d.Total.Tax) || !d.Invoiced.Gross.Equal(d.Total.Gross)) {
		t.Fatalf("invoiced %+v of %+v", d.Invoiced, d.Total)
	}
	m.check(t)
}

// numbers wants those of invoices and those of credit notes to be 1, 2, 3 and so on.
func numbers(t *testing.T, s *till) {
	t.Helper()
	all, err := s.Invoices(s.ctx, sales.MoneyFound{})
	if err != nil {
		t.Fatal(err)
	}
	given := map[bool][]int{}
	for _, i := range all {
		given[i.Kind == sales.CreditNote] = append(given[i.Kind == sales.CreditNote], i.Number.No)
	}
	for credit, got := range given {
		slices.Sort(got)
		for i, n := range got {
			if n != i+1 {
				t.Fatalf("credit %v: number %d comes after %d", credit, n, i)
			}
		}
	}
	t.Logf("%d invoices, %d credit notes", len(given[false]), len(given[true]))
}
