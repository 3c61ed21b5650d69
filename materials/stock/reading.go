package stock

import (
	"context"
	"slices"
	"time"

	"github.com/shopspring/decimal"
)

// read runs an act that only looks, after what is held past its time was given free.
func (s *Service) read(ctx context.Context, act func(Tx) error) error {
	return s.store.ActOnStock(ctx, func(tx Tx) error {
		lapsed, err := tx.Lapsed(ctx, s.now())
		if err != nil {
			return err
		}
		if len(lapsed) > 0 {
			shelf, err := take(ctx, tx, s.now(), "", lapsed...)
			if err != nil {
				return err
			}
			if err := shelf.put(ctx); err != nil {
				return err
			}
		}
		return act(tx)
	})
}

// List is items with what the shelf says of them.
func (s *Service) List(ctx context.Context, f Found) (rows []Row, err error) {
	f.At = s.now()
	err = s.read(ctx, func(tx Tx) error {
		rows, err = tx.Rows(ctx, f)
		return err
	})
	return rows, err
}

// Card is everything the shelf knows of one item.
type Card struct {
	Row
	Lots     []Lot // oldest first; those with a shape are offcuts
	Moves    []Movement
	Promises []Promise // in the order they come to their share
	Offers   []Offer
	Used     decimal.Decimal // by orders, in the last year
}

// Card is one item. Movements are the newest, or those older than a number.
func (s *Service) Card(ctx context.Context, item string, before int64, most int) (c Card, err error) {
	err = s.read(ctx, func(tx Tx) error {
		if _, err := tx.Item(ctx, item); err != nil {
			return err
		}
		rows, err := tx.Rows(ctx, Found{Item: item, Retired: true, At: s.now()})
		if err != nil {
			return err
		}
		c = Card{Row: rows[0]}
		if c.Lots, err = tx.Lots(ctx, []string{item}); err != nil {
			return err
		}
		if c.Promises, err = tx.Promises(ctx, []string{item}); err != nil {
			return err
		}
		if c.Offers, err = tx.Offers(ctx, item); err != nil {
			return err
		}
		if c.Used, err = tx.Used(ctx, item, s.now().AddDate(-1, 0, 0)); err != nil {
			return err
		}
		c.Moves, err = tx.Movements(ctx, item, before, most)
		return err
	})
	return c, err
}

// Mind is a lot that wants looking after, and why.
type Mind struct {
	Item  Item
	Lot   Lot
	Until time.Time // the last day it is good for; of an offcut the day it is offered for the bin
}

// Late tells that the day is over.
func (m Mind) Late(today time.Time) bool { return m.Until.Before(today) }

// Today is what the shelf wants looked at: lots that are past their day or within two weeks of it, offcuts that lay
// too long, and purchases that should be here.
type Today struct {
	Skinning, Offcuts []Mind
	Expected          []Purchase
}

// soon is how far ahead Today looks.
const soon = 14

// Today looks at lots, offcuts and purchases.
func (s *Service) Today(ctx context.Context) (t Today, err error) {
	today := Day(s.now())
	err = s.read(ctx, func(tx Tx) error {
		t = Today{}
		terms, err := tx.Terms(ctx)
		if err != nil {
			return err
		}
		minded, err := tx.Minded(ctx, today.AddDate(0, 0, soon), today.AddDate(0, 0, -terms.ScrapDays))
		if err != nil {
			return err
		}
		for _, m := range minded {
			if m.Lot.Shape != nil {
				m.Until = Day(m.Lot.Received).AddDate(0, 0, terms.ScrapDays)
				t.Offcuts = append(t.Offcuts, m)
				continue
			}
			m.Until = m.Lot.Until(m.Item)
			t.Skinning = append(t.Skinning, m)
		}
		slices.SortStableFunc(t.Skinning, func(a, b Mind) int { return a.Until.Compare(b.Until) })
		open, err := tx.Purchases(ctx, 200)
		if err != nil {
			return err
		}
		for _, p := range open {
			if p.Closed.IsZero() && !p.Expected.After(today) {
				t.Expected = append(t.Expected, p)
			}
		}
		return nil
	})
	return t, err
}

// Offcuts are all that are on the shelf, by foam, oldest first.
func (s *Service) Offcuts(ctx context.Context) (list []Mind, err error) {
	err = s.read(ctx, func(tx Tx) error {
		terms, err := tx.Terms(ctx)
		if err != nil {
			return err
		}
		if list, err = tx.OffcutsKept(ctx); err != nil {
			return err
		}
		for i := range list {
			list[i].Until = Day(list[i].Lot.Received).AddDate(0, 0, terms.ScrapDays)
		}
		return nil
	})
	return list, err
}
