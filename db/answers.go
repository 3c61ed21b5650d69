package db

import (
	"context"
	"encoding/hex"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

func (t salesTx) Answer(ctx context.Context, quoteID string) (sales.Answer, error) {
	k, err := key(quoteID)
	if err != nil {
		return sales.Answer{}, err
	}
	rows, _ := t.Query(ctx, `SELECT a.quote_id::text, outcome, a.at, name, by_whom, online, options, document, reason, gross, currency, latex, language, coalesce(link::text, ''), s.at
		FROM answer a LEFT JOIN answer_seen s ON s.quote_id = a.quote_id WHERE a.quote_id = $1`, k)
	a, err := pgx.CollectExactlyOneRow(rows, func(row pgx.CollectableRow) (a sales.Answer, err error) {
		var document []byte
		var gross decimal.Decimal
		var currency money.Currency
		err = row.Scan(&a.QuoteID, &a.Outcome, &a.At, &a.Name, &a.By, &a.Online, &a.Options, &document, &a.Reason, &gross, &currency,
			&a.Latex, &a.Language, &a.Link, (*zeronull.Timestamptz)(&a.Seen))
		a.Document, a.Gross = hex.EncodeToString(document), money.Round(gross, currency)
		return a, err
	})
	return a, missing(err, "answer")
}

func (t salesTx) AddAnswer(ctx context.Context, a sales.Answer) error {
	document, err := digest(a.Document)
	if err != nil {
		return err
	}
	if a.Options == nil {
		a.Options = []string{}
	}
	_, err = t.Exec(ctx, `INSERT INTO answer (quote_id, outcome, at, name, by_whom, online, options, document, reason, gross, currency, latex, language, link)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`,
		a.QuoteID, a.Outcome, a.At, a.Name, a.By, a.Online, a.Options, document, a.Reason, a.Gross.Decimal(), a.Gross.Currency(), a.Latex, a.Language, zeronull.Text(a.Link))
	return translate(err, salesRefusals)
}

func (t salesTx) SetQuoteState(ctx context.Context, id string, s sales.State) error {
	_, err := t.Exec(ctx, "UPDATE quote SET state = $2 WHERE id = $1", id, s)
	return translate(err, salesRefusals)
}
