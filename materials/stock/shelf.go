package stock

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// shelf is some items, locked, while one act moves and promises them. Nothing is written before put, which keeps
// every rule of the ledger in one place: what goes out was free or set aside for that order, and what is free
// afterwards goes to whoever waits first.
type shelf struct {
	tx       LedgerTx
	terms    Terms
	now      time.Time
	by       string
	balances map[string]Balance
	lots     map[string][]Lot
	promises map[string][]Promise // as they are to be
	were     map[string][]Promise // as they were found
	fresh    []Lot
	moves    []Movement
}

// take locks items and reads what there is of them. Codes that are not in the catalogue give a NotFound fault.
func take(ctx context.Context, tx LedgerTx, now time.Time, by string, items ...string) (*shelf, error) {
	items = slices.Compact(slices.Sorted(slices.Values(items)))
	s := &shelf{tx: tx, now: now, by: by, lots: map[string][]Lot{}, promises: map[string][]Promise{}, were: map[string][]Promise{}}
	var err error
	if s.balances, err = tx.LockBalances(ctx, items); err != nil {
		return nil, err
	}
	if s.terms, err = tx.Terms(ctx); err != nil {
		return nil, err
	}
	lots, err := tx.Lots(ctx, items)
	if err != nil {
		return nil, err
	}
	for _, l := range lots {
		s.lots[l.Item] = append(s.lots[l.Item], l)
	}
	promises, err := tx.Promises(ctx, items)
	if err != nil {
		return nil, err
	}
	for _, p := range promises {
		s.promises[p.Item] = append(s.promises[p.Item], p)
		s.were[p.Item] = append(s.were[p.Item], p)
	}
	return s, nil
}

// in puts a quantity of an item into a new lot.
func (s *shelf) in(kind Kind, lot Lot, quantity decimal.Decimal, cost money.Amount, order, note string) Lot {
	lot.ID, lot.Received = cmp.Or(lot.ID, newID()), s.now
	s.fresh = append(s.fresh, lot)
	s.into(kind, lot, quantity, cost, order, note)
	return lot
}

// into puts a quantity into a lot that is there.
func (s *shelf) into(kind Kind, lot Lot, quantity decimal.Decimal, cost money.Amount, order, note string) {
	s.moves = append(s.moves, Movement{At: s.now, Item: lot.Item, Lot: lot.ID, Kind: kind, Quantity: quantity, Cost: cost, LotCost: cost, Order: order, Note: note, By: s.by})
	s.count(lot, quantity, cost, cost)
}

// count keeps the balance and the lot in step with a movement, as the ledger's own triggers do.
func (s *shelf) count(lot Lot, quantity decimal.Decimal, cost, lotCost money.Amount) {
	b := s.balances[lot.Item]
	if lot.Shape != nil {
		b.Offcuts, b.OffcutValue = b.Offcuts.Add(quantity), b.OffcutValue.Add(cost)
	} else {
		b.OnHand, b.Value = b.OnHand.Add(quantity), b.Value.Add(cost)
	}
	s.balances[lot.Item] = b
	lots := s.lots[lot.Item]
	i := slices.IndexFunc(lots, func(l Lot) bool { return l.ID == lot.ID })
	if i < 0 {
		lots, i = append(lots, lot), len(lots)
	}
	lots[i].Left, lots[i].Value = lots[i].Left.Add(quantity), lots[i].Value.Add(lotCost)
	s.lots[lot.Item] = lots
}

// out takes a quantity of whole stock: from one lot where it is named, else oldest first. More than there is
// gives a Shortage fault.
func (s *shelf) out(kind Kind, item, lot string, quantity decimal.Decimal, order, note string) (money.Amount, error) {
	var from []Lot
	there := decimal.Zero
	for _, l := range s.lots[item] {
		if l.Shape == nil && (lot == "" || l.ID == lot) {
			from = append(from, l)
			there = there.Add(l.Left)
		}
	}
	b := s.balances[item]
	cost := money.Round(decimal.Zero, s.terms.Currency)
	if quantity.GreaterThan(there) {
		return cost, fault.New(fault.Shortage, "The shelf has %s %s of %s by the books, and %s are to go. If there is more, count it first.", there, b.Unit, item, quantity)
	}
	for _, d := range s.terms.Costing.Draw(from, quantity, b.OnHand, b.Value) {
		s.moves = append(s.moves, Movement{At: s.now, Item: item, Lot: d.Lot, Kind: kind, Quantity: d.Quantity.Neg(), Cost: d.Cost.Neg(), LotCost: d.LotCost.Neg(), Order: order, Note: note, By: s.by})
		s.count(Lot{ID: d.Lot, Item: item}, d.Quantity.Neg(), d.Cost.Neg(), d.LotCost.Neg())
		cost = cost.Add(d.Cost)
	}
	return cost, nil
}

// promise is an order's promise of an item, to be changed; nil when it has none.
func (s *shelf) promise(order, item string) *Promise {
	for i := range s.promises[item] {
		if p := &s.promises[item][i]; p.Order == order {
			return p
		}
	}
	return nil
}

// put writes everything: first what is given up, then the movements, then what is newly set aside, so that no
// promise ever stands on more than there is.
func (s *shelf) put(ctx context.Context) error {
	var less, more []Promise
	for _, item := range slices.Sorted(maps.Keys(s.balances)) {
		for _, p := range share(s.balances[item].OnHand, s.promises[item], s.now) {
			i := slices.IndexFunc(s.were[item], func(w Promise) bool { return w.Order == p.Order })
			switch {
			case i < 0 || p.Reserved.GreaterThan(s.were[item][i].Reserved):
				more = append(more, p)
			case !same(p, s.were[item][i]):
				less = append(less, p)
			}
		}
	}
	for _, write := range []func() error{
		func() error { return s.tx.KeepPromises(ctx, less) },
		func() error { return s.tx.AddLots(ctx, s.fresh) },
		func() error { return s.tx.Move(ctx, s.moves) },
		func() error { return s.tx.KeepPromises(ctx, more) },
	} {
		if err := write(); err != nil {
			return err
		}
	}
	return nil
}

func same(a, b Promise) bool {
	return a.Needed.Equal(b.Needed) && a.Reserved.Equal(b.Reserved) && a.Firm == b.Firm && a.Until.Equal(b.Until) && a.Due.Equal(b.Due)
}
