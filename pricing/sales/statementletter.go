package sales

import (
	"context"
	"time"

	"foamwright/pricing/words"
)

// StatementDocument is a customer's statement as a letter in their language. It is made anew each time and not kept.
func (s *Service) StatementDocument(ctx context.Context, customerID string, from, to time.Time) (Document, error) {
	c, list, err := s.Statements(ctx, customerID, from, to)
	if err != nil {
		return Document{}, err
	}
	w, err := s.Workshop(ctx)
	if err != nil {
		return Document{}, err
	}
	t := words.Speak(c.Language)
	l := Letter{Head: w.Head, Tongue: t, Name: t.Say("Statement of account"), File: "statement", Date: s.now(), To: c, Title: c.Name}
	for _, st := range list {
		l.Parts = append(l.Parts, st.part(t))
	}
	if len(list) == 0 {
		l.Parts = []LetterPart{{Words: []string{t.Say("Nothing was invoiced and nothing was paid.")}}}
	}
	return s.letter(ctx, l)
}

// part is a statement as a table: what adds to what is owed, and what takes from it.
func (st Statement) part(t words.Tongue) LetterPart {
	p := LetterPart{Name: string(st.Currency)}
	if !st.From.IsZero() {
		p.Rows = append(p.Rows, LetterRow{What: t.Say("Brought forward"), How: t.Date(st.From), Amount: t.Money(st.Opening)})
	}
	for _, e := range st.Lines {
		row := LetterRow{How: t.Date(e.Day), Amount: t.Money(e.Asked.Sub(e.Came))}
		switch {
		case e.Invoice != nil && e.Invoice.Kind == CreditNote:
			row.What = t.Say("Credit note %s", e.Invoice.Number.In(t))
		case e.Invoice != nil:
			row.What = t.Say("Invoice %s", e.Invoice.Number.In(t))
		case e.Came.Sign() < 0:
			row.What = t.Say("Paid back")
		default:
			row.What = t.Say("Payment, thank you")
		}
		p.Rows = append(p.Rows, row)
	}
	what := t.Say("Still to be paid")
	if st.Closing.Sign() < 0 {
		what = t.Say("In your favour")
	}
	p.Rows = append(p.Rows, LetterRow{What: what, How: t.Date(st.To), Amount: t.Price(st.Closing), Total: true})
	return p
}
