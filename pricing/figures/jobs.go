package figures

import (
	"context"
	"maps"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// Done are jobs that were done, together: as they were planned and as they took, by the same sums (pricing.Costing.Took
// of each job, each rounded for each job).
type Done struct {
	Jobs            int
	Planned, Actual pricing.Costing
	Rework          decimal.Decimal // hours of Actual.Hours that were done again
	Untold          int             // jobs besides, whose plan was not kept
}

// Enough tells that there are enough jobs to call a design better than another by them.
func (d Done) Enough() bool { return d.Jobs >= few }

// Plan is what was planned as one to be weighed.
func (d Done) Plan() Weighed { return Weighed{Costing: d.Planned} }

// Took is what it took as one to be weighed.
func (d Done) Took() Weighed { return Weighed{Costing: d.Actual} }

// Longer is how much longer the jobs took than planned: "+8.0 %".
func (d Done) Longer() string { return drift(d.Planned.Hours, d.Actual.Hours) }

// Of is both together.
func (d Done) Of(o Done) Done {
	o.Untold += d.Untold
	if d.Jobs == 0 {
		return o
	}
	if o.Jobs == 0 {
		d.Untold = o.Untold
		return d
	}
	return Done{d.Jobs + o.Jobs, d.Planned.Add(o.Planned), d.Actual.Add(o.Actual), d.Rework.Add(o.Rework), o.Untold}
}

// Quoted are numbers of quotes that were issued, each in its newest version.
type Quoted struct {
	Quotes, Pieces int
	Net            money.Amount   // of all
	Sizes          map[int]Quoted // the same by how many pieces a quote has; none within a size
}

// Each is the mean net price of a piece; the zero amount without any.
func (q Quoted) Each() money.Amount {
	if q.Pieces == 0 {
		return money.Amount{}
	}
	return per(q.Net, decimal.NewFromInt(int64(q.Pieces)))
}

// Of is both together.
func (q Quoted) Of(o Quoted) Quoted {
	if q.Quotes == 0 {
		return o
	}
	if o.Quotes == 0 {
		return q
	}
	both := Quoted{q.Quotes + o.Quotes, q.Pieces + o.Pieces, q.Net.Add(o.Net), maps.Clone(q.Sizes)}
	for pieces, size := range o.Sizes {
		both.Sizes[pieces] = both.Sizes[pieces].Of(size)
	}
	return both
}

// Job is an order that was done.
type Job struct {
	OrderID         string
	Number          sales.Number
	Title, Customer string
	Design          sales.MadeFrom
	Ended           time.Time
	Done            // of it alone
}

// QuoteMade is a quote that was made from a design: its number, state and price, without its spec.
type QuoteMade struct {
	sales.Quote
	Pieces int
	Hours  decimal.Decimal // planned; 0 where it was not kept
}

// NetEach is the net price of a piece.
func (q QuoteMade) NetEach() money.Amount { return per(q.Net, decimal.NewFromInt(int64(q.Pieces))) }

// DesignVersion is a spec that a design has or had.
type DesignVersion struct {
	Version int
	Name    string
	Since   time.Time
	Form    orderform.Form
}

// JobsTx reads what was quoted and done of designs. Lists give the newest first, most of them after those skipped; all
// where most is 0.
type JobsTx interface {
	// Done sums jobs by the design and version that their quotes were started from; jobs without are under the zero one.
	Done(ctx context.Context, in Span) (map[sales.MadeFrom]Done, error)
	// Quoted sums quotes the same way; those without a design are left out.
	Quoted(ctx context.Context, in Span) (map[sales.MadeFrom]Quoted, error)
	// Jobs are those of the span's design, and QuotesMade its quotes.
	Jobs(ctx context.Context, in Span, skip, most int) ([]Job, error)
	QuotesMade(ctx context.Context, in Span, most int) ([]QuoteMade, error)
	DesignVersions(ctx context.Context, design string) ([]DesignVersion, error)
}

// drift is how far a figure is from what it was, as a signed percentage; empty where it was nothing.
func drift(was, is decimal.Decimal) string {
	if was.IsZero() {
		return ""
	}
	return signedPercent(ratio(is.Sub(was), was))
}

// signedPercent writes a share that can be either way: "+8.0 %", "−3.2 %".
func signedPercent(share decimal.Decimal) string {
	switch share.Shift(3).Round(0).Sign() {
	case 1:
		return "+" + percent(share)
	case -1:
		return "−" + percent(share.Abs())
	}
	return percent(decimal.Zero)
}
