package stock

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// Store runs an act on the shelf as one transaction: all of it or nothing. It may run the act again when
// PostgreSQL asks for that, so an act's only effects are rows.
type Store interface {
	ActOnStock(ctx context.Context, act func(Tx) error) error
}

// Tx is the catalogue, the shelf and the buying within one transaction.
type Tx interface {
	CatalogueTx
	LedgerTx
	ListsTx
	BuyingTx
}

// Service is what the faces call.
type Service struct {
	store Store
	now   func() time.Time
}

// NewService joins a store to a clock.
func NewService(store Store, now func() time.Time) *Service { return &Service{store, now} }

// Delivery is something that came in outside of a purchase.
type Delivery struct {
	ID                    string // of the lot, chosen by who asks, so that nothing is received twice; empty for a new one
	Item, Supplier, Label string
	Quantity              decimal.Decimal // stock units
	Cost                  decimal.Decimal // of all of it, net
	BestBefore            time.Time
	Note                  string
}

// Receive puts a delivery on the shelf as a lot of its own.
func (s *Service) Receive(ctx context.Context, d Delivery, by string) (Lot, error) {
	var lot Lot
	err := s.shelf(ctx, by, func(tx Tx, shelf *shelf) error {
		b := shelf.balances[d.Item]
		var l fault.List
		amount(&l, "quantity", d.Quantity, b)
		if d.Cost.IsNegative() || d.Cost.GreaterThan(mostMoney) {
			l.Add("cost", d.Cost.String(), "Write what all of it cost, net: 0 or more, at most 10000000.")
		}
		if d.ID != "" {
			if err := l.Take("", ownID(d.ID)); err != nil {
				return err
			}
		}
		if d.Supplier != "" {
			if _, err := tx.Supplier(ctx, d.Supplier); fault.KindOf(err) == fault.NotFound {
				l.Add("supplier", d.Supplier, "There is no such supplier. Choose one of the list.")
			} else if err != nil {
				return err
			}
		}
		words(&l, "label", d.Label, 60)
		words(&l, "note", d.Note, 400)
		if err := l.Err(); err != nil {
			return err
		}
		lot = shelf.in(Receipt, Lot{ID: d.ID, Item: d.Item, Supplier: d.Supplier, Label: strings.TrimSpace(d.Label), BestBefore: d.BestBefore}, d.Quantity, money.Round(d.Cost, shelf.terms.Currency), "", strings.TrimSpace(d.Note))
		return nil
	}, d.Item)
	return lot, err
}

// Waste takes spoiled stock off the shelf, with the reason: of one lot, or the oldest first where none is named.
func (s *Service) Waste(ctx context.Context, item, lot string, quantity decimal.Decimal, why, by string) error {
	return s.shelf(ctx, by, func(_ Tx, shelf *shelf) error {
		var l fault.List
		reason(&l, "note", why)
		if cut := shelf.offcut(item, lot); cut != nil {
			if err := l.Err(); err != nil {
				return err
			}
			shelf.outOffcut(Waste, *cut, "", strings.TrimSpace(why))
			return nil
		}
		if lot != "" && !slices.ContainsFunc(shelf.lots[item], func(l Lot) bool { return l.ID == lot }) {
			l.Add("lot", lot, "This lot is not on the shelf any more: it was used up or thrown away. Choose another.")
		}
		amount(&l, "quantity", quantity, shelf.balances[item])
		if err := l.Err(); err != nil {
			return err
		}
		_, err := shelf.out(Waste, item, lot, quantity, "", strings.TrimSpace(why))
		return err
	}, item)
}

// Return puts back what an order had taken and did not use, at what it cost the order. More than the order took is
// refused.
func (s *Service) Return(ctx context.Context, item, order string, quantity decimal.Decimal, why, by string) error {
	return s.shelf(ctx, by, func(tx Tx, shelf *shelf) error {
		took, cost, err := tx.Taken(ctx, order, item)
		if err != nil {
			return err
		}
		var l fault.List
		amount(&l, "quantity", quantity, shelf.balances[item])
		if quantity.GreaterThan(took) {
			l.Add("quantity", quantity.String(), fmt.Sprintf("The order took %s %s. Write no more than that.", took, shelf.balances[item].Unit))
		}
		words(&l, "note", why, 400)
		if err := l.Err(); err != nil {
			return err
		}
		shelf.in(Return, Lot{Item: item, Label: "Came back"}, quantity, part(cost, quantity, took), order, strings.TrimSpace(why))
		return nil
	}, item)
}

// MarkLot notes when a lot was opened, what is printed on it and how it is called.
func (s *Service) MarkLot(ctx context.Context, l Lot) error {
	var wrong fault.List
	words(&wrong, "label", l.Label, 60)
	if l.Opened.After(Day(s.now())) {
		wrong.Add("opened", l.Opened.Format(time.DateOnly), "That day has not come yet. Write the day it was opened.")
	}
	if err := wrong.Err(); err != nil {
		return err
	}
	return s.store.ActOnStock(ctx, func(tx Tx) error { return tx.MarkLot(ctx, l) })
}

// shelf runs an act on some items and writes what it did.
func (s *Service) shelf(ctx context.Context, by string, act func(Tx, *shelf) error, items ...string) error {
	return s.store.ActOnStock(ctx, func(tx Tx) error {
		shelf, err := take(ctx, tx, s.now(), by, items...)
		if err != nil {
			return err
		}
		if err := act(tx, shelf); err != nil {
			return err
		}
		return shelf.put(ctx)
	})
}

// The most that one movement may be; far above any workshop, far below what sums could not hold.
var (
	mostQuantity = decimal.NewFromInt(1_000_000)
	mostMoney    = decimal.NewFromInt(10_000_000)
)

// amount notes a quantity that cannot be moved: nothing, too much, or finer than the unit is counted.
func amount(l *fault.List, field string, q decimal.Decimal, b Balance) {
	switch places := b.Unit.Places(); {
	case !q.IsPositive() || q.GreaterThan(mostQuantity):
		l.Add(field, q.String(), fmt.Sprintf("Write a quantity above 0 and up to %s.", mostQuantity))
	case !q.Equal(q.Round(places)):
		l.Add(field, q.String(), fmt.Sprintf("%s is counted to %d places. Write %s.", b.Unit, places, q.Round(places)))
	}
}

func words(l *fault.List, field, text string, most int) {
	if utf8.RuneCountInString(text) > most {
		l.Add(field, text, fmt.Sprintf("This is too long. Shorten it to %d characters.", most))
	}
	if strings.ContainsRune(text, 0) || !utf8.ValidString(text) {
		l.Add(field, text, "This has a character that cannot be kept; type it again without special characters.")
	}
}

func reason(l *fault.List, field, why string) {
	words(l, field, why, 400)
	if strings.TrimSpace(why) == "" {
		l.Add(field, "", "Say why in a few words: it stands in the ledger.")
	}
}
