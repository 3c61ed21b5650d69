package sales

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// PaperKind is what a document of an order is.
type PaperKind string

// The kinds of papers of an order besides invoices and job sheets.
const (
	ConfirmationPaper PaperKind = "confirmation"
	ChangePaper       PaperKind = "change"
	CarePaper         PaperKind = "care"
	CancelPaper       PaperKind = "cancellation"
)

// OrderPaper is a document of an order: frozen, read back byte for byte.
type OrderPaper struct {
	Order    string
	Kind     PaperKind
	No       int // within its kind
	Document string
	At       time.Time
	By       string
}

// LifeTx keeps what happens to an order after it was accepted.
type LifeTx interface {
	Papers(ctx context.Context, order string) ([]OrderPaper, error) // oldest first
	AddPaper(ctx context.Context, p OrderPaper) error
	ChangeNotes(ctx context.Context, order string) ([]ChangeNote, error) // by number
	AddChangeNote(ctx context.Context, n ChangeNote) error
	AnswerChangeNote(ctx context.Context, n ChangeNote) error        // one that was offered
	Approvals(ctx context.Context, order string) ([]Approval, error) // by round
	AddApproval(ctx context.Context, a Approval) error
	AnswerApproval(ctx context.Context, a Approval) error             // one that waits
	Deliveries(ctx context.Context, order string) ([]Delivery, error) // oldest first
	AddDelivery(ctx context.Context, d Delivery) error
}

// Life is what happened to an order after it was accepted, each oldest first.
type Life struct {
	Papers     []OrderPaper
	Changes    []ChangeNote
	Rounds     []Approval
	Deliveries []Delivery
	Left       int // pieces that were not handed over yet
}

// Life reads it.
func (s *Service) Life(ctx context.Context, id string) (Life, error) {
	return read(ctx, s, func(tx Tx) (Life, error) { return life(ctx, tx, id) })
}

func life(ctx context.Context, tx Tx, id string) (l Life, err error) {
	o, err := tx.Order(ctx, id)
	if err != nil {
		return l, err
	}
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return l, err
	}
	if l.Papers, err = tx.Papers(ctx, id); err != nil {
		return l, err
	}
	if l.Changes, err = tx.ChangeNotes(ctx, id); err != nil {
		return l, err
	}
	if l.Rounds, err = tx.Approvals(ctx, id); err != nil {
		return l, err
	}
	l.Deliveries, err = tx.Deliveries(ctx, id)
	l.Left = o.as(q).pieces() - handedOver(l.Deliveries)
	return l, err
}

// Paper reads one of them back.
func (s *Service) Paper(ctx context.Context, id string, kind PaperKind, no int) (Document, error) {
	return read(ctx, s, func(tx Tx) (Document, error) {
		papers, err := tx.Papers(ctx, id)
		if err != nil {
			return Document{}, err
		}
		i := slices.IndexFunc(papers, func(p OrderPaper) bool { return p.Kind == kind && p.No == no })
		if i < 0 {
			return Document{}, fault.New(fault.NotFound, "The order has no such document.")
		}
		return tx.Document(ctx, papers[i].Document)
	})
}

// Mended is the last day that glue lines and straps are mended free: so many days after the last hand-over.
func (l Life) Mended(days int) time.Time {
	if days == 0 {
		return time.Time{}
	}
	var last time.Time
	for _, d := range l.Deliveries {
		if d.Day.After(last) {
			last = d.Day
		}
	}
	return last.AddDate(0, 0, days)
}

// head is a letter to an order's customer, without what it says.
func (s *Service) head(ctx context.Context, tx Tx, o Order) (Letter, error) {
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return Letter{}, err
	}
	c, err := tx.Customer(ctx, o.CustomerID)
	return Letter{Head: w.Head, Tongue: c.tongue(), Date: s.now(), To: c, Title: o.Title}, err
}

// file is a document's name as a file.
func (o Order) file(what string) string {
	return fmt.Sprintf("%s-%d-%d", what, o.Number.Year, o.Number.No)
}

// rows are an order's lines and what they come to.
func (o Order) rows(t words.Tongue) (rows []LetterRow) {
	for _, l := range o.Lines {
		rows = append(rows, LetterRow{What: l.In(t), Amount: t.Money(l.Amount)})
	}
	return append(rows, totalRows(t, o.Terms, o.Totals())...)
}

// In is what a line is for, in a tongue.
func (l OrderLine) In(t words.Tongue) string {
	switch l.Kind {
	case ChangeLine:
		return t.Say("Change %s: %s", l.Key, l.Text)
	case CancelLine:
		return t.Say("Cancelled, not charged")
	case QuoteLine:
		if l.Text == "" {
			return t.Say("As quoted")
		}
	}
	return l.Text
}

