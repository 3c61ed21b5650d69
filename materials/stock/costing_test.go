package stock

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing/money"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func eur(s string) money.Amount { return money.Round(d(s), "EUR") }

// pile is lots and the pool they make, moved as the ledger moves them.
type pile struct {
	costing Costing
	lots    []Lot
	onHand  decimal.Decimal
	value   money.Amount
	sold    money.Amount // cost of what went out
}

func (p *pile) buy(quantity, unit string) {
	cost := money.Round(d(quantity).Mul(d(unit)), "EUR")
	p.lots = append(p.lots, Lot{ID: string(rune('a' + len(p.lots))), Left: d(quantity), Value: cost})
	p.onHand, p.value = p.onHand.Add(d(quantity)), p.value.Add(cost)
}

func (p *pile) sell(quantity decimal.Decimal) {
	for _, draw := range p.costing.Draw(p.lots, quantity, p.onHand, p.value) {
		for i := range p.lots {
			if p.lots[i].ID == draw.Lot {
				p.lots[i].Left, p.lots[i].Value = p.lots[i].Left.Sub(draw.Quantity), p.lots[i].Value.Sub(draw.LotCost)
			}
		}
		p.onHand, p.value, p.sold = p.onHand.Sub(draw.Quantity), p.value.Sub(draw.Cost), p.sold.Add(draw.Cost)
	}
}

// OpenStax, Principles of Accounting volume 2's companion volume 1, sections 10.2 and 10.3 (modules m67890, m67891;
// CC BY-NC-SA 4.0, figures only): 150 at 21 to begin with, sold 120, bought 225 at 27, sold 180, bought 210 at 33.
// The book's average figures are in whole dollars from unit costs rounded to the cent; ours round each movement to
// the cent and nothing else.
func TestCostingTextbook(t *testing.T) {
	for _, c := range []struct {
		costing               Costing
		closing, sold         string
		closingBook, soldBook string
	}{
		{FirstIn, "8955.00", "7200.00", "8955", "7200"},
		{Average, "8902.06", "7252.94", "8902", "7253"}, // exact 8902.058824 and 7252.941176
	} {
		p := pile{costing: c.costing}
		p.buy("150", "21")
		p.sell(d("120"))
		p.buy("225", "27")
		p.sell(d("180"))
		p.buy("210", "33")
		if p.value.String() != c.closing || p.sold.String() != c.sold || !p.onHand.Equal(d("285")) {
			t.Errorf("%s: %s left worth %s, sold for %s; want %s and %s", c.costing, p.onHand, p.value, p.sold, c.closing, c.sold)
		}
		if got := p.value.Decimal().Round(0).String(); got != c.closingBook {
			t.Errorf("%s: %s, the book says %s", c.costing, got, c.closingBook)
		}
		if got := p.sold.Decimal().Round(0).String(); got != c.soldBook {
			t.Errorf("%s: sold %s, the book says %s", c.costing, got, c.soldBook)
		}
	}
	// Periodic average: 16 155 over 585 is 27.615384…; exact 7870.384615 left and 8284.615385 sold. The book rounds
	// the unit to 27.62 first: 7872 and 8283.
	unit := PeriodAverage(d("150"), d("435"), eur("3150"), eur("13005"))
	if got := unit.Mul(d("285")).StringFixed(6); got != "7870.384615" {
		t.Errorf("period average leaves %s", got)
	}
	if got := unit.Mul(d("300")).StringFixed(6); got != "8284.615385" {
		t.Errorf("period average sold %s", got)
	}
	if got := unit.Round(2).Mul(d("285")).Round(0).String(); got != "7872" {
		t.Errorf("the book's period average leaves %s", got)
	}
}

// Whatever is bought and sold, the value left is what came in less what went out, to the cent; nothing left is
// worth nothing; and lots and pool hold the same quantity.
func TestCostingLosesNoCent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := pile{costing: rapid.SampledFrom([]Costing{Average, FirstIn}).Draw(t, "costing")}
		in := eur("0")
		for range rapid.IntRange(1, 30).Draw(t, "moves") {
			if rapid.Bool().Draw(t, "buy") {
				before := p.value
				p.buy(decimal.New(rapid.Int64Range(1, 50_000).Draw(t, "quantity"), -3).String(), decimal.New(rapid.Int64Range(0, 9_999).Draw(t, "price"), -2).String())
				in = in.Add(p.value.Sub(before))
			} else if p.onHand.IsPositive() {
				thousandths := p.onHand.Shift(3).IntPart()
				p.sell(decimal.New(rapid.Int64Range(1, thousandths).Draw(t, "sold"), -3))
			}
			left, worth := decimal.Zero, eur("0")
			for _, l := range p.lots {
				if l.Left.IsNegative() || l.Value.Sign() < 0 || l.Left.IsZero() && l.Value.Sign() != 0 {
					t.Fatalf("lot %+v", l)
				}
				left, worth = left.Add(l.Left), worth.Add(l.Value)
			}
			if !left.Equal(p.onHand) || !p.value.Equal(in.Sub(p.sold)) || p.value.Sign() < 0 || p.onHand.IsZero() && p.value.Sign() != 0 {
				t.Fatalf("%s in lots, %s on hand worth %s; %s came in and %s went out", left, p.onHand, p.value, in, p.sold)
			}
			if p.costing == FirstIn && !worth.Equal(p.value) {
				t.Fatalf("lots are worth %s, the books say %s", worth, p.value)
			}
		}
	})
}
