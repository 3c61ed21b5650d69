package figures

import (
	"context"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// Done are jobs that were done, together: as they were planned and as they took, by the same sums (pricing.Costing.Took
// of each). Jobs whose plan was not kept are left out.
type Done struct {
	Jobs            int
	Planned, Actual pricing.Costing
	Rework          decimal.Decimal // hours of Actual.Hours that were done again
}

// Off is what a figure took as a share of what was planned, 0.08 for 8 % more; 0 where nothing was planned.
func Off(planned, actual decimal.Decimal) decimal.Decimal {
	return ratio(actual.Sub(planned), planned)
}

// MorePercent is how much more hours it took than planned, in words: "+8 %".
func (d Done) MoreHours() string { return signedPercent(Off(d.Planned.Hours, d.Actual.Hours)) }

// Each is a figure of all jobs for one piece, to the cent.
func (d Done) Each(a money.Amount) money.Amount {
	return per(a, decimal.NewFromInt(int64(d.Planned.Quantity)))
}

// HoursEach are hours for one piece.
func (d Done) HoursEach(h decimal.Decimal) decimal.Decimal {
	return ratio(h, decimal.NewFromInt(int64(d.Planned.Quantity))).Round(2)
}

// Of is a costing as one to be weighed.
func Of(c pricing.Costing) Weighed { return Weighed{Costing: c} }

// Job is an order that was done.
type Job struct {
	OrderID         string
	Number          sales.Number
	Title, Customer string
	Design          sales.MadeFrom
	Ended           time.Time
	Planned, Actual pricing.Costing
	Rework          decimal.Decimal // hours
}

// Span is from a moment to before another; zero ends are open.
type Span struct{ From, To time.Time }

// DesignVersion is a spec that a design has or had.
type DesignVersion struct {
	Version int
	Name    string
	Since   time.Time
	Quotes  int // that were issued from it, numbers
}

// JobsTx reads jobs that were done.
type JobsTx interface {
	// Done sums jobs by the design and version that their quotes were started from.
	Done(ctx context.Context, in Span) (map[sales.MadeFrom]Done, error)
	// Jobs are those of a design, the newest first; most of them at most.
	Jobs(ctx context.Context, in Span, design string, most int) ([]Job, error)
	// Versions of a design, the newest first.
	Versions(ctx context.Context, design string) ([]DesignVersion, error)
	// Asked is the mean of what issued quotes asked for a piece, net, by design; of numbers in their last version.
	Asked(ctx context.Context, in Span) (map[string]money.Amount, error)
}

// add is both together.
func (d Done) add(o Done) Done {
	if d.Jobs == 0 {
		return o
	}
	return Done{d.Jobs + o.Jobs, d.Planned.Add(o.Planned), d.Actual.Add(o.Actual), d.Rework.Add(o.Rework)}
}

func signedPercent(share decimal.Decimal) string {
	s := percent(share)
	if share.Shift(3).Round(0).IsPositive() {
		return "+" + s
	}
	return s
}