// totalRows are net, tax and total. Prices that have tax inside say what is in them.
func totalRows(t words.Tongue, terms Terms, sum tax.Totals) (rows []LetterRow) {
	name := t.Wording(terms.Rate.Name) + " " + t.Percent(terms.Rate.Percent)
	total := LetterRow{What: t.Say("Total"), Amount: t.Price(sum.Gross), Total: true}
	switch {
	case !terms.Regime.Registered:
		return []LetterRow{total, {What: t.Say("No tax is charged: the workshop is not registered for it.")}}
	case terms.Rate.Reason != "":
		return []LetterRow{total, {What: t.Say("No tax is charged: %s.", t.Wording(terms.Rate.Reason))}}
	case terms.Regime.GrossPrices:
		return []LetterRow{total, {What: t.Say("%s in it", name), Amount: t.Money(sum.Tax)}}
	}
	return []LetterRow{{What: t.Say("Net"), Amount: t.Money(sum.Net), Sum: true}, {What: name, Amount: t.Money(sum.Tax)}, total}
}

// confirm prints the confirmation of an order that was just accepted, and keeps it.
func (s *Service) confirm(ctx context.Context, tx Tx, o Order, q Quote, by string) error {
	a, err := tx.Answer(ctx, q.ID)
	if err != nil {
		return err
	}
	l, err := s.head(ctx, tx, o)
	if err != nil {
		return err
	}
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return err
	}
	g, err := tx.Group(ctx, q.ID)
	if err != nil {
		return err
	}
	doc, err := s.print(ctx, tx, confirmation(l, o, q, a, g, w.TermsIn(l.Tongue.Code())))
	if err != nil {
		return err
	}
	return tx.AddPaper(ctx, OrderPaper{Order: o.ID, Kind: ConfirmationPaper, No: 1, Document: doc.Hash, At: s.now(), By: by})
}

// confirmation is what is sent when a quote was accepted.
func confirmation(l Letter, o Order, q Quote, a Answer, g Group, terms []string) Letter {
	t := l.Tongue
	l.Name, l.File = t.Say("Order confirmation %s", o.Number.In(t)), o.file("confirmation")
	l.Facts = []LetterFact{{t.Say("Quote"), q.Number.In(t) + version(t, q)}, {t.Say("Accepted"), t.Date(a.At)}}
	if a.Name != "" {
		l.Facts = append(l.Facts, LetterFact{t.Say("By"), a.Name})
	}
	made := q.Printed.Said.Made
	if o.Agreed != nil {
		made = o.Agreed.Said
	}
	if len(made) == 0 {
		made = q.Printed.Made
	}
	next := []string{t.Say("The deposit of %s is due on %s. It books the bench; until then nothing is begun.", t.Price(o.Deposit), t.Date(o.DepositDue))}
	if o.Deposit.Sign() == 0 {
		next = []string{t.Say("There is no deposit: the bench is booked from %s on.", t.Date(o.Starts))}
	}
	if left := o.Totals().Gross.Sub(o.Deposit); left.Sign() > 0 && o.Deposit.Sign() > 0 {
		next = append(next, t.Say("The balance of %s is due before hand-over.", t.Price(left)))
	}
	l.Parts = []LetterPart{
		{Name: t.Say("What will be made"), Words: made},
		{Name: t.Say("For whom"), Words: g.Says(t)},
		{Name: t.Say("Price"), Rows: o.rows(t)},
		{Name: t.Say("What happens next"), Words: next},
		{Name: t.Say("Please note"), Words: q.Printed.Said.Cautions},
		{Name: t.Say("Terms"), Words: terms},
	}
	return l
}

func version(t words.Tongue, q Quote) string {
	if q.Version < 2 {
		return ""
	}
	return ", " + t.Say("version %s", strconv.Itoa(q.Version))
}

// changeLetter is a change note as the customer gets it, to be signed.
func changeLetter(l Letter, o Order, c Change, n ChangeNote) Letter {
	t := l.Tongue
	l.Name, l.File = t.Say("Change %s to order %s", strconv.Itoa(n.No), o.Number.In(t)), o.file("change-"+strconv.Itoa(n.No))
	amount := t.Money(n.Amount)
	if n.Amount.Sign() > 0 {
		amount = "+" + amount
	}
	rows := []LetterRow{{What: t.Say("The order so far"), Amount: t.Money(c.Before.Gross)}, {What: n.Label, Amount: amount}}
	var mind []string
	if c.latex {
		mind = []string{t.Say("It has natural rubber latex on it, which some people are allergic to. Tell those who handle it or are touched by it.")}
	}
	l.Parts = []LetterPart{
		{Name: t.Say("What changes"), Words: append([]string{n.Label}, c.said...)},
		{Name: t.Say("What will be made then"), Words: n.Agreed.Said},
		{Name: t.Say("Price"), Rows: append(rows, totalRows(t, o.Terms, c.After)...)},
		{Name: t.Say("Please note"), Words: mind},
		{Name: t.Say("Your answer"), Words: []string{t.Say("Nothing changes until you have accepted this. Until then the order is made as it was agreed.")}, Sign: t.Say("Name and day")},
	}
	return l
}
