package db

import (
	"context"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"

	"github.com/google/uuid"
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

func salesRefusals(constraint string) refusal {
	switch constraint {
	case "design_name_once":
		return refusal{"name", "There is a design of this name already; choose another."}
	case "quote_customer", "waiting_customer":
		return refusal{"customer", "There is no such customer. Choose one of the list."}
	}
	return refusal{}
}

// key reads an id that came from outside; what is no id belongs to nothing.
func key(id string) (uuid.UUID, error) {
	k, err := uuid.Parse(id)
	if err != nil || len(id) != 36 {
		return k, fault.New(fault.NotFound, "There is no such entry. It may have been removed.")
	}
	return k, nil
}

// digest reads a hash; an empty one is null.
func digest(hash string) ([]byte, error) {
	if hash == "" {
		return nil, nil
	}
	b, err := hex.DecodeString(hash)
	if err != nil {
		return nil, fmt.Errorf("hash %q: %w", hash, err)
	}
	return b, nil
}

// missing names what a query did not find.
func missing(err error, what string) error {
	if errors.Is(err, pgx.ErrNoRows) {
		return fault.New(fault.NotFound, "There is no such %s. It may have been removed.", what).Because(err)
	}
	return translate(err, salesRefusals)
}

// settings are the workshop's without its catalogue and prices.
func (t salesTx) settings(ctx context.Context) (workshop.Workshop, error) {
	w := workshop.Usual()
	var body []byte
	if err := t.QueryRow(ctx, "SELECT body FROM workshop").Scan(&body); err != nil {
		if errors.Is(err, pgx.ErrNoRows) {
			return w, fault.New(fault.State, "The workshop has no settings yet. Start foamwright serve once: it begins with the usual ones.").Because(err)
		}
		return w, translate(err)
	}
	if err := json.Unmarshal(body, &w); err != nil {
		return w, fmt.Errorf("settings of the workshop: %w", err)
	}
	return w.Grown()
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

func (t salesTx) SetWorkshop(ctx context.Context, w workshop.Workshop) error {
	w.Figures.Catalogue, w.Figures.Prices = materials.Catalogue{}, nil
	body, err := json.Marshal(w)
	if err != nil {
		return fmt.Errorf("settings of the workshop: %w", err)
	}
	_, err = t.Exec(ctx, `INSERT INTO workshop (body) VALUES ($1)
		ON CONFLICT (single) DO UPDATE SET body = excluded.body, changed = now()`, string(body))
	return translate(err, salesRefusals)
}

func (t salesTx) KeepStanding(ctx context.Context, s workshop.Standing) error {
	calendar, err := json.Marshal(s.Calendar)
	if err != nil {
		return fmt.Errorf("calendar of the workshop: %w", err)
	}
	_, err = t.Exec(ctx, `INSERT INTO standing (until, fixed_costs, people, calendar) VALUES ($1, $2, $3, $4) ON CONFLICT DO NOTHING`,
		date(s.Until), s.FixedCosts, s.People, calendar)
	return translate(err, salesRefusals)
}

func (t salesTx) NextNumber(ctx context.Context, series string, year int) (int, error) {
	var no int
	err := t.QueryRow(ctx, `INSERT INTO document_number (series, year, last) VALUES ($1, $2, 1)
		ON CONFLICT (series, year) DO UPDATE SET last = document_number.last + 1 RETURNING last`, series, year).Scan(&no)
	return no, translate(err)
}

func (t salesTx) KeepSnapshot(ctx context.Context, hash string, body []byte) error {
	d, err := digest(hash)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "INSERT INTO snapshot (hash, body) VALUES ($1, $2) ON CONFLICT DO NOTHING", d, body)
	return translate(err)
}

func (t salesTx) KeepDocument(ctx context.Context, doc sales.Document) error {
	d, err := digest(doc.Hash)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "INSERT INTO document (hash, name, bytes) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING", d, doc.Name, doc.Bytes)
	return translate(err)
}

func (t salesTx) Document(ctx context.Context, hash string) (sales.Document, error) {
	doc := sales.Document{Hash: hash}
	d, err := digest(hash)
	if err != nil {
		return doc, err
	}
	err = t.QueryRow(ctx, "SELECT name, bytes FROM document WHERE hash = $1", d).Scan(&doc.Name, &doc.Bytes)
	return doc, missing(err, "document")
}
