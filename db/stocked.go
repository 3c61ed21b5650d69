package db

import (
	"context"
	"sync/atomic"
	"time"

	"foamwright/materials"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/workshop"

	"github.com/jackc/pgx/v5"
)

// stocked keeps what estimates take of the catalogue, decoded, as long as the database's count of changes stands:
// with thousands of items, reading them takes longer than an estimate. Any number of programs may share a database.
type stocked struct{ last atomic.Pointer[reading] }

// reading is the catalogue of a count and a day. Nobody writes into it.
type reading struct {
	version   int64
	day       time.Time
	list      stock.List
	items     map[string]stock.Item // of the list, by code
	catalogue materials.Catalogue
	prices    []pricing.Price
}

// read looks at the count before the rows. Whoever commits in between has raised it, so that the next one reads
// again. What an act has changed itself is not shared: it may still be undone.
func (s *stocked) read(ctx context.Context, t salesTx, day time.Time) (*reading, error) {
	r := &reading{day: day}
	var own bool
	if err := t.QueryRow(ctx, "SELECT n, coalesce(by = txid_current_if_assigned(), false) FROM catalogue_version").Scan(&r.version, &own); err != nil {
		return r, err
	}
	if last := s.last.Load(); last != nil && !own && last.version == r.version && last.day.Equal(day) {
		return last, nil
	}
	var err error
	if r.list, err = t.inForce(ctx, day); err != nil {
		return r, err
	}
	r.items = make(map[string]stock.Item, len(r.list.Items))
	for _, i := range r.list.Items {
		r.items[i.Code] = i
	}
	r.catalogue, r.prices = workshop.Stocked(r.list, day)
	if !own {
		s.last.Store(r)
	}
	return r, nil
}

func (t salesTx) InForce(ctx context.Context, day time.Time) (stock.List, error) {
	r, err := t.db.stocked.read(ctx, t, stock.Day(day))
	return r.list, err
}

// inForce is the catalogue with, of each pack's prices, only the one in force on a day.
func (t salesTx) inForce(ctx context.Context, day time.Time) (list stock.List, err error) {
	if list.Items, err = t.Items(ctx); err != nil {
		return list, err
	}
	rows, _ := t.Query(ctx, "SELECT "+offerColumns+`, p.valid_from, p.amount, p.noted, p.noted_by FROM offer o
		JOIN (SELECT DISTINCT ON (offer) * FROM offer_price WHERE valid_from <= $1 ORDER BY offer, valid_from DESC, id DESC) p ON p.offer = o.id
		WHERE NOT o.retired`, day.Format(time.DateOnly))
	list.Offers, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (o stock.Offer, err error) {
		var p stock.Price
		err = row.Scan(append(offerFields(&o), &p.From, &p.Amount, &p.Noted, &p.By)...)
		o.Prices = []stock.Price{p}
		return o, err
	})
	return list, err
}
