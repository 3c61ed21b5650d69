package sales_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/pricing/einvoice"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

// lettered prints letters as their names besides what paper prints.
type lettered struct{ paper }

func (lettered) Letter(_ context.Context, l sales.Letter) ([]byte, error) { return []byte(l.Name), nil }

// Whatever is offered, accepted, declined and taken back, invoiced and cancelled in whatever order: an order comes to
// the sum of its lines by its regime, no change counts twice, never more is invoiced than it comes to, and what is kept
// of a cancelled order is what was said, to the cent.
func TestAnOrderIsTheSumOfWhatWasAgreed(t *testing.T) {
	t.Parallel()
	s := openTill(t, dbtest.New(t))
	s.Service = sales.NewService(s.store, lettered{}, func() time.Time { return thursday })
	s.WriteXMLWith(einvoice.UBL)
	until := time.Now().Add(2 * time.Second)
	rapid.Check(t, func(rt *rapid.T) {
		if time.Now().After(until) {
			return
		}
		s.fails = rt.Fatal
		rt.Cleanup(func() {
			if rt.Failed() {
				until = until.Add(5 * time.Second) // to find the least that fails
			}
		})
		o := s.order(drawn(rt), sales.Customer{})
		taxed, c := o.Terms, o.Deposit.Currency()
		unit := decimal.New(1, -c.Digits())
		accepted, no := 0, 0
		for range rapid.IntRange(1, 8).Draw(rt, "acts") {
			open := no > accepted && s.open(o.ID, no)
			switch act := rapid.SampledFrom([]string{"offer", "offer", "accept", "accept", "decline", "withdraw", "bill", "bill", "cancel"}).Draw(rt, "act"); act {
			case "offer":
				if open {
					continue
				}
				no++
				s.offer(rt, s.has(o.ID), no, unit)
			case "accept", "decline", "withdraw":
				was := s.has(o.ID)
				var err error
				if act == "withdraw" {
					_, err = s.WithdrawChange(s.ctx, o.ID, no, "Wren")
				} else {
					_, err = s.AnswerChange(s.ctx, o.ID, no, act == "accept", sales.Choice{Name: "Mara"}, "Wren")
				}
				if open != (err == nil) {
					rt.Fatalf("%s of change %d, open %t: %v", act, no, open, err)
				}
				if act == "accept" && open {
					accepted++
				} else if len(s.has(o.ID).Lines) != len(was.Lines) {
					rt.Fatal("an order changed without a yes")
				}
			case "bill":
				b := sales.Billing{Kind: rapid.SampledFrom([]sales.BillKind{sales.DepositBill, sales.PartBill, sales.BalanceBill, sales.SaleBill}).Draw(rt, "kind"), Token: uuid.NewString()}
				if b.Kind == sales.PartBill {
					b.Share = decimal.New(rapid.Int64Range(1, 100).Draw(rt, "share"), -2)
				}
				_, _ = s.Bill(s.ctx, o.ID, b, "Wren") // what it refuses has tests of its own; what it does is held below
			case "cancel":
				total := s.has(o.ID).Totals().Gross
				kept := decimal.NewFromInt(rapid.Int64Range(0, total.Decimal().Div(unit).IntPart()).Draw(rt, "kept")).Mul(unit)
				_, err := s.Cancel(s.ctx, o.ID, "Moved away", &kept, "Wren")
				s.must(err)
				o := s.has(o.ID)
				if got := o.Totals(); !got.Gross.Decimal().Equal(kept) || !got.Net.Add(got.Tax).Equal(got.Gross) {
					rt.Fatalf("%s is kept and it comes to %+v", kept, got)
				}
				s.within(rt, o.ID)
				_, err = s.Cancel(s.ctx, o.ID, "Moved away", &kept, "Wren")
				if err == nil || s.open(o.ID, no) {
					rt.Fatal("it was cancelled twice, or a change still waits")
				}
				return
			}
			now := s.has(o.ID)
			var lines []tax.Line
			changes := 0
			for _, l := range now.Lines {
				lines = append(lines, tax.Line{Amount: l.Amount, Rate: taxed.Rate})
				if l.Kind == sales.ChangeLine {
					changes++
				}
			}
			want := taxed.Regime.Totals(c, lines)
			if got := now.Totals(); !got.Gross.Equal(want.Gross) || !got.Net.Add(got.Tax).Equal(got.Gross) || changes != accepted {
				rt.Fatalf("%+v, its lines come to %+v; %d changes of %d", got, want, changes, accepted)
			}
			s.within(rt, o.ID)
		}
	})
}

