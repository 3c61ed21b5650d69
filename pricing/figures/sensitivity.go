package figures

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// tenth is how far each input is moved: a tenth up.
var tenth = decimal.New(1, -1)

// Input is one thing a design's margin hangs on, moved by a tenth up while all else stays.
type Input struct {
	Name   string
	Cost   money.Amount    // then
	Margin Margin          // then
	By     decimal.Decimal // Margin less the one there is, as a share: −0.012 for 1.2 points less
}

// Points writes By in points with a sign: "−1.2".
func (i Input) Points() string {
	s := i.By.Abs().Shift(2).StringFixed(1)
	switch i.By.Shift(3).Round(0).Sign() {
	case 1:
		return "+" + s
	case -1:
		return "−" + s
	}
	return s
}

// Sensitivity is what a design's margin hangs on: with every input moved by a tenth, one at a time, and the price kept.
type Sensitivity struct {
	Design sales.Design
	Base   Weighed
	Inputs []Input // what moves the margin most first
	Price  Input   // the price itself moved, the payment fee with it
}

// Words name the three inputs that move it most.
func (s Sensitivity) Words() string {
	var most []string
	for _, i := range s.Inputs {
		if len(most) < 3 && !i.By.Round(4).IsZero() {
			most = append(most, fmt.Sprintf("the %s (%s)", lower(i.Name), i.Points()))
		}
	}
	switch len(most) {
	case 0:
		return "Nothing that was moved changes the margin."
	case 1:
		return fmt.Sprintf("The margin hangs most on %s, in points of margin for 10 %% more.", most[0])
	}
	return fmt.Sprintf("The margin hangs most on %s and %s, in points of margin for 10 %% more of each.", strings.Join(most[:len(most)-1], ", "), most[len(most)-1])
}

// Sensitivity moves the price of each item that a design takes, shop rate and grades, the minutes of each group of
// steps, and the workshop's shares. What an item spreads or loses counts as its price does. Every answer is that of a
// whole estimate; plans on sheets, which prices and minutes leave as they are, are taken over.
func (s *Service) Sensitivity(ctx context.Context, id string) (out Sensitivity, err error) {
	if out.Design, err = s.sales.Design(ctx, id); err != nil {
		return out, err
	}
	snap, err := s.sales.Figures(ctx, "")
	if err != nil {
		return out, err
	}
	b, err := based(snap)
	if err != nil {
		return out, err
	}
	e, err := s.estimateAt(ctx, out.Design.Form, b)
	if err != nil {
		return out, err
	}
	out.Base = Weigh(out.Design.ID, out.Design.Name, e)
	out.Price = input("The price", dearer(e, snap.Rates), out.Base.Costing)
	out.Inputs, err = moveAll(ctx, e, b.Snapshot)
	return out, err
}

// moveAll works out every input of an estimate, what moves the margin most first.
func moveAll(ctx context.Context, e pricing.Estimate, snap pricing.Snapshot) ([]Input, error) {
	kept, spec := e.Costing(), e.Shield.Spec
	moves := inputs(e, spec, snap)
	all := make([]Input, len(moves))
	err := parallel(ctx, len(moves), func(ctx context.Context, i int) error {
		after, err := e.Again(ctx, spec, moves[i].snap, pricing.Live)
		if err != nil {
			return err
		}
		c := after.Costing()
		c.Net, c.Fee = kept.Net, kept.Fee
		all[i] = input(moves[i].name, c, kept)
		return nil
	})
	slices.SortStableFunc(all, func(a, b Input) int { return b.By.Abs().Cmp(a.By.Abs()) })
	return all, err
}

func input(name string, c, kept pricing.Costing) Input {
	return Input{name, c.Cost(), MarginIn(c), MarginIn(c).Share.Sub(MarginIn(kept).Share)}
}

// dearer is an estimate sold for a tenth more: the fee is taken of what is more, too, tax included.
func dearer(e pricing.Estimate, r pricing.Rates) pricing.Costing {
	c, currency := e.Costing(), e.Price.Net.Currency()
	more := money.Round(c.Net.Decimal().Mul(tenth), currency)
	c.Net = c.Net.Add(more)
	c.Fee = c.Fee.Add(money.Round(ratio(e.Price.Gross.Decimal(), e.Price.Net.Decimal()).Mul(more.Decimal()).Mul(r.FeeRate), currency))
	return c
}
