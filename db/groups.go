package db

import (
	"context"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

func (t salesTx) Group(ctx context.Context, quoteID string) (g sales.Group, err error) {
	rows, _ := t.Query(ctx, "SELECT pays FROM quote_group WHERE quote_id = $1", nullKey(quoteID))
	pays, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil || len(pays) == 0 {
		return g, err
	}
	g.Pays = pays[0]
	rows, _ = t.Query(ctx, `SELECT w.no, w.name, w.hand, w.colour, w.size, coalesce(d.nth, 0) FROM wearer w
		LEFT JOIN delivery_wearer d ON d.quote_id = w.quote_id AND d.no = w.no WHERE w.quote_id = $1 ORDER BY w.no`, nullKey(quoteID))
	g.Wearers, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (w sales.Wearer, err error) {
		return w, row.Scan(&w.No, &w.Name, &w.Hand, &w.Colour, &w.Size, &w.Nth)
	})
	return g, err
}

func (t salesTx) SetGroup(ctx context.Context, quoteID string, g sales.Group) error {
	if g.Pays == "" && len(g.Wearers) == 0 {
		_, err := t.Exec(ctx, "DELETE FROM quote_group WHERE quote_id = $1", quoteID)
		return err
	}
	if _, err := t.Exec(ctx, "INSERT INTO quote_group (quote_id, pays) VALUES ($1, $2) ON CONFLICT (quote_id) DO UPDATE SET pays = excluded.pays", quoteID, g.Pays); err != nil {
		return err
	}
	kept := []int{}
	for _, w := range g.Wearers {
		kept = append(kept, w.No)
	}
	if _, err := t.Exec(ctx, "DELETE FROM wearer WHERE quote_id = $1 AND NOT no = ANY($2)", quoteID, kept); err != nil {
		return err
	}
	for _, w := range g.Wearers {
		if _, err := t.Exec(ctx, `INSERT INTO wearer (quote_id, no, name, hand, colour, size) VALUES ($1, $2, $3, $4, $5, $6)
			ON CONFLICT (quote_id, no) DO UPDATE SET name = excluded.name, hand = excluded.hand, colour = excluded.colour, size = excluded.size`,
			quoteID, w.No, w.Name, w.Hand, w.Colour, w.Size); err != nil {
			return err
		}
	}
	return nil
}

func (t salesTx) GotTheirs(ctx context.Context, quoteID string, d sales.Delivery) error {
	for _, no := range d.Wearers {
		if _, err := t.Exec(ctx, "INSERT INTO delivery_wearer (quote_id, no, order_id, nth) VALUES ($1, $2, $3, $4)", quoteID, no, d.Order, d.Nth); err != nil {
			return err
		}
	}
	return nil
}

func (t salesTx) Parcels(ctx context.Context, order string) ([]sales.Parcel, error) {
	rows, _ := t.Query(ctx, "SELECT order_id::text, nth, carrier, tracking, insured, coalesce(currency, ''), sent, state, since, note, by_whom FROM parcel WHERE order_id = $1 ORDER BY nth", nullKey(order))
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (p sales.Parcel, err error) {
		var insured decimal.NullDecimal
		var currency money.Currency
		err = row.Scan(&p.Order, &p.Nth, &p.Carrier, &p.Tracking, &insured, &currency, &p.Sent, &p.State, &p.Since, &p.Note, &p.By)
		p.Insured = amountOf(insured.Decimal, currency)
		return p, err
	})
}

func (t salesTx) KeepParcel(ctx context.Context, p sales.Parcel) error {
	var insured decimal.NullDecimal
	if p.Insured.Currency() != "" {
		insured = decimal.NewNullDecimal(p.Insured.Decimal())
	}
	_, err := t.Exec(ctx, `INSERT INTO parcel (order_id, nth, carrier, tracking, insured, currency, sent, state, since, note, by_whom)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)
		ON CONFLICT (order_id, nth) DO UPDATE SET carrier = excluded.carrier, tracking = excluded.tracking, insured = excluded.insured, currency = excluded.currency,
			sent = excluded.sent, state = excluded.state, since = excluded.since, note = excluded.note, by_whom = excluded.by_whom`,
		p.Order, p.Nth, p.Carrier, p.Tracking, insured, zeronull.Text(p.Insured.Currency()), date(p.Sent), p.State, date(p.Since), p.Note, p.By)
	return err
}
