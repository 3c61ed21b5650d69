package sales

import (
	"context"
	"slices"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/money"
)

// StatementLine is one line of a statement: an invoice, a credit note or a payment.
type StatementLine struct {
	Day     time.Time
	Invoice *Invoice // nil for a payment
	Payment *Payment
	Asked   money.Amount // that the customer owes more; a credit note is below zero
	Came    money.Amount // that came; what was paid back is below zero
	Balance money.Amount // owed after it
}

// Statement is what passed between the workshop and a customer within some days, in one currency.
type Statement struct {
	Customer Customer
	Currency money.Currency
	From, To time.Time // days, both within; From is zero for from the beginning
	Opening  money.Amount
	Lines    []StatementLine // oldest first
	Closing  money.Amount
	Asked    money.Amount // in all
	Came     money.Amount
}

// Statements are a customer's, one a currency; none where nothing passed.
func (s *Service) Statements(ctx context.Context, customerID string, from, to time.Time) (Customer, []Statement, error) {
	var c Customer
	list, err := read(ctx, s, func(tx Tx) ([]Statement, error) {
		var err error
		if c, err = tx.Customer(ctx, customerID); err != nil {
			return nil, err
		}
		if to.IsZero() {
			to = stock.Day(s.now())
		}
		if to.Before(from) {
			return nil, problem("to", to.Format(time.DateOnly), "The last day is before the first. Write the same or a later one.")
		}
		invoices, err := tx.Invoices(ctx, MoneyFound{Customer: c.ID, To: to})
		if err != nil {
			return nil, err
		}
		payments, err := tx.Payments(ctx, MoneyFound{Customer: c.ID, To: to})
		if err != nil {
			return nil, err
		}
		return state(c, passed(invoices, payments), from, to), nil
	})
	return c, list, err
}

// passed are invoices and payments, newest first each, in the order of their days; an invoice before a payment of its day.
func passed(invoices []Invoice, payments []Payment) []StatementLine {
	var all []StatementLine
	for _, i := range slices.Backward(invoices) {
		asked := i.Totals.Gross
		if i.Kind == CreditNote {
			asked = asked.Neg()
		}
		all = append(all, StatementLine{Day: stock.Day(i.Issued), Invoice: &i, Asked: asked, Came: asked.Sub(asked)})
	}
	for _, p := range slices.Backward(payments) {
		all = append(all, StatementLine{Day: stock.Day(p.Day), Payment: &p, Asked: p.Amount.Sub(p.Amount), Came: p.Amount})
	}
	slices.SortStableFunc(all, func(a, b StatementLine) int { return a.Day.Compare(b.Day) })
	return all
}

func state(c Customer, all []StatementLine, from, to time.Time) (list []Statement) {
	for _, e := range all {
		currency := e.Asked.Currency()
		i := slices.IndexFunc(list, func(s Statement) bool { return s.Currency == currency })
		if i < 0 {
			nothing := money.Sum(currency)
			i, list = len(list), append(list, Statement{Customer: c, Currency: currency, From: from, To: to, Opening: nothing, Closing: nothing, Asked: nothing, Came: nothing})
		}
		s := &list[i]
		s.Closing = s.Closing.Add(e.Asked).Sub(e.Came)
		if e.Day.Before(from) {
			s.Opening = s.Closing
			continue
		}
		e.Balance, s.Asked, s.Came = s.Closing, s.Asked.Add(e.Asked), s.Came.Add(e.Came)
		s.Lines = append(s.Lines, e)
	}
	return list
}
