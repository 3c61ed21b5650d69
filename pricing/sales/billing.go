package sales

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/transfer"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// Billing is what is to be invoiced of an order.
type Billing struct {
	Kind BillKind // deposit, part, balance or sale
	// Of a part, one of them: an amount with tax, or a share of what the whole order comes to, 0.3 for 30 %.
	Amount, Share decimal.Decimal
	Text          string // what a part is for, in a few words; empty for the usual
	Token         string // of the form
}

// Bill issues an invoice: numbered without a gap, frozen with its document. An order is never invoiced above what it
// comes to; the balance takes off what was invoiced before, so that all of them sum to the order in net, tax and gross.
// Asked for again with the same token, it gives the invoice that is there.
func (s *Service) Bill(ctx context.Context, orderID string, b Billing, by string) (Invoice, error) {
	return read(ctx, s, func(tx Tx) (Invoice, error) {
		o, err := tx.LockOrder(ctx, orderID)
		if err != nil {
			return Invoice{}, err
		}
		if was, err := invoiceBy(ctx, tx, b.Token, orderID); err != nil || was.ID != "" {
			return was, err
		}
		return s.bill(ctx, tx, o, b, by)
	})
}

// bill issues an invoice of a locked order.
func (s *Service) bill(ctx context.Context, tx Tx, o Order, b Billing, by string) (Invoice, error) {
	d, err := dues(ctx, tx, o)
	if err != nil {
		return Invoice{}, err
	}
	if b, err = d.billable(b); err != nil {
		return Invoice{}, err
	}
	c, err := tx.Customer(ctx, o.CustomerID)
	if err != nil {
		return Invoice{}, err
	}
	inv, err := s.begin(ctx, tx, o, c, b.Kind, by)
	if err != nil {
		return inv, err
	}
	inv.Token = b.Token
	if b.Kind == BalanceBill || b.Kind == SaleBill {
		if inv.Supplied, err = supplied(ctx, tx, o.ID); err != nil {
			return inv, err
		}
	}
	if err := inv.fill(d, b, c.tongue()); err != nil {
		return inv, err
	}
	return s.issueInvoice(ctx, tx, inv)
}

// supplied is the day the last pieces of an order were handed over; zero while none were.
func supplied(ctx context.Context, tx Tx, order string) (day time.Time, err error) {
	handed, err := tx.Deliveries(ctx, order)
	for _, d := range handed {
		if d.Day.After(day) {
			day = d.Day
		}
	}
	return day, err
}

// invoiceBy is the invoice that was asked for with a token, the zero one where none was.
func invoiceBy(ctx context.Context, tx Tx, token, orderID string) (Invoice, error) {
	if len(token) < 8 || len(token) > 100 {
		return Invoice{}, problem("token", token, "Send a token of 8 to 100 letters that is new for every document, so that asking twice issues once.")
	}
	was, err := tx.InvoiceBy(ctx, token)
	switch {
	case fault.KindOf(err) == fault.NotFound:
		return Invoice{}, nil
	case err == nil && was.OrderID != orderID:
		return Invoice{}, fault.New(fault.Conflict, "This token was used for another order. Send a new one.")
	}
	return was, err
}

// billable is what can be invoiced of what was asked for; a fault says why nothing can. A deposit or a part that is all
// of an order is its sale; a balance with nothing before it too.
func (d Dues) billable(b Billing) (Billing, error) {
	c, none := d.Order.Deposit.Currency(), d.Invoiced.Gross.Sign() == 0
	if d.Rest.Gross.Sign() <= 0 {
		return b, fault.New(fault.State, "Order %s comes to %s, and all of it is invoiced. There is nothing left to invoice.", d.Order.Number, words.Price(d.Total.Gross))
	}
	gross := d.Rest.Gross
	switch b.Kind {
	case DepositBill:
		if was, there := d.Deposited(); there {
			return b, fault.New(fault.State, "The deposit was invoiced already, as %s. Credit that one first, or invoice a part or the balance.", was.Number)
		}
		if d.Order.Deposit.Sign() <= 0 {
			return b, fault.New(fault.State, "Order %s has no deposit. Invoice a part or all of it.", d.Order.Number)
		}
		gross = least(d.Order.Deposit, gross)
	case PartBill:
		asked := b.Amount
		switch {
		case !b.Share.IsZero() && !b.Amount.IsZero(), b.Share.IsZero() && b.Amount.IsZero():
			return b, problem("amount", b.Amount.String(), "Write either an amount with tax or a share of the whole price.")
		case b.Share.IsNegative() || b.Share.GreaterThan(decimal.NewFromInt(1)):
			return b, problem("share", b.Share.Shift(2).String(), "Write a share of the whole price, above 0 and up to 100 %.")
		case !b.Share.IsZero():
			asked = money.Round(d.Total.Gross.Decimal().Mul(b.Share), c).Decimal()
		}
		a, err := money.New(asked, c)
		if err != nil {
			return b, under("amount", err)
		}
		if a.Sign() <= 0 || a.Cmp(gross) > 0 {
			return b, problem("amount", asked.String(), fmt.Sprintf("Write an amount above 0 and up to %s, what is left to invoice.", words.Price(gross)))
		}
		var l fault.List
		oneLine(&l, "text", b.Text)
		long(&l, "text", b.Text, 200)
		if err := l.Err(); err != nil {
			return b, err
		}
		gross = a
	case SaleBill:
		if !none {
			return b, fault.New(fault.State, "A part of order %s was invoiced already: invoice the balance.", d.Order.Number)
		}
	case BalanceBill:
	default:
		return b, problem("kind", string(b.Kind), "Choose deposit, part, balance or sale.")
	}
	b.Amount = gross.Decimal()
	if gross.Equal(d.Rest.Gross) {
		b.Kind = BalanceBill
		if none {
			b.Kind = SaleBill
		}
	}
	return b, nil
}

