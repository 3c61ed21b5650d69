package db

import (
	"context"

	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"
)

const repairColumns = `SELECT r.id::text, r.series, r.year, r.no, r.customer_id::text, c.name, coalesce(r.order_id::text, ''), coalesce(o.series, ''), coalesce(o.year, 0), coalesce(o.no, 0),
	r.what, r.condition, r.came, r.state, r.since, r.warranty, r.findings, r.reason, coalesce(r.quote_id::text, ''), r.edit, r.by_whom
	FROM repair r JOIN customer c ON c.id = r.customer_id LEFT JOIN sales_order o ON o.id = r.order_id `

func scanRepair(row pgx.CollectableRow) (r sales.Repair, err error) {
	var warranty pgtype.Bool
	err = row.Scan(&r.ID, &r.Tag.Series, &r.Tag.Year, &r.Tag.No, &r.CustomerID, &r.Customer, &r.OrderID, &r.Order.Series, &r.Order.Year, &r.Order.No,
		&r.What, &r.Condition, &r.Came, &r.State, &r.Since, &warranty, &r.Findings, &r.Reason, &r.QuoteID, &r.Edit, &r.By)
	r.Warranty, r.Decided = warranty.Bool, warranty.Valid
	return r, err
}

func (t salesTx) Repair(ctx context.Context, id string) (sales.Repair, error) {
	return oneOf(ctx, t, "repair", scanRepair, repairColumns+"WHERE r.id = $1", id)
}

func (t salesTx) LockRepair(ctx context.Context, id string) (sales.Repair, error) {
	return oneOf(ctx, t, "repair", scanRepair, repairColumns+"WHERE r.id = $1 FOR UPDATE OF r", id)
}

func (t salesTx) Repairs(ctx context.Context, f sales.RepairFound) ([]sales.Repair, error) {
	order := "r.came, r.id LIMIT 500"
	if f.Over {
		order = "r.since DESC, r.id LIMIT 200"
	}
	rows, _ := t.Query(ctx, repairColumns+`WHERE CASE WHEN $1 = '' AND $2 = '' THEN (r.state IN ('given back', 'scrapped')) = $3
		ELSE ($1 <> '' AND r.order_id::text = $1 OR $2 <> '' AND r.quote_id::text = $2) END ORDER BY `+order, f.Order, f.Quote, f.Over)
	return pgx.CollectRows(rows, scanRepair)
}

func (t salesTx) AddRepair(ctx context.Context, r sales.Repair) error {
	customer, err := key(r.CustomerID)
	if err != nil {
		return err
	}
	order, err := optional(r.OrderID)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, `INSERT INTO repair (id, series, year, no, customer_id, order_id, what, condition, came, state, since, findings, reason, edit, by_whom)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, '', '', 0, $12)`,
		r.ID, r.Tag.Series, r.Tag.Year, r.Tag.No, customer, order, r.What, r.Condition, date(r.Came), r.State, r.Since, r.By)
	return err
}

func (t salesTx) SaveRepair(ctx context.Context, r sales.Repair) error {
	quote, err := optional(r.QuoteID)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "UPDATE repair SET state = $2, since = $3, warranty = $4, findings = $5, reason = $6, quote_id = $7, edit = $8 WHERE id = $1",
		r.ID, r.State, r.Since, pgtype.Bool{Bool: r.Warranty, Valid: r.Decided}, r.Findings, r.Reason, quote, r.Edit)
	return err
}
