package demo

import (
	"context"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
)

// worked logs what a finished order took, group by group, in shares of what was planned, and what the piece measured:
// first as it was written in a hurry, then right.
func (b Books) worked(ctx context.Context, order string, day time.Time) error {
	books := b.Sales(day)
	planned, err := books.Actual(ctx, order)
	if err != nil {
		return err
	}
	took := map[string]struct{ share, note string }{
		"edge": {"1.35", "the point wanted more sanding"}, "paint": {"0.85", ""}, "trim": {"1.1", ""}, "grip": {"1.2", "second bar, the first one split"},
	}
	for _, g := range planned.Groups {
		share, known := took[g.Group]
		if !known {
			share.share = "1.05"
		}
		minutes := decimal.Max(decimal.NewFromInt(1), g.Planned.Mul(d(share.share)).Round(0))
		if _, err := books.LogTime(ctx, labour.Log{Order: order, Step: g.Group, Minutes: minutes, Day: stock.Day(day), Note: share.note, By: wren}); err != nil {
			return err
		}
	}
	again := labour.Log{Order: order, Step: "coat", Minutes: decimal.NewFromInt(25), Day: stock.Day(day), Rework: "fisheyes beside the grip", By: wren}
	if _, err := books.LogTime(ctx, again); err != nil {
		return err
	}
	for _, width := range []string{"358", "385"} {
		m := sales.Finished{Order: order, Stands: shield.Stands{Width: d(width)}, Weight: d("0.72"), By: wren}
		if err := books.Measure(ctx, m); err != nil {
			return err
		}
	}
	return nil
}
