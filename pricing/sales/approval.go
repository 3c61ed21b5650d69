package sales

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing"
)

// Approval is a round of drawings shown to the customer.
type Approval struct {
	Order    string
	Round    int
	Note     string // what is to be looked at
	Picture  string // SVG
	Shown    time.Time
	By       string
	Verdict  Verdict
	Words    string // of the customer
	Name     string
	Online   bool
	Answered time.Time
}

// Verdict is what a customer says of a drawing, or what came of it; empty while nothing was said.
type Verdict string

// The verdicts. What a change was agreed over shows what is ordered no longer: nobody approves it any more.
const (
	Approved  Verdict = "approved"
	Redraw    Verdict = "change"
	Overtaken Verdict = "overtaken"
)

// ShowDrawing opens a round: the order as it is made now is what the customer is to approve. A round that waits is
// not overtaken.
func (s *Service) ShowDrawing(ctx context.Context, id, note, by string) (Approval, error) {
	var a Approval
	_, err := s.order(ctx, id, func(tx Tx, o *Order) error {
		if !o.Open() {
			return ended(*o)
		}
		if note = strings.TrimSpace(note); len([]rune(note)) > 2000 {
			return problem("note", note, "This is too long. Shorten it.")
		}
		rounds, err := tx.Approvals(ctx, id)
		if err != nil {
			return err
		}
		if n := len(rounds); n > 0 && rounds[n-1].Verdict == "" {
			return fault.New(fault.State, "Round %d waits for its answer already.", rounds[n-1].Round)
		}
		picture, err := s.drawn(ctx, tx, *o)
		if err != nil {
			return err
		}
		a = Approval{Order: id, Round: len(rounds) + 1, Note: note, Picture: picture, Shown: s.now(), By: by}
		return tx.AddApproval(ctx, a)
	})
	return a, err
}

// drawn is the face of an order as it is made.
func (s *Service) drawn(ctx context.Context, tx Tx, o Order) (string, error) {
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return "", err
	}
	q = o.as(q)
	body, err := tx.Snapshot(ctx, q.Snapshot)
	if err != nil {
		return "", err
	}
	var snap pricing.Snapshot
	if err := json.Unmarshal(body, &snap); err != nil {
		return "", fmt.Errorf("snapshot of quote %s: %w", q.ID, err)
	}
	var sheet Sheet
	sheet.Workshop.Figures, sheet.Customer.Language = snap, q.Printed.Said.Language
	if sheet.Estimate.Shield, err = shieldOf(q.Form.Spec, snap); err != nil {
		return "", err
	}
	return s.render.Picture(sheet), nil
}

// AnswerDrawing notes what the customer said of the round that waits.
func (s *Service) AnswerDrawing(ctx context.Context, id string, round int, v Verdict, words string, c Choice, by string) error {
	_, err := s.order(ctx, id, func(tx Tx, o *Order) error { return s.answerDrawing(ctx, tx, *o, round, v, words, c, by) })
	return err
}

func (s *Service) answerDrawing(ctx context.Context, tx Tx, o Order, round int, v Verdict, words string, c Choice, by string) error {
	rounds, err := tx.Approvals(ctx, o.ID)
	if err != nil {
		return err
	}
	if round < 1 || round > len(rounds) {
		return fault.New(fault.NotFound, "Order %s has no round %d of drawings.", o.Number, round)
	}
	a := rounds[round-1]
	if a.Verdict == Overtaken {
		return fault.New(fault.State, "Drawing %d shows what was ordered before the last change. The next one shows what is made now.", round)
	}
	if a.Verdict != "" {
		return fault.New(fault.State, "Round %d was answered already.", round)
	}
	if !o.Open() {
		return ended(o)
	}
	var l fault.List
	words = strings.TrimSpace(words)
	if v != Approved && v != Redraw {
		l.Add("verdict", string(v), "Say whether the drawing is approved or is to be changed.")
	}
	if v == Redraw && words == "" {
		l.Add("words", "", "Say what is to be changed.")
	}
	long(&l, "words", words, 2000)
	long(&l, "name", c.Name, 200)
	if err := l.Err(); err != nil {
		return err
	}
	a.Verdict, a.Words, a.Name, a.Online, a.Answered = v, words, oneName(c.Name), c.Online, s.now()
	a.Name = cmp.Or(a.Name, by)
	return tx.AnswerApproval(ctx, a)
}

// overtake ends a round that waits when a change is agreed.
func (s *Service) overtake(ctx context.Context, tx Tx, order, by string) error {
	rounds, err := tx.Approvals(ctx, order)
	if err != nil || len(rounds) == 0 || rounds[len(rounds)-1].Verdict != "" {
		return err
	}
	last := rounds[len(rounds)-1]
	last.Verdict, last.Name, last.Answered = Overtaken, by, s.now()
	return tx.AnswerApproval(ctx, last)
}

// approved refuses to cut what the customer was shown and has not approved.
func approved(ctx context.Context, tx Tx, o Order) error {
	rounds, err := tx.Approvals(ctx, o.ID)
	if err != nil || len(rounds) == 0 || rounds[len(rounds)-1].Verdict == Approved {
		return err
	}
	if rounds[len(rounds)-1].Verdict == Overtaken {
		return fault.New(fault.State, "Order %s was changed while its drawing waited for an answer: show the customer the drawing of what is made now. Nothing is cut before it is approved.", o.Number)
	}
	return fault.New(fault.State, "The customer was shown the drawing of order %s and has not approved it: nothing is cut before. If they said so elsewhere, note it on the order.", o.Number)
}
