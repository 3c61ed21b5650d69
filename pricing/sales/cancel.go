package sales

import (
	"context"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/stock"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// Cancelling is what it comes to when an order is cancelled now, by the workshop's terms.
type Cancelling struct {
	Begun    bool            // time was logged or material taken
	Hours    decimal.Decimal // logged
	Material money.Amount    // taken off the shelf, with handling
	Labour   money.Amount    // hours at the shop rate
	Kept     money.Amount    // proposed, with tax: a share of what was paid of the deposit before work began, the cost to date later
	Paid     money.Amount
}

// Back is what goes back to the customer when so much is kept; below zero where they still owe.
func (c Cancelling) Back(kept money.Amount) money.Amount { return c.Paid.Sub(kept) }

// Cancelling works it out; nothing is stored.
func (s *Service) Cancelling(ctx context.Context, id string) (Cancelling, error) {
	return read(ctx, s, func(tx Tx) (Cancelling, error) {
		o, err := tx.Order(ctx, id)
		if err != nil {
			return Cancelling{}, err
		}
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return Cancelling{}, err
		}
		return cancelling(ctx, tx, o, w)
	})
}

func cancelling(ctx context.Context, tx Tx, o Order, w workshop.Workshop) (c Cancelling, err error) {
	moves, err := tx.MovementsOf(ctx, o.ID)
	if err != nil {
		return c, err
	}
	logs, err := tx.Logs(ctx, o.ID)
	if err != nil {
		return c, err
	}
	d, err := dues(ctx, tx, o)
	if err != nil {
		return c, err
	}
	currency, rates := o.Deposit.Currency(), w.Figures.Rates
	round := func(v decimal.Decimal) money.Amount { return money.Round(v, currency) }
	minutes := decimal.Zero
	for _, l := range labour.Standing(logs) {
		minutes = minutes.Add(l.Minutes)
	}
	c = Cancelling{
		Begun: len(moves) > 0 || minutes.IsPositive(), Hours: minutes.DivRound(decimal.NewFromInt(60), 2), Paid: d.Paid,
		Material: round(Taken{Moves: moves}.Cost().Decimal().Mul(rates.Handling.Add(decimal.NewFromInt(1)))),
	}
	c.Labour = round(c.Hours.Mul(rates.Hour))
	if !c.Begun {
		c.Kept = round(least(o.Deposit, above(d.Paid, round(decimal.Zero))).Decimal().Mul(w.KeptBefore))
		return c, nil
	}
	cost := c.Material.Add(c.Labour)
	c.Kept = least(cost.Add(o.Terms.Regime.Exclusive(cost, o.Terms.Rate)), o.Totals().Gross)
	return c, nil
}

// Cancel ends an order that is not made, with the reason; what was set aside for it is free again. What was
// already taken off the shelf stays taken: it is brought back as a return. kept is what the customer pays all the same,
// with tax; nil for what the terms say. What was invoiced above it is credited, what was paid above it goes back.
func (s *Service) Cancel(ctx context.Context, id, why string, kept *decimal.Decimal, by string) (Taken, error) {
	return s.order(ctx, id, func(tx Tx, o *Order) error {
		if !o.Open() {
			return ended(*o)
		}
		if why = strings.TrimSpace(why); why == "" || len([]rune(why)) > 400 {
			return problem("reason", why, "Say in a few words why it is cancelled.")
		}
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return err
		}
		c, err := cancelling(ctx, tx, *o, w)
		if err != nil {
			return err
		}
		total, keep := o.Totals().Gross, c.Kept
		if kept != nil {
			if keep, err = money.New(*kept, o.Deposit.Currency()); err != nil {
				return under("kept", err)
			}
		}
		if keep.Sign() < 0 || keep.Cmp(total) > 0 {
			return problem("kept", keep.String(), fmt.Sprintf("Write what is kept, from 0 to %s, what the order comes to.", words.Price(total)))
		}
		if err := withdraw(ctx, tx, s.now(), id, by); err != nil {
			return err
		}
		if !keep.Equal(total) {
			line := o.NotKept(keep, "")
			if err := tx.AddLines(ctx, id, len(o.Lines), []OrderLine{line}); err != nil {
				return err
			}
			o.Lines = append(o.Lines, line)
		}
		o.State, o.Reason, o.Ended = Cancelled, why, s.now()
		if err := s.cancelPaper(ctx, tx, *o, total, c, by); err != nil {
			return err
		}
		if err := stock.Release(ctx, tx, o.ID, o.Ended); err != nil {
			return err
		}
		_, err = s.settle(ctx, tx, o.ID, oneName(why), by)
		return err
	})
}

// cancelPaper prints what a cancellation comes to and keeps it.
func (s *Service) cancelPaper(ctx context.Context, tx Tx, o Order, total money.Amount, c Cancelling, by string) error {
	l, err := s.head(ctx, tx, o)
	if err != nil {
		return err
	}
	t, kept := l.Tongue, o.Totals().Gross
	l.Name, l.File = t.Say("Cancellation of order %s", o.Number.In(t)), o.file("cancellation")
	l.Facts = []LetterFact{{t.Say("Ordered"), t.Date(o.Accepted)}}
	rows := []LetterRow{
		{What: t.Say("The order came to"), Amount: t.Money(total)},
		{What: t.Say("Charged all the same"), Amount: t.Money(kept)},
		{What: t.Say("Paid so far"), Amount: t.Money(c.Paid)},
	}
	switch back := c.Back(kept); back.Sign() {
	case 1:
		rows = append(rows, LetterRow{What: t.Say("Goes back to you"), Amount: t.Price(back), Total: true})
	case -1:
		rows = append(rows, LetterRow{What: t.Say("Still to pay"), Amount: t.Price(back.Neg()), Total: true})
	default:
		rows = append(rows, LetterRow{What: t.Say("Nothing is open"), Amount: t.Price(back), Total: true})
	}
	how := t.Say("By our terms a share of the deposit is kept, since no work had begun.")
	switch {
	case !kept.Equal(c.Kept):
		how = t.Say("What is charged all the same was settled for this order alone.")
	case c.Begun:
		how = t.Say("By our terms the cost to date is charged, since work had begun.")
	}
	l.Parts = []LetterPart{
		{Name: t.Say("What happened"), Words: []string{t.Say("The order is cancelled: %s", o.Reason), how}},
		{Name: t.Say("What it comes to"), Rows: rows},
	}
	doc, err := s.print(ctx, tx, l)
	if err != nil {
		return err
	}
	return tx.AddPaper(ctx, OrderPaper{Order: o.ID, Kind: CancelPaper, No: 1, Document: doc.Hash, At: s.now(), By: by})
}

// Settle tells what is still to do about the money of a cancelled order, in words; empty where nothing is.
func (d Dues) Settle() string {
	switch {
	case d.Order.State != Cancelled:
		return ""
	case d.Rest.Gross.Sign() < 0:
		return fmt.Sprintf("%s more was invoiced than is kept: issue a credit note over it.", words.Price(d.Rest.Gross.Neg()))
	case d.Overpaid().Sign() > 0:
		return fmt.Sprintf("%s goes back to the customer.", words.Price(d.Overpaid()))
	case d.Rest.Gross.Sign() > 0:
		return fmt.Sprintf("%s is kept and not invoiced yet.", words.Price(d.Rest.Gross))
	}
	return ""
}
