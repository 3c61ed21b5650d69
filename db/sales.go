package db

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"

	"github.com/jackc/pgx/v5"
)

// salesStore keeps settings, customers, designs, quotes and documents. An act locks a quote before the number
// of its document, never the other way round.
type salesStore struct{ *DB }

// Sales is the store of sales.
func (d *DB) Sales() sales.Store { return salesStore{d} }

func (s salesStore) Act(ctx context.Context, act func(sales.Tx) error) error {
	return s.DB.Act(ctx, func(tx pgx.Tx) error { return act(salesTx{tx, s.DB}) })
}

// salesTx is the books within one transaction.
type salesTx struct {
	pgx.Tx
	db *DB
}

// settings are the workshop's without its catalogue and prices.
func (t salesTx) settings(ctx context.Context) (workshop.Workshop, error) {
	w := workshop.Usual()
	var body []byte // read over what is usual
	if err := t.QueryRow(ctx, "SELECT body FROM workshop").Scan(&body); err != nil {
		if errors.Is(err, pgx.ErrNoRows) {
			return w, noSettings(err)
		}
		return w, err
	}
	if err := json.Unmarshal(body, &w); err != nil {
		return w, fmt.Errorf("settings of the workshop: %w", err)
	}
	return w.Grown()
}

func noSettings(err error) error {
	return fault.New(fault.State, "The workshop has no settings yet. Start foamwright serve once: it begins with the usual ones.").Because(err)
}

func (t salesTx) Workshop(ctx context.Context, day time.Time) (workshop.Workshop, error) {
	w, err := t.settings(ctx)
	if err != nil {
		return w, err
	}
	r, err := t.db.stocked.read(ctx, t, stock.Day(day))
	w.Figures.Catalogue, w.Figures.Prices = r.catalogue, r.prices
	return w, err
}

func (t salesTx) Name(ctx context.Context) (name string, err error) {
	err = t.QueryRow(ctx, "SELECT body#>>'{Head,Name}' FROM workshop").Scan(&name)
	if errors.Is(err, pgx.ErrNoRows) {
		err = noSettings(err)
	}
	return name, err
}

func (t salesTx) SetWorkshop(ctx context.Context, w workshop.Workshop) error {
	w.Figures.Catalogue, w.Figures.Prices = materials.Catalogue{}, nil
	_, err := t.Exec(ctx, `INSERT INTO workshop (body) VALUES ($1)
		ON CONFLICT (single) DO UPDATE SET body = excluded.body, changed = now()`, w)
	return err
}

func (t salesTx) SetCurrency(ctx context.Context, c money.Currency) error {
	var used bool
	if err := t.QueryRow(ctx, `SELECT EXISTS (SELECT FROM quote WHERE currency IS NOT NULL) OR EXISTS (SELECT FROM movement)
		OR EXISTS (SELECT FROM purchase) OR EXISTS (SELECT FROM standard_price) OR EXISTS (SELECT FROM ready_shield)`).Scan(&used); err != nil {
		return err
	}
	if used {
		var l fault.List
		l.Add("rates.currency", string(c), "Amounts stand in the books already, so the currency stays. A workshop that goes over to another begins with a database of its own.")
		return l.Err()
	}
	_, err := t.Exec(ctx, "UPDATE balance SET currency = $1", c)
	return err
}

func (t salesTx) KeepStanding(ctx context.Context, s workshop.Standing) error {
	_, err := t.Exec(ctx, `INSERT INTO standing (until, fixed_costs, people, calendar) VALUES ($1, $2, $3, $4) ON CONFLICT DO NOTHING`,
		date(s.Until), s.FixedCosts, s.People, s.Calendar)
	return err
}

func (t salesTx) NextNumber(ctx context.Context, series string, year int) (int, error) {
	var no int
	err := t.QueryRow(ctx, `INSERT INTO document_number (series, year, last) VALUES ($1, $2, 1)
		ON CONFLICT (series, year) DO UPDATE SET last = document_number.last + 1 RETURNING last`, series, year).Scan(&no)
	return no, err
}

func (t salesTx) KeepSnapshot(ctx context.Context, of string, body []byte) error {
	_, err := t.Exec(ctx, "INSERT INTO snapshot (hash, body) VALUES ($1, $2) ON CONFLICT DO NOTHING", hash(of), body)
	return err
}

func (t salesTx) KeepDocument(ctx context.Context, doc sales.Document) error {
	_, err := t.Exec(ctx, "INSERT INTO document (hash, name, bytes) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING", hash(doc.Hash), doc.Name, doc.Bytes)
	return err
}

func (t salesTx) Document(ctx context.Context, of string) (sales.Document, error) {
	doc := sales.Document{Hash: of}
	err := t.QueryRow(ctx, "SELECT name, bytes FROM document WHERE hash = $1", hash(of)).Scan(&doc.Name, &doc.Bytes)
	return doc, missing(err, "document")
}
