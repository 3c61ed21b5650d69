package db

import (
	"context"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

func (t salesTx) Answer(ctx context.Context, quoteID string) (sales.Answer, error) {
	return oneOf(ctx, t, "answer", scanAnswer, `SELECT a.quote_id::text, outcome, a.at, name, by_whom, online, options, document, reason, gross, currency, latex, language, coalesce(link::text, ''), s.at
		FROM answer a LEFT JOIN answer_seen s ON s.quote_id = a.quote_id WHERE a.quote_id = $1`, quoteID)
}

func scanAnswer(row pgx.CollectableRow) (a sales.Answer, err error) {
	var gross decimal.Decimal
	var currency money.Currency
	err = row.Scan(&a.QuoteID, &a.Outcome, &a.At, &a.Name, &a.By, &a.Online, &a.Options, (*hash)(&a.Document), &a.Reason, &gross, &currency,
		&a.Latex, &a.Language, &a.Link, (*zeronull.Timestamptz)(&a.Seen))
	a.Gross = amountOf(gross, currency)
	return a, err
}

func (t salesTx) AddAnswer(ctx context.Context, a sales.Answer) error {
	if a.Options == nil {
		a.Options = []string{}
	}
	_, err := t.Exec(ctx, `INSERT INTO answer (quote_id, outcome, at, name, by_whom, online, options, document, reason, gross, currency, latex, language, link)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`,
		a.QuoteID, a.Outcome, a.At, a.Name, a.By, a.Online, a.Options, hash(a.Document), a.Reason, a.Gross.Decimal(), a.Gross.Currency(), a.Latex, a.Language, zeronull.Text(a.Link))
	return err
}

func (t salesTx) SetQuoteState(ctx context.Context, id string, s sales.State) error {
	_, err := t.Exec(ctx, "UPDATE quote SET state = $2 WHERE id = $1", id, s)
	return err
}
