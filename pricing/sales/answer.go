package sales

import (
	"context"
	"slices"
	"strings"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// answered notes how a locked quote ended. Document and quote are those of the quote itself.
func (s *Service) answered(ctx context.Context, tx Tx, q Quote, a Answer) error {
	var l fault.List
	long(&l, "name", a.Name, 200)
	long(&l, "reason", a.Reason, 2000)
	if err := l.Err(); err != nil {
		return err
	}
	a.QuoteID, a.Document, a.At = q.ID, q.Document, s.now()
	if err := tx.AddAnswer(ctx, a); err != nil {
		return err
	}
	if err := tx.SettleMessages(ctx, q.Number, Wish, a.At); err != nil { // what waited for a word has it
		return err
	}
	return tx.SetQuoteState(ctx, q.ID, map[Outcome]State{Yes: Won, No: Declined}[a.Outcome])
}

// sameChoice tells who accepts a second time, with other options, what was agreed before.
func sameChoice(ctx context.Context, tx Tx, q Quote, c Choice) error {
	a, err := tx.Answer(ctx, q.ID)
	if err != nil {
		return err
	}
	were, are := slices.Sorted(slices.Values(a.Options)), slices.Sorted(slices.Values(c.Options))
	if slices.Equal(were, are) {
		return nil
	}
	said := "without options"
	var names []string
	for _, o := range q.Printed.Options {
		if slices.Contains(were, o.Key) {
			names = append(names, "“"+o.Name+"”")
		}
	}
	if len(names) > 0 {
		said = "with " + strings.Join(names, ", ")
	}
	return fault.New(fault.Conflict, "Quote %s was accepted already, on %s, %s. What was agreed then stands; changes are agreed on the order.", q.Number, a.At.Format("2 January 2006 at 15:04"), said)
}

// Decline notes that the customer does not want a quote, with their reason where they gave one.
func (s *Service) Decline(ctx context.Context, quoteID string, c Choice, by string) (Quote, error) {
	return read(ctx, s, func(tx Tx) (Quote, error) {
		if _, err := s.decline(ctx, tx, quoteID, c, by); err != nil {
			return Quote{}, err
		}
		return tx.Quote(ctx, quoteID)
	})
}

// decline is Decline within an act; fresh is false where it was declined already.
func (s *Service) decline(ctx context.Context, tx Tx, quoteID string, c Choice, by string) (fresh bool, err error) {
	q, err := tx.LockQuote(ctx, quoteID)
	if err != nil || q.State == Declined {
		return false, err
	}
	if q.State != Issued {
		return false, fault.New(fault.State, "Only a quote that stands can be declined: this one is %s.", q.State)
	}
	if c.Document != "" && c.Document != q.Document {
		return false, fault.New(fault.Conflict, "This is not the quote you saw. Open it again and look at it first.")
	}
	return true, s.answered(ctx, tx, q, c.answer(No, by, q.Gross))
}

// answer is a choice as it is kept.
func (c Choice) answer(o Outcome, by string, gross money.Amount) Answer {
	a := Answer{Outcome: o, Name: strings.TrimSpace(c.Name), By: by, Online: c.Online, Reason: strings.TrimSpace(c.Note), Latex: c.Latex, Language: c.Language, Link: c.Link, Gross: gross}
	if o == Yes {
		a.Options = c.Options
	}
	return a
}

// Answer is how a quote ended; false while nothing was said.
func (s *Service) Answer(ctx context.Context, quoteID string) (a Answer, found bool, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		a, err = tx.Answer(ctx, quoteID)
		return err
	})
	if fault.KindOf(err) == fault.NotFound {
		return a, false, nil
	}
	return a, err == nil, err
}
