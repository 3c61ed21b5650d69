package db

import (
	"context"
	"encoding/hex"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

func (t salesTx) Answer(ctx context.Context, quoteID string) (sales.Answer, error) {
	k, err := key(quoteID)
	if err != nil {
		return sales.Answer{}, err
	}
	rows, _ := t.Query(ctx, "SELECT quote_id::text, outcome, at, name, by_whom, online, options, document, reason, gross, currency FROM answer WHERE quote_id = $1", k)
	a, err := pgx.CollectExactlyOneRow(rows, func(row pgx.CollectableRow) (a sales.Answer, err error) {
		var document []byte
		var gross decimal.Decimal
		var currency money.Currency
		err = row.Scan(&a.QuoteID, &a.Outcome, &a.At, &a.Name, &a.By, &a.Online, &a.Options, &document, &a.Reason, &gross, &currency)
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
	_, err = t.Exec(ctx, `INSERT INTO answer (quote_id, outcome, at, name, by_whom, online, options, document, reason, gross, currency)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
		a.QuoteID, a.Outcome, a.At, a.Name, a.By, a.Online, a.Options, document, a.Reason, a.Gross.Decimal(), a.Gross.Currency())
	return translate(err, salesRefusals)
}

func (t salesTx) SetQuoteState(ctx context.Context, id string, s sales.State) error {
	_, err := t.Exec(ctx, "UPDATE quote SET state = $2 WHERE id = $1", id, s)
	return translate(err, salesRefusals)
}
