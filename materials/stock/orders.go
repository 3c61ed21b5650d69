package stock

import (
	"context"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// Hold sets aside for an order what is there of what it needs, up to a time, and gives its promises by item: an
// order is never turned away, what could not be set aside is short. It is for one transaction with the order.
func Hold(ctx context.Context, tx LedgerTx, order string, needs []Need, until, now time.Time) ([]Promise, error) {
	items := make([]string, len(needs))
	for i, n := range needs {
		items[i] = n.Item
	}
	s, err := take(ctx, tx, now, "", items...)
	if err != nil {
		return nil, err
	}
	for _, n := range needs {
		if p := s.promise(order, n.Item); p != nil {
			p.Needed = p.Needed.Add(n.Quantity)
			continue
		}
		s.promises[n.Item] = append(s.promises[n.Item], Promise{Order: order, Item: n.Item, Needed: n.Quantity, Until: until, Due: n.Due, Asked: now})
	}
	if err := s.put(ctx); err != nil {
		return nil, err
	}
	return tx.PromisesOf(ctx, order)
}

// Firm makes an order's promises good for ever. What lapsed meanwhile is set aside again where it is still there.
func Firm(ctx context.Context, tx LedgerTx, order string, due, now time.Time) ([]Promise, error) {
	err := change(ctx, tx, order, now, func(p *Promise) { p.Firm, p.Due = true, due })
	if err != nil {
		return nil, err
	}
	return tx.PromisesOf(ctx, order)
}

// Release gives up everything that is set aside for an order; others who wait get it.
func Release(ctx context.Context, tx LedgerTx, order string, now time.Time) error {
	return change(ctx, tx, order, now, func(p *Promise) { p.Needed, p.Reserved = decimal.Zero, decimal.Zero })
}

// Reneed makes an order's promises fit what it needs from now on of each item: of what is no longer needed everything
// is given up, what comes on top waits like anything new. Promises that come on top are as firm as the others.
func Reneed(ctx context.Context, tx LedgerTx, order string, needs []Need, firm bool, until, now time.Time) error {
	promises, err := tx.PromisesOf(ctx, order)
	if err != nil {
		return err
	}
	needed := map[string]Need{}
	items := make([]string, 0, len(promises)+len(needs))
	for _, p := range promises {
		items = append(items, p.Item)
	}
	for _, n := range needs {
		n.Quantity = n.Quantity.Add(needed[n.Item].Quantity)
		needed[n.Item], items = n, append(items, n.Item)
	}
	s, err := take(ctx, tx, now, "", items...)
	if err != nil {
		return err
	}
	for _, item := range items {
		n := needed[item]
		if p := s.promise(order, item); p != nil {
			p.Needed, p.Reserved = n.Quantity, decimal.Min(p.Reserved, n.Quantity)
		} else if n.Quantity.IsPositive() {
			s.promises[item] = append(s.promises[item], Promise{Order: order, Item: item, Needed: n.Quantity, Firm: firm, Until: until, Due: n.Due, Asked: now})
		}
	}
	return s.put(ctx)
}

func change(ctx context.Context, tx LedgerTx, order string, now time.Time, how func(*Promise)) error {
	promises, err := tx.PromisesOf(ctx, order)
	if err != nil {
		return err
	}
	items := make([]string, len(promises))
	for i, p := range promises {
		items[i] = p.Item
	}
	s, err := take(ctx, tx, now, "", items...)
	if err != nil {
		return err
	}
	for _, item := range items {
		if p := s.promise(order, item); p != nil {
			how(p)
		}
	}
	return s.put(ctx)
}

// Used is what an order really took of an item.
type Used struct {
	Item     string
	Quantity decimal.Decimal
	Note     string
}

// Consume takes what an order really used off the shelf and ends its promises of those items, or of all when the
// order is done. It gives the cost. Using more than the shelf has by the books is a fault that names the item;
// using what was set aside for others is not: the shelf is what it is, and the last of them wait again.
func Consume(ctx context.Context, tx LedgerTx, order string, used []Used, done bool, by string, now time.Time) (money.Amount, error) {
	promises, err := tx.PromisesOf(ctx, order)
	if err != nil {
		return money.Amount{}, err
	}
	var items []string
	for _, u := range used {
		items = append(items, u.Item)
	}
	for _, p := range promises {
		if done {
			items = append(items, p.Item)
		}
	}
	s, err := take(ctx, tx, now, by, items...)
	if err != nil {
		return money.Amount{}, err
	}
	for _, item := range items {
		if p := s.promise(order, item); p != nil {
			p.Needed, p.Reserved = decimal.Zero, decimal.Zero
		}
	}
	cost, err := s.issue(order, slices.DeleteFunc(slices.Clone(used), func(u Used) bool { return u.Quantity.IsZero() }))
	if err != nil {
		return cost, err
	}
	return cost, s.put(ctx)
}

// Take takes what is used of an order on the way off the shelf and lowers its promises by that: the rest stays
// promised. What others are promised is theirs as long as the order takes no more than its own and what is free.
func Take(ctx context.Context, tx LedgerTx, order string, used []Used, by string, now time.Time) error {
	items := make([]string, len(used))
	for i, u := range used {
		items[i] = u.Item
	}
	s, err := take(ctx, tx, now, by, items...)
	if err != nil {
		return err
	}
	if _, err := s.issue(order, used); err != nil {
		return err
	}
	for _, u := range used {
		if p := s.promise(order, u.Item); p != nil {
			// What was set aside went first: otherwise an order that is short would keep it at the cost of others.
			p.Needed, p.Reserved = decimal.Max(decimal.Zero, p.Needed.Sub(u.Quantity)), decimal.Max(decimal.Zero, p.Reserved.Sub(u.Quantity))
		}
	}
	return s.put(ctx)
}

// issue moves what an order uses and gives the cost; what cannot go is a problem of its entry, used.latex.
func (s *shelf) issue(order string, used []Used) (money.Amount, error) {
	cost := money.Round(decimal.Zero, s.terms.Currency)
	var wrong fault.List
	for _, u := range used {
		noted := wrong.Len()
		amount(&wrong, "used."+u.Item, u.Quantity, s.balances[u.Item])
		words(&wrong, "used."+u.Item, u.Note, 400)
		if wrong.Len() > noted {
			continue
		}
		c, err := s.out(Issue, u.Item, "", u.Quantity, order, u.Note)
		if err != nil {
			if err := wrong.Take("used."+u.Item, err); err != nil {
				return cost, err
			}
			continue
		}
		cost = cost.Add(c)
	}
	return cost, wrong.Err()
}

// Due moves the day that an order's material is wanted.
func Due(ctx context.Context, tx LedgerTx, order string, day, now time.Time) error {
	return change(ctx, tx, order, now, func(p *Promise) { p.Due = day })
}
