package sales

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// Crediting is what is taken back of an invoice: an amount with tax, or some of its lines; neither for all that is left.
type Crediting struct {
	Amount decimal.Decimal
	Lines  []int // by their place, from 0
	Reason string
	Token  string // of the form
}

// Credit issues a credit note. An invoice is never credited above what is left of it. Asked for again with the same
// token, it gives the credit note that is there.
func (s *Service) Credit(ctx context.Context, invoiceID string, c Crediting, by string) (Invoice, error) {
	return read(ctx, s, func(tx Tx) (Invoice, error) {
		of, err := tx.Invoice(ctx, invoiceID)
		if err != nil {
			return of, err
		}
		o, err := tx.LockOrder(ctx, of.OrderID)
		if err != nil {
			return of, err
		}
		if was, err := invoiceBy(ctx, tx, c.Token, o.ID); err != nil || was.ID != "" {
			return was, err
		}
		if of.Kind == CreditNote {
			return of, fault.New(fault.State, "This is a credit note already. Invoice the order anew instead.")
		}
		d, err := dues(ctx, tx, o)
		if err != nil {
			return of, err
		}
		bill, _ := d.Bill(of.ID)
		sums, picked, err := bill.credited(o.Terms, c)
		if err != nil {
			return of, err
		}
		return s.credit(ctx, tx, d, bill, sums, picked, c, by)
	})
}

// credited are the sums to take back of an invoice, and the lines where lines were named.
func (b Owed) credited(t Terms, c Crediting) (sums tax.Totals, picked []BillLine, err error) {
	left := b.Left()
	var l fault.List
	if reason := strings.TrimSpace(c.Reason); reason == "" {
		l.Add("reason", "", "Say in a few words why: it stands on the credit note.")
	} else {
		oneLine(&l, "reason", reason)
		long(&l, "reason", reason, 300)
	}
	if left.Gross.Sign() <= 0 {
		return left, nil, fault.New(fault.State, "All of invoice %s was credited already.", b.Number)
	}
	if !c.Amount.IsZero() && len(c.Lines) > 0 {
		l.Add("amount", c.Amount.String(), "Name either an amount or some lines, or neither to credit all that is left.")
	}
	if !l.Empty() {
		return left, nil, l.Err()
	}
	sums = left
	switch {
	case len(c.Lines) > 0:
		sums, picked, err = b.lines(t, c.Lines)
	case !c.Amount.IsZero():
		var a money.Amount
		if a, err = money.New(c.Amount, left.Gross.Currency()); err != nil {
			return sums, nil, under("amount", err)
		}
		if a.Sign() <= 0 || a.Cmp(left.Gross) > 0 {
			return sums, nil, problem("amount", c.Amount.String(), fmt.Sprintf("Write an amount above 0 and up to %s, what is left of the invoice.", words.Price(left.Gross)))
		}
		sums = t.part(left, a)
	}
	return sums, picked, err
}

// lines are some of an invoice's with their sums by the rules of the order.
func (b Owed) lines(t Terms, places []int) (sums tax.Totals, picked []BillLine, err error) {
	left := b.Left()
	for k, at := range places {
		if at < 0 || at >= len(b.Lines) || slices.Contains(places[:k], at) || b.Lines[at].Net.Sign() <= 0 {
			return left, nil, problem("lines", strconv.Itoa(at+1), "Choose each line once, and only lines that ask for something.")
		}
		picked = append(picked, b.Lines[at])
	}
	net, amount := money.Sum(left.Net.Currency()), money.Sum(left.Net.Currency())
	for _, l := range picked {
		net, amount = net.Add(l.Net), amount.Add(l.Amount)
	}
	gross := net.Add(t.Regime.Exclusive(net, t.Rate))
	if t.Regime.GrossPrices && t.Regime.Registered {
		gross = amount
	}
	charged := gross.Sub(net)
	sums = tax.Totals{Net: net, Tax: charged, Gross: gross}
	if t.Regime.Registered {
		sums.Shares = []tax.Share{{Rate: t.Rate, Net: net, Tax: charged, Gross: gross}}
	}
	switch {
	case net.Equal(left.Net): // all of it, whatever rounding did on the way
		return left, picked, nil
	case !within(sums, left):
		return left, nil, problem("lines", "", fmt.Sprintf("These lines come to %s, and only %s is left of the invoice. Credit that amount instead.", words.Price(gross), words.Price(left.Gross)))
	}
	return sums, picked, nil
}

// credit issues a credit note over sums of an invoice, by the lines named or in one line.
func (s *Service) credit(ctx context.Context, tx Tx, d Dues, of Owed, sums tax.Totals, picked []BillLine, c Crediting, by string) (Invoice, error) {
	customer, err := tx.Customer(ctx, of.CustomerID)
	if err != nil {
		return Invoice{}, err
	}
	inv, err := s.begin(ctx, tx, d.Order, customer, CreditNote, by)
	if err != nil {
		return inv, err
	}
	t := words.Speak(inv.Language)
	inv.Token, inv.Reason, inv.Totals, inv.Supplied, inv.Lines = c.Token, strings.TrimSpace(c.Reason), sums, of.Supplied, picked
	inv.Credits = Earlier{ID: of.ID, Number: of.Number, Kind: of.Kind, Issued: of.Issued, Gross: of.Totals.Gross}
	if len(picked) == 0 {
		text := t.Say("Part of invoice %s of %s", of.Number.In(t), t.Date(of.Issued))
		if sums.Gross.Equal(of.Totals.Gross) {
			text = t.Say("Invoice %s of %s", of.Number.In(t), t.Date(of.Issued))
		}
		inv.Lines = []BillLine{d.Order.Terms.line(text, sums)}
	}
	if err := inv.adds(); err != nil {
		return inv, err
	}
	return s.issueInvoice(ctx, tx, inv)
}

// settle credits what was invoiced above what an order comes to now, the newest invoice first. Acts that change what a
// locked order comes to call it after balances and before the bench, since it takes numbers: a change note, and a cancellation
// once NotKept has brought the order down. What was paid above that is to go back: Dues.Overpaid.
func (s *Service) settle(ctx context.Context, tx Tx, orderID, reason, by string) ([]Invoice, error) {
	o, err := tx.Order(ctx, orderID)
	if err != nil {
		return nil, err
	}
	d, err := dues(ctx, tx, o)
	if err != nil {
		return nil, err
	}
	var issued []Invoice
	over := d.Invoiced.Sub(d.Total)
	for i := len(d.Bills) - 1; i >= 0 && over.Gross.Sign() > 0; i-- {
		b := d.Bills[i]
		sums := b.Left()
		if sums.Gross.Sign() <= 0 {
			continue
		}
		if over.Gross.Cmp(sums.Gross) < 0 {
			sums = over
		}
		note, err := s.credit(ctx, tx, d, b, sums, nil, Crediting{Reason: reason, Token: newID()}, by)
		if err != nil {
			return issued, err
		}
		issued, over = append(issued, note), over.Sub(sums)
	}
	return issued, nil
}
