package figures

import (
	"context"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// numbers are how many of a design are priced for its curve: each up to a dozen, so that the cost of the next one is
// told, then a few larger orders.
func numbers() []int { return []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 16, 20, 24} }

// Batch is an order of so many of a design, all at once.
type Batch struct {
	Quantity int
	Weighed
	// Next is what one more costs than this many; in no currency where the number after it was not priced.
	Next money.Amount
	Why  string // it cannot be made; then all else is empty
}

// NetEach and CostEach are for one of them.
func (b Batch) NetEach() money.Amount { return per(b.Net, decimal.NewFromInt(int64(b.Quantity))) }

// CostEach is what one of them costs.
func (b Batch) CostEach() money.Amount { return per(b.Cost(), decimal.NewFromInt(int64(b.Quantity))) }

// Batches prices a design by number, every one a whole estimate at today's figures: set-ups are shared, hands get
// quicker, sheets are filled.
func (s *Service) Batches(ctx context.Context, d sales.Design) ([]Batch, error) {
	snap, err := s.sales.Figures(ctx, "")
	if err != nil {
		return nil, err
	}
	all := make([]Batch, len(numbers()))
	for i, n := range numbers() {
		all[i].Quantity = n
		form, err := timeless(d.Form).With(map[string]string{"quantity": decimal.NewFromInt(int64(n)).String()})
		if err != nil {
			return nil, err
		}
		e, err := s.estimate(ctx, form, snap)
		switch {
		case fault.KindOf(err) == fault.Invalid && i > 0: // more than can be laid out at once
			all[i].Why = fault.ProblemsOf(err)[0].Remedy
		case err != nil:
			return nil, err
		default:
			all[i].Weighed = Weigh(d.ID, d.Name, e)
		}
	}
	for i := range all[:len(all)-1] {
		if a, b := all[i], all[i+1]; a.Why == "" && b.Why == "" && b.Quantity == a.Quantity+1 {
			all[i].Next = b.Cost().Sub(a.Cost())
		}
	}
	return all, nil
}

// Least is the smallest order that pays at a net price for one.
type Least struct {
	Each    money.Amount // net
	Covered int          // the smallest number whose cost is covered; 0 where none of those priced is
	Aimed   int          // the smallest that keeps the margin aimed at; 0 where none does
	Target  Margin
}

// LeastOrder looks for the smallest orders that pay at a net price for one. A larger order can fail where a smaller one
// pays: it opens another sheet; so the smallest is told, and the table tells the rest.
func LeastOrder(batches []Batch, each money.Amount, target Margin) Least {
	l := Least{Each: each, Target: target}
	for _, b := range batches {
		if b.Why != "" {
			continue
		}
		net := each.Times(b.Quantity)
		if l.Covered == 0 && net.Cmp(b.Cost()) >= 0 {
			l.Covered = b.Quantity
		}
		if l.Aimed == 0 && MarginOf(net, b.Cost()).Share.Cmp(target.Share) >= 0 {
			l.Aimed = b.Quantity
		}
	}
	return l
}

// timeless is a form without its date: figures are looked at, not promised.
func timeless(f orderform.Form) orderform.Form {
	f.Delivery.By = orderform.Text{}
	return f
}

// lower is words within a sentence.
func lower(words string) string {
	r, size := utf8.DecodeRuneInString(words)
	return strings.TrimSpace(string(unicode.ToLower(r)) + words[size:])
}
