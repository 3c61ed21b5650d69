package demo

import (
	"context"

	"github.com/shopspring/decimal"

	"foamwright/materials/stock"
	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
)

// answered is what the customer said to a quote that was sent, and what followed.
func (t *teller) answered(s tale, sent <-chan sales.Quote) {
	var order string
	follow := func(days int, do func(ctx context.Context) error) {
		if days > 0 {
			t.follow = append(t.follow, happening{days, do})
		}
	}
	follow(s.answered, func(ctx context.Context) (err error) {
		select {
		case q := <-sent:
			order, err = t.said(ctx, s, q)
		case <-ctx.Done():
			err = context.Cause(ctx)
		}
		return err
	})
	m := s.made
	follow(m.deposit, func(ctx context.Context) error {
		if _, err := t.Sales(t.ago(m.deposit)).DepositCame(ctx, order, t.ago(m.deposit), sales.ByTransfer, wren); err != nil {
			return err
		}
		return t.buy(ctx, t.ago(m.deposit), t.ago(m.deposit))
	})
	follow(m.cancelled, func(ctx context.Context) error {
		_, err := t.Sales(t.ago(m.cancelled)).Cancel(ctx, order, m.why, nil, wren)
		return err
	})
	follow(m.done, func(ctx context.Context) error {
		if err := t.finish(ctx, order, m); err != nil {
			return err
		}
		return t.bill(ctx, t.ago(m.done), order, sales.BalanceBill)
	})
	if m.credit != "" {
		follow(m.done-2, func(ctx context.Context) error { return t.credited(ctx, order, m) })
	}
	follow(m.settled, func(ctx context.Context) error { return t.paid(ctx, order, m.settled) })
}

// said notes the answer; of a yes it is the order.
func (t *teller) said(ctx context.Context, s tale, q sales.Quote) (order string, err error) {
	books, c := t.Sales(t.ago(s.answered)), sales.Choice{Name: s.customer, Note: s.why}
	if s.why != "" {
		_, err := books.Decline(ctx, q.ID, c, wren)
		return "", err
	}
	got, err := books.Accept(ctx, q.ID, c, wren)
	if err != nil {
		return "", err
	}
	return got.Order.ID, t.bill(ctx, t.ago(s.answered), got.Order.ID, sales.DepositBill)
}

// finish takes what is left of the material, as much of it as was really spread, logs the time and ends the order.
func (t *teller) finish(ctx context.Context, order string, m made) error {
	books := t.Sales(t.ago(m.done))
	planned, err := books.Actual(ctx, order)
	if err != nil {
		return err
	}
	if err := t.logged(ctx, planned, order, m); err != nil {
		return err
	}
	got, err := books.Order(ctx, order)
	if err != nil {
		return err
	}
	var used []stock.Used
	for _, k := range got.Left() {
		if q := k.Quantity.Mul(d(m.spread)).Round(-k.Quantity.Exponent()); q.IsPositive() {
			used = append(used, stock.Used{Item: k.Item, Quantity: q})
		}
	}
	// Some of it was fetched while the shield was made, the rest when it was done.
	half := len(used) / 2
	if got, err = books.Take(ctx, order, got.Order.Edit, used[:half], wren); err != nil {
		return err
	}
	_, err = books.Finish(ctx, order, used[half:], wren)
	return err
}

// credited gives a customer something back of the balance.
func (t *teller) credited(ctx context.Context, order string, m made) error {
	books := t.Sales(t.ago(m.done - 2))
	dues, err := books.Dues(ctx, order)
	if err != nil {
		return err
	}
	last := dues.Bills[len(dues.Bills)-1]
	_, err = books.Credit(ctx, last.ID, sales.Crediting{Amount: d(m.credit), Reason: m.creditFor, Token: "credit of " + order}, wren)
	return err
}

// paid settles what is open, or pays back what came too much.
func (t *teller) paid(ctx context.Context, order string, days int) error {
	books := t.Sales(t.ago(days))
	dues, err := books.Dues(ctx, order)
	if err != nil {
		return err
	}
	sum := dues.Owed().Decimal()
	if over := dues.Overpaid().Decimal(); over.IsPositive() {
		sum = over.Neg()
	}
	_, err = books.Receive(ctx, order, sales.Paying{Day: t.ago(days), Amount: sum, Way: sales.ByTransfer, Token: "balance of " + order}, wren)
	return err
}

// logged writes the minutes of every group of steps, and what was done again.
func (t *teller) logged(ctx context.Context, planned sales.Actual, order string, m made) error {
	books, day := t.Sales(t.ago(m.done)), stock.Day(t.ago(m.done))
	for _, g := range planned.Groups {
		minutes := decimal.Max(decimal.NewFromInt(1), g.Planned.Mul(d(m.pace)).Round(0))
		if _, err := books.LogTime(ctx, labour.Log{Order: order, Step: g.Group, Minutes: minutes, Day: day, By: wren}); err != nil {
			return err
		}
	}
	if m.rework == "" {
		return nil
	}
	_, err := books.LogTime(ctx, labour.Log{Order: order, Step: "coat", Minutes: decimal.NewFromInt(m.again), Day: day, Rework: m.rework, By: wren})
	return err
}
