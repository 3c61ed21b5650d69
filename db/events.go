package db

import (
	"context"

	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
)

const eventColumns = "SELECT e.id::text, e.name, e.place, e.first, e.last, e.rule, e.edition, e.order_by, e.note, e.edit FROM event e "

func scanEvent(row pgx.CollectableRow) (e sales.Event, err error) {
	return e, row.Scan(&e.ID, &e.Name, &e.Place, &e.First, &e.Last, &e.Rule, &e.Edition, &e.OrderBy, &e.Note, &e.Edit)
}

func (t salesTx) Event(ctx context.Context, id string) (sales.Event, error) {
	return oneOf(ctx, t, "event", scanEvent, eventColumns+"WHERE e.id = $1", id)
}

func (t salesTx) EventOf(ctx context.Context, quoteID string) (sales.Event, error) {
	return one(ctx, t, "event", scanEvent, eventColumns+"JOIN quote_event q ON q.event_id = e.id WHERE q.quote_id = $1", nullKey(quoteID))
}

func (t salesTx) Events(ctx context.Context) ([]sales.Event, error) {
	rows, _ := t.Query(ctx, eventColumns+"ORDER BY e.first, e.name, e.id")
	return pgx.CollectRows(rows, scanEvent)
}

func (t salesTx) AddEvent(ctx context.Context, e sales.Event) error {
	_, err := t.Exec(ctx, "INSERT INTO event (id, name, place, first, last, rule, edition, order_by, note, edit) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)",
		e.ID, e.Name, e.Place, date(e.First), date(e.Last), e.Rule, e.Edition, date(e.OrderBy), e.Note, e.Edit)
	return err
}

func (t salesTx) SaveEvent(ctx context.Context, e sales.Event) error {
	_, err := t.Exec(ctx, "UPDATE event SET name = $2, place = $3, first = $4, last = $5, rule = $6, edition = $7, order_by = $8, note = $9, edit = $10 WHERE id = $1",
		e.ID, e.Name, e.Place, date(e.First), date(e.Last), e.Rule, e.Edition, date(e.OrderBy), e.Note, e.Edit)
	return err
}

func (t salesTx) SetEventOf(ctx context.Context, quoteID, event string) error {
	if event == "" {
		_, err := t.Exec(ctx, "DELETE FROM quote_event WHERE quote_id = $1", quoteID)
		return err
	}
	k, err := key(event)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "INSERT INTO quote_event (quote_id, event_id) VALUES ($1, $2) ON CONFLICT (quote_id) DO UPDATE SET event_id = excluded.event_id", quoteID, k)
	return err
}

func (t salesTx) OrdersFor(ctx context.Context, event string) ([]sales.Order, error) {
	rows, _ := t.Query(ctx, "SELECT "+orderColumns+orderTables+`JOIN quote_event e ON e.quote_id = o.quote_id
		WHERE e.event_id = $1 AND o.state <> 'cancelled' ORDER BY lower(c.name), o.year, o.no`, nullKey(event))
	return pgx.CollectRows(rows, scanOrder)
}

func (t salesTx) ForEvent(ctx context.Context, event string) (quotes, orders int, err error) {
	err = t.QueryRow(ctx, `SELECT count(*) FILTER (WHERE q.state IN ('draft', 'issued')), count(o.id) FILTER (WHERE o.state <> 'cancelled')
		FROM quote_event e JOIN quote q ON q.id = e.quote_id LEFT JOIN sales_order o ON o.quote_id = q.id WHERE e.event_id = $1`, nullKey(event)).Scan(&quotes, &orders)
	return quotes, orders, err
}

func (t salesTx) CarryOver(ctx context.Context, from, to string) error {
	for _, copied := range []string{
		"INSERT INTO quote_event (quote_id, event_id) SELECT $2::uuid, event_id FROM quote_event WHERE quote_id = $1",
		"INSERT INTO quote_group (quote_id, pays) SELECT $2::uuid, pays FROM quote_group WHERE quote_id = $1",
		"INSERT INTO wearer (quote_id, no, name, hand, colour, size) SELECT $2::uuid, no, name, hand, colour, size FROM wearer WHERE quote_id = $1",
	} {
		if _, err := t.Exec(ctx, copied, from, to); err != nil {
			return err
		}
	}
	return nil
}
