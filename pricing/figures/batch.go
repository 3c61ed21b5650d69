package figures

import (
	"context"
	"slices"
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// numbers are how many of a design are priced: each up to a dozen, so that the cost of the next one is told, then a few
// larger orders.
func numbers() []int { return []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 16, 20, 24} }

// atMost is how long a batch is worked at; what is not there by then says so.
const atMost = 12 * time.Second

// Batch is an order of so many of a design, all at once.
type Batch struct {
	Quantity int
	Weighed
	Added int          // more than the number before it
	Adds  money.Amount // what those cost: the cost less that of the number before
	At    Weighed      // the same sold at the price of one that is asked about
	Why   string       // it cannot be made; then all else is empty
}

// NetEach is the net price of one of them.
func (b Batch) NetEach() money.Amount { return per(b.Net, decimal.NewFromInt(int64(b.Quantity))) }

// CostEach is what one of them costs.
func (b Batch) CostEach() money.Amount { return per(b.Cost(), decimal.NewFromInt(int64(b.Quantity))) }

// AddsEach is what the next one costs, where several were added the mean of them.
func (b Batch) AddsEach() money.Amount { return per(b.Adds, decimal.NewFromInt(int64(b.Added))) }

// Covered tells that the asked price covers the cost.
func (b Batch) Covered() bool { return b.Why == "" && b.At.Earned().Sign() >= 0 }

// Keeps tells that the asked price leaves a margin, to a hundredth of a percent.
func (b Batch) Keeps(aimed Margin) bool {
	return b.Why == "" && b.At.Margin().Share.Round(4).GreaterThanOrEqual(aimed.Share)
}

// Batches are a design by number, and the smallest orders that pay at a price of one.
type Batches struct {
	Design  sales.Design
	All     []Batch
	Each    money.Amount // with tax, that was asked about
	Listed  bool         // nothing was: it is the price list's
	Aimed   Margin
	Covered int             // the smallest number whose cost it covers; 0 where none does
	Keeps   int             // the smallest that keeps the margin aimed at; 0 where none does
	Again   []int           // larger ones whose cost it does not cover: they open another sheet
	SetUp   decimal.Decimal // hours of one that an order has once, whatever its number
	OfOne   decimal.Decimal // all hours of one
}

// SetUpShare is the share of the hours of one that are set-up.
func (b Batches) SetUpShare() decimal.Decimal { return ratio(b.SetUp, b.OfOne) }

// Batches prices a design by number, every one a whole estimate at today's figures: set-ups are shared, hands get
// quicker, sheets are filled. each is the price of one, with tax, that the smallest order is looked for at; nil takes
// the price list's, else today's price of one.
func (s *Service) Batches(ctx context.Context, id string, each *money.Amount) (b Batches, err error) {
	until := time.Now().Add(atMost)
	if b.Design, err = s.sales.Design(ctx, id); err != nil {
		return b, err
	}
	snap, err := s.sales.Figures(ctx, "")
	if err != nil {
		return b, err
	}
	base, err := based(snap)
	if err != nil {
		return b, err
	}
	if b.All, err = s.ordersOf(ctx, b.Design, base, until, numbers()); err != nil {
		return b, err
	}
	single, err := s.so(ctx, b.Design.Form, base, 1)
	if err != nil {
		return b, err
	}
	b.SetUp, b.OfOne = setUp(single.Work), single.Work.Hours
	if each == nil {
		if each, err = s.listed(ctx, id); err != nil {
			return b, err
		}
		b.Listed = each != nil
	}
	b.Each, b.Aimed = single.Price.Gross, Margin{snap.Rates.Margin}
	if each != nil {
		b.Each = *each
	}
	if err := b.smallest(snap); err != nil {
		return b, err
	}
	// The smallest may lie between two of the larger numbers: those are priced too.
	if between := b.between(); len(between) > 0 {
		more, err := s.ordersOf(ctx, b.Design, base, until, between)
		if err != nil {
			return b, err
		}
		b.All = append(b.All, more...)
		slices.SortFunc(b.All, func(a, b Batch) int { return a.Quantity - b.Quantity })
		if err := b.smallest(snap); err != nil {
			return b, err
		}
	}
	b.add()
	return b, nil
}

// ordersOf prices some numbers of a design; what cannot be made or takes too long says why.
func (s *Service) ordersOf(ctx context.Context, d sales.Design, base basis, until time.Time, numbers []int) ([]Batch, error) {
	all := make([]Batch, len(numbers))
	return all, parallel(ctx, len(numbers), func(ctx context.Context, i int) error {
		within, stop := context.WithDeadline(ctx, until)
		defer stop()
		all[i].Quantity = numbers[i]
		e, err := s.so(within, d.Form, base, numbers[i])
		switch {
		case fault.KindOf(err) == fault.Invalid && numbers[i] > 1: // more than can be laid out at once
			all[i].Why = fault.ProblemsOf(err)[0].Remedy
		case err != nil && within.Err() != nil && ctx.Err() == nil && numbers[i] > 1:
			all[i].Why = "This takes too long to work out just now. Ask again: what is there is kept."
		case err != nil:
			return err
		default:
			all[i].Weighed = Weigh(d.ID, d.Name, e)
		}
		return nil
	})
}

// so is the estimate of so many.
func (s *Service) so(ctx context.Context, form orderform.Form, base basis, n int) (pricing.Estimate, error) {
	form, err := form.With(map[string]string{"quantity": strconv.Itoa(n)})
	if err != nil {
		return pricing.Estimate{}, err
	}
	return s.estimateAt(ctx, form, base)
}

// listed is what the price list asks for a design today; nil where it does not stand on it.
func (s *Service) listed(ctx context.Context, id string) (price *money.Amount, err error) {
	all, err := s.sales.Standards(ctx, id)
	for _, p := range all {
		switch {
		case p.From.After(stock.Day(s.now())):
		case p.Off:
			price = nil
		default:
			price = &p.Price
		}
	}
	return price, err
}

// setUp are the hours that an order of one sets up once, whatever is made, with rest and delay.
func setUp(w labour.Work) decimal.Decimal {
	minutes := decimal.Zero
	for _, l := range w.Lines {
		if l.Step.Scope != labour.PerItem {
			minutes = minutes.Add(l.Step.Setup.Likely)
		}
	}
	return minutes.Mul(one.Add(w.Allowance)).DivRound(decimal.NewFromInt(60), 2)
}
