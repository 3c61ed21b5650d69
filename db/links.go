package db

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
)

func (t salesTx) AddLink(ctx context.Context, l sales.Link, d sales.Digest) error {
	_, err := t.Exec(ctx, "INSERT INTO quote_link (id, digest, series, year, no, made, by_whom) VALUES ($1, $2, $3, $4, $5, $6, $7)",
		l.ID, d[:], l.Quote.Series, l.Quote.Year, l.Quote.No, l.Made, l.By)
	return err
}

const linkColumns = "SELECT id::text, series, year, no, made, by_whom, seen, ended FROM quote_link "

func scanLink(row pgx.CollectableRow) (l sales.Link, err error) {
	return l, row.Scan(&l.ID, &l.Quote.Series, &l.Quote.Year, &l.Quote.No, &l.Made, &l.By, (*zeronull.Timestamptz)(&l.Seen), (*zeronull.Timestamptz)(&l.Ended))
}

func (t salesTx) LinkBy(ctx context.Context, d sales.Digest) (sales.Link, error) {
	return one(ctx, t, "link", scanLink, linkColumns+"WHERE digest = $1 AND ended IS NULL", d[:])
}

func (t salesTx) Links(ctx context.Context, n sales.Number) ([]sales.Link, error) {
	rows, _ := t.Query(ctx, linkColumns+"WHERE series = $1 AND year = $2 AND no = $3 ORDER BY made DESC, id DESC LIMIT $4", n.Series, n.Year, n.No, most)
	return pgx.CollectRows(rows, scanLink)
}

func (t salesTx) SeeLink(ctx context.Context, id string, at time.Time) error {
	_, err := t.Exec(ctx, "UPDATE quote_link SET seen = greatest(seen, $2) WHERE id = $1", id, at)
	return err
}

func (t salesTx) EndLink(ctx context.Context, n sales.Number, id string, at time.Time) error {
	k, err := key(id)
	if err != nil {
		return err
	}
	done, err := t.Exec(ctx, "UPDATE quote_link SET ended = coalesce(ended, $5) WHERE id = $1 AND series = $2 AND year = $3 AND no = $4", k, n.Series, n.Year, n.No, at)
	if err == nil && done.RowsAffected() == 0 {
		return fault.New(fault.NotFound, "There is no such link.")
	}
	return err
}

func (t salesTx) Standing(ctx context.Context, n sales.Number) (sales.Quote, error) {
	return one(ctx, t, "quote", scanQuote, wholeQuote+
		"WHERE q.series = $1 AND q.year = $2 AND q.no = $3 AND q.no > 0 AND q.state <> 'draft' ORDER BY q.version DESC LIMIT 1", n.Series, n.Year, n.No)
}
