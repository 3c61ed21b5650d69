package sales

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// LinkedOrder is what a customer's page shows of an order besides the order itself, in a tongue: nothing of what the
// workshop reckons with.
type LinkedOrder struct {
	Made       []string // as it is made now; nil where it is as it was quoted
	Cautions   []string // that go with it, with Made
	Picture    string   // SVG, with Made
	Changes    []LinkedChange
	Rounds     []Approval
	Deliveries []Delivery
	Left       int       // pieces that were not handed over yet
	Begun      bool      // time was logged or material taken
	Mended     time.Time // the last day that glue lines and straps are mended free; zero before everything is handed over
}

// LinkedChange is a change note as its customer reads it.
type LinkedChange struct {
	No             int
	State          ChangeState
	Label          string
	Moved, Made    []string     // while it waits: what is otherwise, what is made then
	Amount         money.Amount // as the order's lines
	Before, After  tax.Totals   // of the order, while it waits
	Latex          bool         // it brings natural rubber latex that was not there
	Document, Name string
	Answered       time.Time
}

// LinkedOrder reads it for the order of a customer's page.
func (s *Service) LinkedOrder(ctx context.Context, id string, t words.Tongue) (LinkedOrder, error) {
	return read(ctx, s, func(tx Tx) (l LinkedOrder, err error) {
		o, err := tx.Order(ctx, id)
		if err != nil {
			return l, err
		}
		all, err := life(ctx, tx, id)
		if err != nil {
			return l, err
		}
		l.Rounds, l.Deliveries, l.Left = all.Rounds, all.Deliveries, all.Left
		if l.Begun, err = begun(ctx, tx, id); err != nil {
			return l, err
		}
		if l.Left == 0 && len(l.Deliveries) > 0 {
			w, err := tx.Workshop(ctx, s.now())
			if err != nil {
				return l, err
			}
			l.Mended = all.Mended(w.WarrantyDays)
		}
		for _, n := range all.Changes {
			l.Changes = append(l.Changes, LinkedChange{No: n.No, State: n.State, Label: n.Label, Amount: n.Amount, Document: n.Document, Name: n.Name, Answered: n.Answered})
		}
		waits := len(all.Changes) - 1
		if waits >= 0 && (all.Changes[waits].State != Offered || !o.Open()) {
			waits = -1
		}
		if o.Agreed == nil && waits < 0 {
			return l, nil
		}
		err = s.inWords(ctx, tx, o, t, &l, all.Changes, waits)
		return l, err
	})
}

// inWords says what an order is made to, and what the change that waits would make of it.
func (s *Service) inWords(ctx context.Context, tx Tx, o Order, t words.Tongue, l *LinkedOrder, notes []ChangeNote, waits int) error {
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return err
	}
	q = o.as(q)
	body, err := tx.Snapshot(ctx, q.Snapshot)
	if err != nil {
		return err
	}
	var snap pricing.Snapshot
	if err := json.Unmarshal(body, &snap); err != nil {
		return fmt.Errorf("snapshot of quote %s: %w", q.ID, err)
	}
	if o.Agreed != nil {
		made, err := shieldOf(q.Form.Spec, snap)
		if err != nil {
			return err
		}
		l.Made, l.Cautions = Describe(t, made), Cautions(t, pricing.Estimate{Shield: made})
		var sheet Sheet
		sheet.Workshop.Figures, sheet.Customer.Language, sheet.Estimate.Shield = snap, t.Code(), made
		l.Picture = s.render.Picture(sheet)
	}
	if waits < 0 {
		return nil
	}
	c, n := &l.Changes[waits], notes[waits]
	then, err := shieldOf(n.Agreed.Form.Spec, snap)
	if err != nil {
		return err
	}
	c.Made, c.Latex = Describe(t, then), bringsLatex(q.Form, n.Agreed.Form)
	for _, m := range Differences(t, snap.Catalogue, q.Form, n.Agreed.Form) {
		c.Moved = append(c.Moved, m.In(t))
	}
	c.Before = o.Totals()
	o.Lines = append(o.Lines[:len(o.Lines):len(o.Lines)], OrderLine{Kind: ChangeLine, Amount: n.Amount})
	c.After = o.Totals()
	return nil
}