// under gives problems about a whole a field.
func under(field string, err error) error {
	var l fault.List
	if err := l.Take(field, err); err != nil {
		return err
	}
	return l.Err()
}

// begin is what all documents of an order have in common. Who buys is asked now; how tax is charged was settled when
// the order was quoted.
func (s *Service) begin(ctx context.Context, tx Tx, o Order, c Customer, kind BillKind, by string) (Invoice, error) {
	now := s.now()
	w, err := tx.Workshop(ctx, now)
	if err != nil {
		return Invoice{}, err
	}
	h, t, nothing := w.Head, words.Speak(c.Language), money.Sum(o.Deposit.Currency())
	inv := Invoice{
		ID: newID(), Kind: kind, OrderID: o.ID, Order: o.Number, CustomerID: c.ID, Title: o.Title, Issued: now, By: by, Language: t.Code(),
		Number:  Number{Series: w.InvoiceSeries, Year: now.Year()},
		Due:     due(w, o, kind, now),
		Seller:  Party{Name: h.Name, Address: h.Address, Country: h.Country, TaxNumber: h.TaxNumber, Email: h.Email, Phone: h.Phone},
		Buyer:   Party{Name: c.Name, Address: lines(c.Address), Country: c.Country, TaxNumber: c.TaxNumber, Email: c.Email, Phone: c.Phone},
		Account: Account{Name: h.Holder, IBAN: h.IBAN, BIC: h.BIC}, Consumer: !c.Business,
		Regime: o.Terms.Regime, Paid: nothing, Rounding: nothing, Remarks: remarks(o.Terms, t),
	}
	if kind == CreditNote {
		inv.Number.Series = w.CreditSeries
	}
	inv.Account.Name = cmp.Or(inv.Account.Name, h.Name)
	inv.Buyer.Country = cmp.Or(inv.Buyer.Country, h.Country)
	return inv, nil
}

// due is the day a document is to be paid: a deposit when the order says, the rest so many days after it was issued.
func due(w workshop.Workshop, o Order, kind BillKind, now time.Time) time.Time {
	today := stock.Day(now)
	switch {
	case kind == CreditNote:
		return today
	case kind == DepositBill || kind == SaleBill && o.State == Accepted && o.Deposit.Equal(o.Totals().Gross):
		if o.DepositDue.After(today) {
			return stock.Day(o.DepositDue)
		}
		return today.AddDate(0, 0, w.DepositDays)
	}
	return today.AddDate(0, 0, w.InvoiceDays)
}

// remarks is the wording for why no tax is charged: the owner's own, or the usual in the customer's language.
func remarks(t Terms, in words.Tongue) []string {
	switch {
	case !t.Regime.Registered && t.Regime.Wording.Unregistered != "":
		return []string{t.Regime.Wording.Unregistered}
	case !t.Regime.Registered:
		return []string{in.Say("No tax is charged: the workshop is not registered for it.")}
	case t.Rate.Reason != "":
		return []string{in.Wording(t.Rate.Reason)}
	}
	return nil
}

