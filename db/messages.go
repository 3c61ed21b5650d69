package db

import (
	"context"
	"time"

	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
)

func (t salesTx) AddMessage(ctx context.Context, m sales.Message) (bool, error) {
	if m.Options == nil {
		m.Options = []string{}
	}
	done, err := t.Exec(ctx, `INSERT INTO quote_message (id, quote_id, kind, at, name, body, options, language, settled)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9) ON CONFLICT (id) DO NOTHING`,
		m.ID, m.QuoteID, m.Kind, m.At, m.Name, m.Text, m.Options, m.Language, zeronull.Timestamptz(m.Settled))
	return err == nil && done.RowsAffected() == 1, err
}

func (t salesTx) Messages(ctx context.Context, n sales.Number) ([]sales.Message, error) {
	rows, _ := t.Query(ctx, `SELECT m.id::text, m.quote_id::text, q.version, m.kind, m.at, m.name, m.body, m.options, m.language, m.settled
		FROM quote_message m JOIN quote q ON q.id = m.quote_id WHERE q.series = $1 AND q.year = $2 AND q.no = $3 AND q.no > 0 ORDER BY m.at, m.id`, n.Series, n.Year, n.No)
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (m sales.Message, err error) {
		return m, row.Scan(&m.ID, &m.QuoteID, &m.Version, &m.Kind, &m.At, &m.Name, &m.Text, &m.Options, &m.Language, (*zeronull.Timestamptz)(&m.Settled))
	})
}

func (t salesTx) SettleMessages(ctx context.Context, n sales.Number, kind sales.MessageKind, at time.Time) error {
	_, err := t.Exec(ctx, `UPDATE quote_message m SET settled = $5 FROM quote q
		WHERE q.id = m.quote_id AND q.series = $1 AND q.year = $2 AND q.no = $3 AND q.no > 0 AND m.settled IS NULL AND ($4 = '' OR m.kind = $4)`, n.Series, n.Year, n.No, kind, at)
	return err
}

func (t salesTx) SeeAnswer(ctx context.Context, quoteID string, at time.Time) error {
	k, err := key(quoteID)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "INSERT INTO answer_seen (quote_id, at) SELECT quote_id, $2 FROM answer WHERE quote_id = $1 ON CONFLICT DO NOTHING", k, at)
	return err
}

func (t salesTx) News(ctx context.Context, since time.Time) ([]sales.News, error) {
	rows, _ := t.Query(ctx, `SELECT n.kind, q.id::text, coalesce(o.id::text, ''), q.series, q.year, q.no, q.title, c.name, n.at, n.said, n.latex
		FROM (SELECT kind, quote_id, at, body AS said, CASE kind WHEN 'wish' THEN 'yes' ELSE '' END AS latex FROM quote_message WHERE settled IS NULL
			UNION ALL SELECT outcome, a.quote_id, a.at, reason, latex FROM answer a WHERE online AND NOT EXISTS (SELECT FROM answer_seen s WHERE s.quote_id = a.quote_id)
			UNION ALL SELECT 'change ' || c.state, o.quote_id, c.answered, concat_ws(': ', c.label, nullif(c.reason, '')), '' FROM change_note c JOIN sales_order o ON o.id = c.order_id
				WHERE c.online AND c.answered > $2
			UNION ALL SELECT 'drawing ' || a.verdict, o.quote_id, a.answered, a.words, '' FROM approval a JOIN sales_order o ON o.id = a.order_id
				WHERE a.online AND CASE a.verdict WHEN 'change' THEN o.state IN ('accepted', 'booked') AND NOT EXISTS (SELECT FROM approval l WHERE l.order_id = a.order_id AND l.round > a.round)
					ELSE a.answered > $2 END) n
		JOIN quote q ON q.id = n.quote_id JOIN customer c ON c.id = q.customer_id LEFT JOIN sales_order o ON o.quote_id = q.id
		ORDER BY n.at LIMIT $1`, most, since)
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (n sales.News, err error) {
		return n, row.Scan(&n.Kind, &n.QuoteID, &n.OrderID, &n.Quote.Series, &n.Quote.Year, &n.Quote.No, &n.Title, &n.Customer, &n.At, &n.Text, &n.Latex)
	})
}