func shieldOf(read func() (shield.Spec, error), snap pricing.Snapshot) (shield.Shield, error) {
	spec, err := read()
	if err != nil {
		return shield.Shield{}, err
	}
	return shield.Make(spec, snap.Catalogue, snap.Bench)
}

// begun tells that time was logged for an order or material taken.
func begun(ctx context.Context, tx Tx, id string) (bool, error) {
	moves, err := tx.MovementsOf(ctx, id)
	if err != nil || len(moves) > 0 {
		return err == nil, err
	}
	logs, err := tx.Logs(ctx, id)
	for _, l := range labour.Standing(logs) {
		if l.Minutes.IsPositive() {
			return true, err
		}
	}
	return false, err
}

// AnswerChangeLinked answers a change on its customer's own page, if what they saw is what was offered. Fresh is false
// where just that had been answered before.
func (s *Service) AnswerChangeLinked(ctx context.Context, secret string, no int, yes bool, c Choice) (fresh bool, err error) {
	want, said := Refused, "has declined change %d of order %s"
	if yes {
		want, said = Consented, "has accepted change %d of order %s"
	}
	return s.onLinked(ctx, secret, &c, func(tx Tx, q Quote, o *Order) (bool, error) {
		notes, err := tx.ChangeNotes(ctx, o.ID)
		if err != nil {
			return false, err
		}
		if no >= 1 && no <= len(notes) && notes[no-1].State == want {
			return false, nil
		}
		if err := signed(c); err != nil {
			return false, err
		}
		c.Document = cmp.Or(c.Document, "unknown") // whoever answers here has to say what they saw
		if err := s.answerChange(ctx, tx, o, no, yes, c, c.Name); err != nil {
			return false, err
		}
		return true, s.tellOf(ctx, tx, q, fmt.Sprintf(said, no, o.Number), strings.TrimSpace(notes[no-1].Label+"\n\n"+c.Note)+"\n\nIt stands on the order's page.")
	})
}

// AnswerDrawingLinked says on a customer's own page what they think of a drawing.
func (s *Service) AnswerDrawingLinked(ctx context.Context, secret string, round int, v Verdict, said string, c Choice) (fresh bool, err error) {
	return s.onLinked(ctx, secret, &c, func(tx Tx, q Quote, o *Order) (bool, error) {
		rounds, err := tx.Approvals(ctx, o.ID)
		if err != nil {
			return false, err
		}
		if round >= 1 && round <= len(rounds) && rounds[round-1].Verdict != "" && rounds[round-1].Verdict == v && rounds[round-1].Words == strings.TrimSpace(said) {
			return false, nil
		}
		if err := signed(c); err != nil {
			return false, err
		}
		if err := s.answerDrawing(ctx, tx, *o, round, v, said, c, c.Name); err != nil {
			return false, err
		}
		what := "has approved the drawing of order %s"
		if v == Redraw {
			what = "wants the drawing of order %s changed"
		}
		return true, s.tellOf(ctx, tx, q, fmt.Sprintf(what, o.Number), strings.TrimSpace(fmt.Sprintf("Round %d\n\n%s", round, strings.TrimSpace(said)))+"\n\nIt stands on the order's page.")
	})
}

// onLinked changes the order of a customer's page, locked; the choice says where it came from.
func (s *Service) onLinked(ctx context.Context, secret string, c *Choice, act func(Tx, Quote, *Order) (bool, error)) (fresh bool, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		l, q, err := s.follow(ctx, tx, secret)
		if err != nil {
			return err
		}
		o, err := tx.OrderOf(ctx, q.ID)
		if err != nil {
			return err
		}
		if o, err = tx.LockOrder(ctx, o.ID); err != nil {
			return err
		}
		c.Name, c.Note, c.Online, c.Link = oneName(c.Name), strings.TrimSpace(c.Note), true, l.ID
		if fresh, err = act(tx, q, &o); err != nil || !fresh {
			return err
		}
		o.Edit++
		return tx.SaveOrder(ctx, o)
	})
	return fresh, err
}

// signed refuses an answer without a name or with one that is too long.
func signed(c Choice) error {
	var l fault.List
	if c.Name == "" {
		l.Add("name", "", "Write your name: it stands under what you agree to.")
	}
	long(&l, "name", c.Name, 200)
	long(&l, "reason", c.Note, 2000)
	return l.Err()
}