// fill writes what is invoiced into an invoice: lines and sums, what was paid of it so far.
func (i *Invoice) fill(d Dues, b Billing, t words.Tongue) error {
	o, gross := d.Order, money.Round(b.Amount, d.Order.Deposit.Currency())
	i.Totals = o.Terms.part(d.Rest, gross)
	number, title := o.Number.In(t), o.Title
	switch b.Kind {
	case DepositBill:
		i.Lines = []BillLine{o.Terms.line(untitled(t.Say("Deposit for order %s: %s", number, title)), i.Totals)}
	case PartBill:
		text := b.Text
		if text == "" {
			text = untitled(t.Say("Part payment for order %s: %s", number, title))
		}
		i.Lines = []BillLine{o.Terms.line(text, i.Totals)}
	default:
		i.Lines = o.billed(t)
		if i.Lines[0].Text == "" {
			i.Lines[0].Text = t.Say("Order %s", number)
		}
		for _, e := range d.Bills {
			left := e.Left()
			if left.Gross.Sign() == 0 && left.Net.Sign() == 0 {
				continue
			}
			i.Lines = append(i.Lines, o.Terms.line(t.Say("Less invoice %s of %s", e.Number.In(t), t.Date(e.Issued)), negative(left)))
			i.Before = append(i.Before, Earlier{ID: e.ID, Number: e.Number, Kind: e.Kind, Issued: e.Issued, Gross: left.Gross})
		}
	}
	// Money that came before and settles no older invoice has paid of this one already.
	i.Paid = least(d.Ahead(), gross)
	if i.Payable().Sign() > 0 {
		i.Terms = t.Say("Please pay by %s.", t.Date(i.Due))
	}
	return i.adds()
}

// untitled is a sentence without the colon that a title would come after.
func untitled(s string) string { return strings.TrimRight(s, ": \u00a0\u202f") }

// adds refuses an invoice whose lines do not sum to it: a fault of the program, noticed before it is kept for good.
func (i Invoice) adds() error {
	net := money.Sum(i.Totals.Gross.Currency())
	for _, l := range i.Lines {
		net = net.Add(l.Net)
	}
	if !net.Equal(i.Totals.Net) || !i.Totals.Net.Add(i.Totals.Tax).Equal(i.Totals.Gross) {
		return fmt.Errorf("%s invoice of order %s: lines of %s, totals %s + %s = %s", i.Kind, i.Order, net, i.Totals.Net, i.Totals.Tax, i.Totals.Gross)
	}
	return nil
}

// issueInvoice gives a document its number, the last lock of the act, and keeps it with its bytes. The XML is its twin,
// inside the paper's file too for a business; where it cannot be made the document is issued all the same and says why.
func (s *Service) issueInvoice(ctx context.Context, tx Tx, i Invoice) (Invoice, error) {
	var err error
	if i.Number.No, err = tx.NextNumber(ctx, i.counter(), i.Number.Year); err != nil {
		return i, err
	}
	if i.Kind != CreditNote {
		if i.Reference, err = transfer.Reference(fmt.Sprintf("%s%d%04d", i.Number.Series, i.Number.Year, i.Number.No)); err != nil {
			i.Reference = "" // a series that is too long or has no letters: it is paid by the number
		}
	}
	paper, err := s.render.Invoice(ctx, i)
	if err != nil {
		return i, fmt.Errorf("document of invoice %s: %w", i.Number, err)
	}
	var kept []Document
	switch body, err := s.twin(i); {
	case err != nil:
		i.NoXML = missing(err)
	default:
		i.XML = hash(body)
		kept = append(kept, Document{Hash: i.XML, Name: i.file() + ".xml", Bytes: body})
		if !i.Consumer { // a business reads it from the paper's file
			if paper, err = s.render.Attach(paper, i.file()+".xml", "text/xml", body, i.Issued); err != nil {
				return i, fmt.Errorf("XML into the document of invoice %s: %w", i.Number, err)
			}
		}
	}
	i.Document = hash(paper)
	kept = append(kept, Document{Hash: i.Document, Name: i.file() + ".pdf", Bytes: paper})
	for _, doc := range kept {
		if err := tx.KeepDocument(ctx, doc); err != nil {
			return i, err
		}
	}
	return i, tx.AddInvoice(ctx, i)
}

// counter is the series that a number is taken from: invoices and credit notes have one each.
func (i Invoice) counter() string {
	return strings.TrimSpace(i.Number.Series + map[bool]string{true: " credit", false: " invoice"}[i.Kind == CreditNote])
}

// file is the name of its files, without the ending.
func (i Invoice) file() string {
	name := "invoice"
	if i.Kind == CreditNote {
		name = "credit-note"
	}
	return fmt.Sprintf("%s-%d-%d", name, i.Number.Year, i.Number.No)
}

// missing is all that is wrong in one paragraph.
func missing(err error) string {
	var all []string
	for _, p := range fault.ProblemsOf(err) {
		if !slices.Contains(all, p.Remedy) {
			all = append(all, p.Remedy)
		}
	}
	if len(all) == 0 {
		return "It could not be written: a fault of this program."
	}
	return strings.Join(all, " ")
}
