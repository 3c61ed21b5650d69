package sales

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
)

// Orders lists orders, newest first.
func (s *Service) Orders(ctx context.Context, f Found) ([]Order, error) {
	return read(ctx, s, func(tx Tx) ([]Order, error) { return tx.Orders(ctx, f) })
}

// Taken is an order with what it takes: as its quote reckoned, what is set aside, and what came off the shelf.
type Taken struct {
	Order    Order
	Quote    Quote // as the order is made
	Promises []stock.Promise
	Moves    []stock.Movement
}

// Order is one order with its materials.
func (s *Service) Order(ctx context.Context, id string) (Taken, error) {
	return read(ctx, s, func(tx Tx) (t Taken, err error) {
		return s.taken(ctx, tx, id)
	})
}

func (s *Service) taken(ctx context.Context, tx Tx, id string) (t Taken, err error) {
	if t.Order, err = tx.Order(ctx, id); err != nil {
		return t, err
	}
	if t.Quote, err = tx.Quote(ctx, t.Order.QuoteID); err != nil {
		return t, err
	}
	t.Quote = t.Order.as(t.Quote)
	if t.Promises, err = tx.PromisesOf(ctx, id); err != nil {
		return t, err
	}
	t.Moves, err = tx.MovementsOf(ctx, id)
	return t, err
}

// Accept makes an order of an issued quote, as the customer chose. What it takes of the shelf is held until the deposit is due; nobody
// is turned away for stock, what is missing is short and is to be bought. Accepting twice gives the same order;
// another choice than the one it was made of is a Conflict.
func (s *Service) Accept(ctx context.Context, quoteID string, c Choice, by string) (Taken, error) {
	return read(ctx, s, func(tx Tx) (Taken, error) {
		id, _, err := s.accept(ctx, tx, quoteID, c, by)
		if err != nil {
			return Taken{}, err
		}
		return s.taken(ctx, tx, id)
	})
}

// accept is Accept within an act; fresh is false where there was an order already.
func (s *Service) accept(ctx context.Context, tx Tx, quoteID string, c Choice, by string) (id string, fresh bool, err error) {
	q, err := tx.LockQuote(ctx, quoteID)
	if err != nil {
		return "", false, err
	}
	if o, err := tx.OrderOf(ctx, quoteID); err == nil {
		return o.ID, false, sameChoice(ctx, tx, q, c)
	} else if fault.KindOf(err) != fault.NotFound {
		return "", false, err
	}
	now := s.now()
	switch {
	case q.State != Issued:
		return "", false, fault.New(fault.State, "Only a quote that stands can be accepted: this one is %s.", map[State]string{Draft: "not sent yet", Replaced: "replaced by a later version", Declined: "declined"}[q.State])
	case !q.Stands(now):
		return "", false, fault.New(fault.State, "Quote %s stood until %s. Make a new version with today's prices.", q.Number, q.ValidUntil.Format("2 January 2006"))
	}
	if c.Document != "" && c.Document != q.Document {
		return "", false, fault.New(fault.Conflict, "This is not the quote you saw. Open it again, look at it, then accept.")
	}
	options, err := q.Printed.chosen(c.Options)
	if err != nil {
		return "", false, err
	}
	made, err := s.agree(ctx, tx, q, options)
	if err != nil {
		return "", false, err
	}
	w, err := tx.Workshop(ctx, now)
	if err != nil {
		return "", false, err
	}
	due := stock.Day(now).AddDate(0, 0, w.DepositDays)
	over := time.Date(due.Year(), due.Month(), due.Day()+1, 0, 0, 0, 0, now.Location()) // by the clock of the workshop
	o := Order{
		ID: newID(), QuoteID: q.ID, CustomerID: q.CustomerID, Title: q.Title, State: Accepted, Accepted: now,
		DepositDue: due, Starts: w.Figures.Calendar.WorkingDay(schedule.Later(due.AddDate(0, 0, 1), w.Begin(stock.Day(now)))), Number: Number{Series: w.Series, Year: now.Year()},
		Terms: q.Printed.Terms, Deposit: money.Sum(q.Gross.Currency()), Lines: q.lines(options), Agreed: made,
	}
	total := o.Totals().Gross
	o.Deposit = q.deposit(total)
	q = o.as(q)
	needs := make([]stock.Need, 0, len(q.Printed.Takes))
	for _, t := range q.Printed.Takes {
		if t.Quantity.IsPositive() {
			needs = append(needs, stock.Need{Item: t.Item, Quantity: t.Quantity, Due: o.Starts})
		}
	}
	// Balances first, the series' counter last: every act locks in this order.
	if _, err := tx.LockBalances(ctx, items(needs)); err != nil {
		return "", false, err
	}
	if o.Number.No, err = tx.NextNumber(ctx, orderSeries(w.Series), o.Number.Year); err != nil {
		return "", false, err
	}
	if err := tx.AddOrder(ctx, o); err != nil {
		return "", false, err
	}
	if err := s.answered(ctx, tx, q, c.answer(Yes, by, total)); err != nil {
		return "", false, err
	}
	if _, err := stock.Hold(ctx, tx, o.ID, needs, over, now); err != nil {
		return "", false, err
	}
	if err := s.confirm(ctx, tx, o, q, by); err != nil {
		return "", false, err
	}
	return o.ID, true, nil
}

