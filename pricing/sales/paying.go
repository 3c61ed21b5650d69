package sales

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// Receive writes down money that came for an order, or that was paid back. The order is booked once what came reaches
// its deposit: its material is promised for good, its days at the bench are set; what lapsed meanwhile is set aside
// again where it is still there. Written down again with the same token, it is one payment.
func (s *Service) Receive(ctx context.Context, orderID string, p Paying, by string) (Dues, error) {
	return s.pay(ctx, orderID, p.Token, by, func(d Dues) (Payment, error) {
		amount, err := p.check(d, s.now())
		return Payment{Day: stock.Day(p.Day), Amount: amount, Way: p.Way, Note: strings.TrimSpace(p.Note)}, err
	})
}

// TakeBack writes down that a payment never was: another of the same amount the other way.
func (s *Service) TakeBack(ctx context.Context, orderID, paymentID, note, token, by string) (Dues, error) {
	return s.pay(ctx, orderID, token, by, func(d Dues) (Payment, error) {
		i := slices.IndexFunc(d.Payments, func(p Payment) bool { return p.ID == paymentID })
		if i < 0 {
			return Payment{}, fault.New(fault.NotFound, "There is no such payment of this order.")
		}
		was := d.Payments[i]
		var l fault.List
		long(&l, "note", note, 400)
		switch {
		case was.TakesBack != "":
			return was, fault.New(fault.State, "This takes another payment back. Write the payment down anew instead.")
		case slices.ContainsFunc(d.Payments, func(p Payment) bool { return p.TakesBack == was.ID }):
			return was, fault.New(fault.State, "This payment was taken back already.")
		case d.Paid.Cmp(was.Amount) < 0:
			return was, fault.New(fault.State, "Part of this payment was paid back: take that back first.")
		}
		return Payment{Day: was.Day, Amount: was.Amount.Neg(), Way: was.Way, Note: strings.TrimSpace(note), TakesBack: was.ID}, l.Err()
	})
}

// pay adds a payment to a locked order and books the order where its deposit is there by now.
func (s *Service) pay(ctx context.Context, orderID, token, by string, make func(Dues) (Payment, error)) (Dues, error) {
	return read(ctx, s, func(tx Tx) (Dues, error) {
		o, err := tx.LockOrder(ctx, orderID)
		if err != nil {
			return Dues{}, err
		}
		d, err := dues(ctx, tx, o)
		if err != nil {
			return d, err
		}
		if len(token) < 8 || len(token) > 100 {
			return d, problem("token", token, "Send a token of 8 to 100 letters that is new for every payment, so that it is written down once.")
		}
		switch was, err := tx.PaymentBy(ctx, token); {
		case err == nil && was.OrderID == o.ID:
			return d, nil
		case err == nil:
			return d, fault.New(fault.Conflict, "This token was used for another order. Send a new one.")
		case fault.KindOf(err) != fault.NotFound:
			return d, err
		}
		p, err := make(d)
		if err != nil {
			return d, err
		}
		p.Token = token
		if err := s.received(ctx, tx, o, p, by); err != nil {
			return d, err
		}
		if o, err = tx.Order(ctx, o.ID); err != nil {
			return d, err
		}
		return dues(ctx, tx, o)
	})
}

// mostPaid is more than any payment for foam comes to, in whatever currency: what is above was mistyped.
const mostPaid = 100_000_000

// check is the amount of what somebody wrote down.
func (p Paying) check(d Dues, now time.Time) (money.Amount, error) {
	var l fault.List
	c := d.Order.Deposit.Currency()
	a, err := money.New(p.Amount, c)
	_ = l.Take("amount", err) // always a fault
	switch {
	case err == nil && a.Sign() == 0:
		l.Add("amount", p.Amount.String(), "Write how much came.")
	case err == nil && p.Amount.GreaterThan(decimal.NewFromInt(mostPaid)):
		l.Add("amount", p.Amount.String(), fmt.Sprintf("Write at most %d. Check the number.", mostPaid))
	case err == nil && d.Paid.Add(a).Sign() < 0:
		l.Add("amount", p.Amount.String(), fmt.Sprintf("Only %s came for this order. Write at most that.", words.Price(d.Paid)))
	}
	if !slices.Contains(Ways(), p.Way) {
		l.Add("way", string(p.Way), "Choose transfer, cash, card or other.")
	}
	long(&l, "note", p.Note, 400)
	if why := dayPaid(d.Order, p.Day, now); why != "" {
		l.Add("day", p.Day.Format(time.DateOnly), why)
	}
	return a, l.Err()
}

// dayPaid is what is wrong with a day on which money came.
func dayPaid(o Order, day, now time.Time) string {
	switch {
	case stock.Day(day).After(stock.Day(now)):
		return "That day has not come yet. Write the day the money came."
	case day.Before(stock.Day(o.Accepted).AddDate(-1, 0, 0)):
		return "That is more than a year before the order. Write the day the money came."
	}
	return ""
}

// received writes a payment of a locked order down and books the order with the one that completes its deposit.
func (s *Service) received(ctx context.Context, tx Tx, o Order, p Payment, by string) error {
	p.ID, p.OrderID, p.By, p.At = newID(), o.ID, by, s.now()
	if err := tx.AddPayment(ctx, p); err != nil {
		return err
	}
	d, err := dues(ctx, tx, o)
	if err != nil || o.State != Accepted || d.DepositOpen().Sign() > 0 || p.Amount.Sign() < 0 {
		return err
	}
	if err := s.bookNow(ctx, tx, &o, p.Day); err != nil {
		return err
	}
	o.Edit++
	return tx.SaveOrder(ctx, o)
}

// bookNow books a locked order.
func (s *Service) bookNow(ctx context.Context, tx Tx, o *Order, day time.Time) error {
	o.State, o.Paid = Booked, day
	if _, err := stock.Firm(ctx, tx, o.ID, o.Starts, s.now()); err != nil {
		return err
	}
	return s.book(ctx, tx, *o)
}

// DepositCame notes that the whole open deposit came on a day, as a payment. Of an order that is booked nothing is noted.
func (s *Service) DepositCame(ctx context.Context, id string, day time.Time, way Way, by string) (Taken, error) {
	return read(ctx, s, func(tx Tx) (Taken, error) {
		o, err := tx.LockOrder(ctx, id)
		if err != nil {
			return Taken{}, err
		}
		switch {
		case o.State == Booked:
			return s.taken(ctx, tx, id)
		case o.State != Accepted:
			return Taken{}, ended(o)
		}
		if why := dayPaid(o, day, s.now()); why != "" {
			return Taken{}, problem("day", day.Format(time.DateOnly), why)
		}
		d, err := dues(ctx, tx, o)
		if err != nil {
			return Taken{}, err
		}
		if open := d.DepositOpen(); open.Sign() > 0 {
			err = s.received(ctx, tx, o, Payment{Token: newID(), Day: stock.Day(day), Amount: open, Way: way}, by)
		} else if err = s.bookNow(ctx, tx, &o, day); err == nil { // no deposit is asked for: a word is enough
			o.Edit++
			err = tx.SaveOrder(ctx, o)
		}
		if err != nil {
			return Taken{}, err
		}
		return s.taken(ctx, tx, id)
	})
}
