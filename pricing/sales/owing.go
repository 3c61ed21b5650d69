package sales

import (
	"cmp"
	"context"
	"slices"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/money"
)

// Ages are how late open sums can be: not yet, up to 30 days, up to 60, up to 90, more.
const Ages = 5

// age is which of them a day falls under.
func age(due, today time.Time) int {
	days := int(stock.Day(today).Sub(stock.Day(due)).Hours() / 24)
	switch {
	case days <= 0:
		return 0
	case days > 90:
		return Ages - 1
	}
	return (days + 29) / 30
}

// Debtor is a customer who owes, in one currency.
type Debtor struct {
	CustomerID, Customer string
	Open                 money.Amount
	By                   [Ages]money.Amount // by how late it is
	Oldest               time.Time          // day that the oldest open invoice was due
	Bills                []Owed             // open ones, the oldest first
}

// Late is what is open after its day.
func (d Debtor) Late() money.Amount { return d.Open.Sub(d.By[0]) }

// Unmatched is an order for which more came than was invoiced: a deposit without an invoice, or too much.
type Unmatched struct {
	Order    Order
	Ahead    money.Amount // came and was not invoiced
	Overpaid money.Amount // of that, above what the order comes to: it is to go back
}

// Owing is who owes, what came without an invoice, and what was made and is not invoiced.
type Owing struct {
	Debtors   []Debtor // who owes most of what is late first
	Totals    []Debtor // of all of them, by currency; without names
	Unmatched []Unmatched
	Made      []Order // done without a balance or sale invoice, the newest first
}

// Owing works out who owes as of today.
func (s *Service) Owing(ctx context.Context) (Owing, error) {
	return read(ctx, s, func(tx Tx) (o Owing, err error) {
		ids, err := tx.Unsettled(ctx)
		if err != nil {
			return o, err
		}
		invoices, err := tx.InvoicesOf(ctx, ids...)
		if err != nil {
			return o, err
		}
		payments, err := tx.PaymentsOf(ctx, ids...)
		if err != nil {
			return o, err
		}
		ofOrder := map[string][]Invoice{}
		for _, i := range invoices {
			ofOrder[i.OrderID] = append(ofOrder[i.OrderID], i)
		}
		paid := map[string][]Payment{}
		for _, p := range payments {
			paid[p.OrderID] = append(paid[p.OrderID], p)
		}
		for _, id := range ids {
			if err := o.add(ctx, tx, id, ofOrder[id], paid[id], s.now()); err != nil {
				return o, err
			}
		}
		slices.SortStableFunc(o.Debtors, func(a, b Debtor) int {
			return cmp.Or(b.Late().Decimal().Cmp(a.Late().Decimal()), a.Oldest.Compare(b.Oldest), cmp.Compare(a.Customer, b.Customer))
		})
		for _, d := range o.Debtors {
			slices.SortStableFunc(d.Bills, func(a, b Owed) int { return a.Due.Compare(b.Due) })
		}
		made, err := tx.MadeUninvoiced(ctx)
		if err != nil {
			return o, err
		}
		for _, id := range made {
			order, err := tx.Order(ctx, id)
			if err != nil {
				return o, err
			}
			o.Made = append(o.Made, order)
		}
		return o, nil
	})
}

// add puts the open invoices of an order to their debtor, or notes what came of it without one.
func (o *Owing) add(ctx context.Context, tx Tx, id string, invoices []Invoice, payments []Payment, today time.Time) error {
	c := currencyOf(invoices, payments)
	bills, paid := settled(c, invoices, payments)
	for _, b := range bills {
		paid = paid.Sub(b.Settled)
		if b.Open.Sign() <= 0 {
			continue
		}
		debtor(&o.Debtors, b.CustomerID, b.Buyer.Name, c).owes(b, today)
		debtor(&o.Totals, "", "", c).owes(b, today)
	}
	if paid.Sign() <= 0 {
		return nil
	}
	order, err := tx.Order(ctx, id)
	if err != nil {
		return err
	}
	d := reckon(order, invoices, payments)
	o.Unmatched = append(o.Unmatched, Unmatched{Order: order, Ahead: d.Ahead(), Overpaid: least(d.Overpaid(), d.Ahead())})
	return nil
}

// debtor is the entry of a customer in a currency, made where there is none.
func debtor(list *[]Debtor, id, name string, c money.Currency) *Debtor {
	i := slices.IndexFunc(*list, func(d Debtor) bool { return d.CustomerID == id && d.Open.Currency() == c })
	if i < 0 {
		d := Debtor{CustomerID: id, Customer: name, Open: money.Sum(c)}
		for k := range d.By {
			d.By[k] = money.Sum(c)
		}
		i, *list = len(*list), append(*list, d)
	}
	return &(*list)[i]
}

func (d *Debtor) owes(b Owed, today time.Time) {
	k := age(b.Due, today)
	d.Open, d.By[k] = d.Open.Add(b.Open), d.By[k].Add(b.Open)
	if d.Oldest.IsZero() || b.Due.Before(d.Oldest) {
		d.Oldest = b.Due
	}
	if d.CustomerID != "" {
		d.Bills = append(d.Bills, b)
	}
}

func currencyOf(invoices []Invoice, payments []Payment) money.Currency {
	if len(invoices) > 0 {
		return invoices[0].Totals.Gross.Currency()
	}
	return payments[0].Amount.Currency()
}
