package sales

import (
	"context"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// Dues is how the money of one order stands, worked out from its lines, invoices and payments and never stored.
type Dues struct {
	Order    Order
	Total    tax.Totals   // what it comes to
	Invoiced tax.Totals   // less what was credited
	Rest     tax.Totals   // still to be invoiced: Total − Invoiced; below zero where too much was
	Paid     money.Amount // less what went back
	Bills    []Owed       // oldest first, with what was paid of each
	Credits  []Invoice    // credit notes, oldest first
	Payments []Payment    // oldest first
}

// Owed is an invoice with what became of it. Payments belong to the order: they settle the oldest invoice first.
type Owed struct {
	Invoice
	Credited tax.Totals
	Settled  money.Amount
	Open     money.Amount // Gross − Credited − Settled, never below zero
}

// Left is what an invoice still asks for whether it was paid or not: its totals less what was credited.
func (o Owed) Left() tax.Totals { return o.Totals.Sub(o.Credited) }

// Late tells that something is open after its day.
func (o Owed) Late(today time.Time) bool {
	return o.Open.Sign() > 0 && stock.Day(o.Due).Before(stock.Day(today))
}

// Open is what is still to come of the whole order, invoiced or not.
func (d Dues) Open() money.Amount { return above(d.Total.Gross, d.Paid) }

// Overpaid is what came above what the order comes to: it is to go back.
func (d Dues) Overpaid() money.Amount { return above(d.Paid, d.Total.Gross) }

// Owed is what was invoiced and did not come.
func (d Dues) Owed() money.Amount { return above(d.Invoiced.Gross, d.Paid) }

// Ahead is what came and was not invoiced.
func (d Dues) Ahead() money.Amount { return above(d.Paid, d.Invoiced.Gross) }

// DepositOpen is what is missing until the bench is booked; nothing once it is.
func (d Dues) DepositOpen() money.Amount {
	if d.Order.State != Accepted {
		return money.Sum(d.Order.Deposit.Currency())
	}
	return above(d.Order.Deposit, d.Paid)
}

// DepositLost is what is missing of the deposit of an order that is booked: it went back, or never was.
func (d Dues) DepositLost() money.Amount {
	if d.Order.State != Booked {
		return money.Sum(d.Order.Deposit.Currency())
	}
	return above(least(d.Order.Deposit, d.Total.Gross), d.Paid)
}

// Late is what is open of invoices after their day.
func (d Dues) Late(today time.Time) money.Amount {
	sum := money.Sum(d.Order.Deposit.Currency())
	for _, b := range d.Bills {
		if b.Late(today) {
			sum = sum.Add(b.Open)
		}
	}
	return sum
}

// Deposited is the deposit invoice that stands; false while there is none.
func (d Dues) Deposited() (Owed, bool) {
	for _, b := range d.Bills {
		if b.Kind == DepositBill && b.Left().Gross.Sign() > 0 {
			return b, true
		}
	}
	return Owed{}, false
}

// Bill is one of the order's invoices; false where it is none of them.
func (d Dues) Bill(id string) (Owed, bool) {
	for _, b := range d.Bills {
		if b.ID == id {
			return b, true
		}
	}
	return Owed{}, false
}

// above is a − b, nothing where that is below zero.
func above(a, b money.Amount) money.Amount {
	if rest := a.Sub(b); rest.Sign() > 0 {
		return rest
	}
	return a.Sub(a)
}

// Dues is how the money of an order stands.
func (s *Service) Dues(ctx context.Context, orderID string) (Dues, error) {
	return read(ctx, s, func(tx Tx) (Dues, error) {
		o, err := tx.Order(ctx, orderID)
		if err != nil {
			return Dues{}, err
		}
		return dues(ctx, tx, o)
	})
}

func dues(ctx context.Context, tx Tx, o Order) (Dues, error) {
	invoices, err := tx.InvoicesOf(ctx, o.ID)
	if err != nil {
		return Dues{}, err
	}
	payments, err := tx.PaymentsOf(ctx, o.ID)
	return reckon(o, invoices, payments), err
}

// reckon works the dues out of everything there is of an order, oldest first.
func reckon(o Order, invoices []Invoice, payments []Payment) Dues {
	d := Dues{Order: o, Total: o.Totals(), Payments: payments}
	c := o.Deposit.Currency()
	nothing := money.Sum(c)
	d.Invoiced = tax.Totals{Net: nothing, Tax: nothing, Gross: nothing}
	for _, i := range invoices {
		if i.Kind == CreditNote {
			d.Invoiced, d.Credits = d.Invoiced.Sub(i.Totals), append(d.Credits, i)
		} else {
			d.Invoiced = d.Invoiced.Add(i.Totals)
		}
	}
	d.Rest = d.Total.Sub(d.Invoiced)
	d.Bills, d.Paid = settled(c, invoices, payments)
	return d
}

// settled are the invoices of one order, oldest first, with what was credited and paid of each, and what was paid in all.
func settled(c money.Currency, invoices []Invoice, payments []Payment) (bills []Owed, paid money.Amount) {
	paid = money.Sum(c)
	for _, p := range payments {
		paid = paid.Add(p.Amount)
	}
	credited := map[string]tax.Totals{}
	for _, i := range invoices {
		if i.Kind == CreditNote {
			credited[i.Credits.ID] = credited[i.Credits.ID].Add(i.Totals)
		}
	}
	left := paid
	for _, i := range invoices {
		if i.Kind == CreditNote {
			continue
		}
		b := Owed{Invoice: i, Credited: credited[i.ID]}
		b.Settled = least(left, b.Left().Gross)
		left, b.Open = left.Sub(b.Settled), b.Left().Gross.Sub(b.Settled)
		bills = append(bills, b)
	}
	return bills, paid
}
