package db

import (
	"context"

	"foamwright/pricing"
	"foamwright/pricing/sales"

	"github.com/google/uuid"
)

// costing are the columns of a costing, in the order of costingValues.
const costing = "quantity, currency, net, fee, material, handling, labour, bought_in, contingency, hours, low, high, former_days, drying_days"

func costingValues(c pricing.Costing) []any {
	return []any{c.Quantity, c.Net.Currency(), c.Net.Decimal(), c.Fee.Decimal(), c.Material.Decimal(), c.Handling.Decimal(), c.Labour.Decimal(), c.BoughtIn.Decimal(),
		c.Contingency.Decimal(), c.Hours, c.Low, c.High, c.Former, c.Drying}
}

// keepQuoteFigures keeps what an issued quote reckons with; one that does not say has its price alone.
func (t salesTx) keepQuoteFigures(ctx context.Context, id uuid.UUID, q sales.Quote) error {
	var err error
	if c := q.Printed.Costing; c.Quantity > 0 {
		_, err = t.Exec(ctx, "INSERT INTO quote_figures (quote_id, "+costing+") VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15) ON CONFLICT DO NOTHING",
			append([]any{id}, costingValues(c)...)...)
	} else {
		_, err = t.Exec(ctx, "INSERT INTO quote_figures (quote_id, quantity, currency, net) VALUES ($1, 1, $2, $3) ON CONFLICT DO NOTHING", id, q.Net.Currency(), q.Net.Decimal())
	}
	return err
}

// keepOrderFigures keeps what an order comes to, and what it reckons with: as its quote does, or as was agreed since.
func (t salesTx) keepOrderFigures(ctx context.Context, o sales.Order) error {
	sums := o.Totals()
	_, err := t.Exec(ctx, `INSERT INTO order_figures (order_id, quantity, currency, net, gross, net_off, fee, material, handling, labour, bought_in, contingency, hours, low, high, former_days, drying_days, design_id, design_version)
		SELECT $1, f.quantity, $2, $3, $4, $6, f.fee, f.material, f.handling, f.labour, f.bought_in, f.contingency, f.hours, f.low, f.high, f.former_days, f.drying_days, q.design_id, q.design_version
		FROM quote_figures f JOIN quote q ON q.id = f.quote_id WHERE f.quote_id = $5
		ON CONFLICT (order_id) DO UPDATE SET net = excluded.net, gross = excluded.gross, net_off = excluded.net_off`,
		o.ID, sums.Gross.Currency(), sums.Net.Decimal(), sums.Gross.Decimal(), o.QuoteID, o.Off().Decimal())
	if a := o.Agreed; err == nil && a != nil && a.Costing.Quantity > 0 {
		c := a.Costing
		c.Net = sums.Net
		_, err = t.Exec(ctx, "UPDATE order_figures SET ("+costing+") = ($2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15) WHERE order_id = $1", append([]any{o.ID}, costingValues(c)...)...)
	}
	return err
}