// Accepted is the order that was made of a quote, whichever of its versions the customer accepted; false while there
// is none.
func (s *Service) Accepted(ctx context.Context, q Quote) (o Order, found bool, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		versions, err := tx.Versions(ctx, q.Number)
		if err == nil {
			o, found, err = accepted(ctx, tx, versions)
		}
		return err
	})
	return o, found, err
}

func accepted(ctx context.Context, tx Tx, versions []Quote) (Order, bool, error) {
	for _, v := range versions {
		o, err := tx.OrderOf(ctx, v.ID)
		if err == nil {
			return o, true, nil
		}
		if fault.KindOf(err) != fault.NotFound {
			return o, false, err
		}
	}
	return Order{}, false, nil
}

// open refuses another version of what was accepted: it is an order now.
func open(ctx context.Context, tx Tx, versions []Quote) error {
	o, found, err := accepted(ctx, tx, versions)
	if err == nil && found {
		err = fault.New(fault.State, "Quote %s was accepted: it is order %s now, and there can be no other version of it. Make a new quote for what comes on top.", o.Quote, o.Number)
	}
	return err
}

// Start moves the first day at the bench: material is wanted by then.
func (s *Service) Start(ctx context.Context, id string, day time.Time) (Taken, error) {
	return s.order(ctx, id, func(tx Tx, o *Order) error {
		if !o.Open() {
			return ended(*o)
		}
		day, today := stock.Day(day), stock.Day(s.now())
		if day.Before(today) {
			return problem("starts", day.Format(time.DateOnly), "That day is over. Write today or a later one.")
		}
		if day.After(today.AddDate(5, 0, 0)) {
			return problem("starts", day.Format(time.DateOnly), "That is more than five years ahead. Write an earlier day.")
		}
		o.Starts = day
		if err := stock.Due(ctx, tx, o.ID, o.Starts, s.now()); err != nil || o.State != Booked {
			return err
		}
		return s.book(ctx, tx, *o)
	})
}

// Take takes what is used of an order while it is made off the shelf; the rest of its material stays promised. Edit is
// the order's as it was seen: a button pressed twice takes once.
func (s *Service) Take(ctx context.Context, id string, edit int, used []stock.Used, by string) (Taken, error) {
	return s.order(ctx, id, func(tx Tx, o *Order) error {
		if err := booked(*o); err != nil {
			return err
		}
		if o.Edit != edit {
			return fault.New(fault.Conflict, "Order %s has changed since this page was opened, by a second press or by somebody else; nothing more was taken. Look at what is taken by now, and write what is still to come off the shelf.", o.Number)
		}
		return stock.Take(ctx, tx, o.ID, used, by, s.now())
	})
}

// Finish ends an order that was made, with what it really used; what was set aside and not used is free again.
func (s *Service) Finish(ctx context.Context, id string, used []stock.Used, by string) (Taken, error) {
	return s.order(ctx, id, func(tx Tx, o *Order) error {
		if err := booked(*o); err != nil {
			return err
		}
		if err := withdraw(ctx, tx, s.now(), id, by); err != nil {
			return err
		}
		o.State, o.Ended = Done, s.now()
		_, err := stock.Consume(ctx, tx, o.ID, used, true, by, o.Ended)
		return err
	})
}

// order changes a locked order and gives it back with its materials.
func (s *Service) order(ctx context.Context, id string, act func(Tx, *Order) error) (Taken, error) {
	return read(ctx, s, func(tx Tx) (Taken, error) {
		o, err := tx.LockOrder(ctx, id)
		if err != nil {
			return Taken{}, err
		}
		if err := act(tx, &o); err != nil {
			return Taken{}, err
		}
		o.Edit++
		if err := tx.SaveOrder(ctx, o); err != nil {
			return Taken{}, err
		}
		return s.taken(ctx, tx, o.ID)
	})
}

// Used is what an order took off the shelf so far, by item, less what came back.
func (t Taken) Used() map[string]decimal.Decimal {
	used := map[string]decimal.Decimal{}
	for _, m := range t.Moves {
		used[m.Item] = used[m.Item].Sub(m.Quantity)
	}
	return used
}

// Cost is what the material of an order cost so far.
func (t Taken) Cost() money.Amount {
	var cost money.Amount
	for _, m := range t.Moves {
		cost = cost.Sub(m.Cost)
	}
	return cost
}

func items(needs []stock.Need) []string {
	codes := make([]string, len(needs))
	for i, n := range needs {
		codes[i] = n.Item
	}
	return codes
}

// booked refuses an order that is not at the bench.
func booked(o Order) error {
	switch {
	case o.State == Booked:
		return nil
	case o.Open():
		return fault.New(fault.State, "The deposit of order %s has not come yet. Note it first.", o.Number)
	}
	return ended(o)
}

func ended(o Order) error {
	return fault.New(fault.State, "Order %s is %s; nothing can be changed about it.", o.Number, o.State)
}

func problem(field, value, remedy string) error {
	var l fault.List
	l.Add(field, value, remedy)
	return l.Err()
}

func orderSeries(series string) string { return strings.TrimSpace(fmt.Sprintf("%s order", series)) }