// within holds that an order is never invoiced above what it comes to, nor its deposit above its price. Where each line
// is rounded by itself net and tax may be parted elsewhere, by less than a cent of each line and document.
func (s *till) within(rt rapid.TB, id string) {
	d, err := s.Dues(s.ctx, id)
	s.must(err)
	parted := int64(len(d.Order.Lines) + len(d.Bills) + len(d.Credits))
	if least := decimal.New(-parted, -d.Total.Net.Currency().Digits()); d.Rest.Gross.Sign() < 0 || d.Rest.Net.Decimal().LessThan(least) {
		rt.Fatalf("%+v is invoiced of %+v", d.Invoiced, d.Total)
	}
	if d.Order.State == sales.Accepted && d.Order.Deposit.Cmp(d.Total.Gross) > 0 {
		rt.Fatalf("a deposit of %s for %s", d.Order.Deposit, d.Total.Gross)
	}
	if said := d.Settle(); strings.Contains(said, "credit note") {
		rt.Fatal(said)
	}
}

func (s *till) has(id string) sales.Order {
	t, err := s.Order(s.ctx, id)
	s.must(err)
	return t.Order
}

func (s *till) open(id string, no int) bool {
	l, err := s.Life(s.ctx, id)
	s.must(err)
	return no > 0 && no <= len(l.Changes) && l.Changes[no-1].State == sales.Offered
}

// offer puts a change into the books as an offer would have: up, down, or at no price, never below nothing.
func (s *till) offer(rt *rapid.T, o sales.Order, no int, unit decimal.Decimal) {
	sum := decimal.Zero
	for _, l := range o.Lines {
		sum = sum.Add(l.Amount.Decimal())
	}
	most := sum.Div(unit).IntPart()
	amount, err := money.New(decimal.NewFromInt(rapid.Int64Range(-most, most+1).Draw(rt, "amount")).Mul(unit), o.Deposit.Currency())
	s.must(err)
	hash := sha256.Sum256(nil)
	s.must(s.store.Act(s.ctx, func(tx sales.Tx) error {
		return tx.AddChangeNote(s.ctx, sales.ChangeNote{Order: o.ID, No: no, State: sales.Offered, Label: "Other gems", Amount: amount, Document: hex.EncodeToString(hash[:]), Offered: thursday, By: "Wren"})
	}))
}

// Lines that come to nothing may leave a cent of net and of tax, once each is rounded: there is nothing to invoice.
func TestLinesThatComeToNothing(t *testing.T) {
	t.Parallel()
	s := openTill(t, dbtest.New(t))
	o := sales.Order{Deposit: money.Sum("EUR")}
	o.Terms.Regime = tax.Regime{Registered: true, GrossPrices: true, PerLine: true, Mode: money.HalfUp}
	o.Terms.Rate = tax.Rate{Code: "standard", Name: "Tax", Percent: dec("6.1")}
	for _, cents := range []int64{12, -4, -8} { // their tax: 0.007, -0.002 and -0.005
		o.Lines = append(o.Lines, sales.OrderLine{Kind: sales.QuoteLine, Text: "Target", Quantity: 1, Amount: money.Round(decimal.New(cents, -2), "EUR")})
	}
	o = s.order(o, sales.Customer{})
	d, err := s.Dues(s.ctx, o.ID)
	s.must(err)
	if d.Rest.Net.String() != "-0.01" || d.Rest.Tax.String() != "0.01" || d.Rest.Gross.String() != "0.00" {
		t.Errorf("%+v is left", d.Rest)
	}
	s.within(t, o.ID)
	if i, err := s.Bill(s.ctx, o.ID, sales.Billing{Kind: sales.BalanceBill, Token: uuid.NewString()}, "Wren"); fault.KindOf(err) != fault.State {
		t.Errorf("invoiced %+v, %v", i.Totals, err)
	}
}
