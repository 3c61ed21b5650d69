package sales

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/pricing/words"
)

// QuoteRepair opens the draft of a repair's price: a spec of its kind with the findings as its first step of work, whose
// minutes are the maker's to write. Asked for again it gives the draft that is there.
func (s *Service) QuoteRepair(ctx context.Context, id string, edit int) (Quote, error) {
	var q Quote
	was, _, err := s.Repair(ctx, id)
	if err != nil {
		return q, err
	}
	if was.QuoteID != "" {
		return s.Quote(ctx, was.QuoteID)
	}
	_, err = s.repair(ctx, id, edit, func(tx Tx, r *Repair) error {
		if r.State != Inspected {
			return fault.New(fault.State, "Repair %s is %s. It is priced after it was inspected.", r.Tag, r.State)
		}
		now := s.now()
		q = Quote{ID: newID(), Version: 1, State: Draft, CustomerID: r.CustomerID, Title: clipped(r.tagged()+": "+r.What, 120), Form: r.form(), Created: now, Changed: now}
		r.QuoteID = q.ID
		return tx.AddQuote(ctx, q)
	})
	return q, err
}

// form is a repair as a spec. The step has no minutes yet: a guess would be issued one day.
func (r Repair) form() orderform.Form {
	t := orderform.T
	return orderform.Form{Kind: t(shield.Repair), Name: t(clipped(r.What, 80)), Steps: []orderform.Step{{Name: t(clipped(oneName(r.Findings), 80))}}}
}

// clipped is a text of at most so many letters.
func clipped(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// Tag prints what hangs on a piece while it is in the workshop.
func (s *Service) Tag(ctx context.Context, id string) (Document, error) {
	return read(ctx, s, func(tx Tx) (Document, error) {
		r, err := tx.Repair(ctx, id)
		if err != nil {
			return Document{}, err
		}
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return Document{}, err
		}
		l := Letter{
			Head: w.Head, Name: r.tagged(), File: r.file(), Date: stock.Day(Wall(s.now())), Title: r.What,
			Facts: []LetterFact{{"Whose", r.Customer}, {"Came in", words.Date(r.Came)}},
			Parts: []LetterPart{{Name: "Came in with", Words: lines(r.Condition)}},
		}
		if r.OrderID != "" {
			l.Facts = append(l.Facts, LetterFact{"Order", r.Order.String()})
		}
		if r.Decided {
			l.Parts = append(l.Parts, LetterPart{Name: "To be done", Words: append(lines(r.Findings), map[bool]string{true: "In warranty: mended free.", false: "Not in warranty: nothing is begun before its price is accepted."}[r.Warranty])})
		}
		l.Parts = append(l.Parts, LetterPart{Name: "Where it stands", Ticks: []string{"Inspected", "At the bench", "Ready: every bond pulled, nothing hard near the edge", "Given back"}, Sign: "Name and day"})
		return s.letter(ctx, l)
	})
}

func (r Repair) file() string { return Order{Number: r.Tag}.file("tag") }
