package db

import (
	"context"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

func (t salesTx) StandardPrices(ctx context.Context) ([]sales.StandardPrice, error) {
	rows, _ := t.Query(ctx, "SELECT design_id::text, from_day, price, currency, by_whom, at FROM standard_price ORDER BY design_id, from_day")
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (p sales.StandardPrice, err error) {
		var price decimal.NullDecimal
		var currency money.Currency
		err = row.Scan(&p.DesignID, &p.From, &price, &currency, &p.By, &p.At)
		p.Price, p.Off = amountOf(price.Decimal, currency), !price.Valid
		return p, err
	})
}

func (t salesTx) KeepStandardPrice(ctx context.Context, p sales.StandardPrice) error {
	price := decimal.NullDecimal{Decimal: p.Price.Decimal(), Valid: !p.Off}
	_, err := t.Exec(ctx, `INSERT INTO standard_price (design_id, from_day, price, currency, by_whom, at) VALUES ($1, $2, $3, $4, $5, $6)
		ON CONFLICT (design_id, from_day) DO UPDATE SET price = excluded.price, currency = excluded.currency, by_whom = excluded.by_whom, at = excluded.at`,
		p.DesignID, date(p.From), price, p.Price.Currency(), p.By, p.At)
	return err
}

const readyColumns = `SELECT r.id::text, r.design_id::text, d.name, r.cost, r.currency, r.place, r.note, coalesce(r.made_by::text, ''), coalesce(m.series, ''), coalesce(m.year, 0), coalesce(m.no, 0),
	r.added, r.by_whom, coalesce(r.sold_as::text, ''), coalesce(s.series, ''), coalesce(s.year, 0), coalesce(s.no, 0), coalesce(r.token, ''), r.gone, r.reason
	FROM ready_shield r JOIN design d ON d.id = r.design_id LEFT JOIN sales_order m ON m.id = r.made_by LEFT JOIN sales_order s ON s.id = r.sold_as `

func scanReady(row pgx.CollectableRow) (r sales.Ready, err error) {
	var cost decimal.Decimal
	var currency money.Currency
	err = row.Scan(&r.ID, &r.DesignID, &r.Design, &cost, &currency, &r.Place, &r.Note, &r.MadeBy, &r.Made.Series, &r.Made.Year, &r.Made.No,
		&r.Added, &r.By, &r.SoldAs, &r.Sold.Series, &r.Sold.Year, &r.Sold.No, &r.Token, (*zeronull.Timestamptz)(&r.Gone), &r.Reason)
	r.Cost = amountOf(cost, currency)
	return r, err
}

func (t salesTx) Ready(ctx context.Context, gone bool) ([]sales.Ready, error) {
	order := "WHERE r.gone IS NULL ORDER BY d.name, r.added, r.id"
	if gone {
		order = "WHERE r.gone IS NOT NULL ORDER BY r.gone DESC, r.id LIMIT 200"
	}
	rows, _ := t.Query(ctx, readyColumns+order)
	return pgx.CollectRows(rows, scanReady)
}

// LockReady locks first and reads then: who waited for the lock sees what became of it.
func (t salesTx) LockReady(ctx context.Context, id string) (sales.Ready, error) {
	k, err := key(id)
	if err != nil {
		return sales.Ready{}, err
	}
	if _, err := t.Exec(ctx, "SELECT FROM ready_shield WHERE id = $1 FOR UPDATE", k); err != nil {
		return sales.Ready{}, err
	}
	return one(ctx, t, "finished shield", scanReady, readyColumns+"WHERE r.id = $1", k)
}

func (t salesTx) AddReady(ctx context.Context, r sales.Ready) error {
	made, err := optional(r.MadeBy)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "INSERT INTO ready_shield (id, design_id, cost, currency, place, note, made_by, added, by_whom, reason) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, '')",
		r.ID, r.DesignID, r.Cost.Decimal(), r.Cost.Currency(), r.Place, r.Note, made, r.Added, r.By)
	return err
}

func (t salesTx) SaveReady(ctx context.Context, r sales.Ready) error {
	sold, err := optional(r.SoldAs)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "UPDATE ready_shield SET place = $2, note = $3, sold_as = $4, token = $5, gone = $6, reason = $7 WHERE id = $1",
		r.ID, r.Place, r.Note, sold, zeronull.Text(r.Token), zeronull.Timestamptz(r.Gone), r.Reason)
	return err
}
