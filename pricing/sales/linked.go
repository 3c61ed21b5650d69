package sales

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/workshop"
)

// Latex is what was answered to whether somebody who will handle a piece is allergic to latex.
type Latex string

// The answers. With yes nothing is ordered; whoever is not sure is asked to find out before it is coated.
const (
	LatexNo      Latex = "no"
	LatexNotSure Latex = "not sure"
	LatexYes     Latex = "yes"
)

// Linked is all that a customer's page shows, at one moment.
type Linked struct {
	Link     Link
	Quote    Quote // as it stands now
	Customer Customer
	Workshop workshop.Workshop
	Messages []Message
	Answer   *Answer
	Order    *Order
	Ready    time.Time // an order that is booked is planned to be ready by then; zero without a plan
	Now      time.Time
}

// Wished tells that a wish waits for the workshop's word, on the version that stands.
func (l Linked) Wished() bool {
	return slices.ContainsFunc(l.Messages, func(m Message) bool { return m.Kind == Wish && m.Open() && m.QuoteID == l.Quote.ID })
}

// Linked reads what the page of a link's secret shows. seen notes that somebody from outside the workshop looked.
// Unknown, ended and malformed secrets are one fault, found in one way.
func (s *Service) Linked(ctx context.Context, secret string, seen bool) (Linked, error) {
	return read(ctx, s, func(tx Tx) (l Linked, err error) {
		l.Now = s.now()
		if l.Link, l.Quote, err = s.follow(ctx, tx, secret); err != nil {
			return l, err
		}
		if seen && l.Now.Sub(l.Link.Seen) >= time.Minute {
			if err := tx.SeeLink(ctx, l.Link.ID, l.Now); err != nil {
				return l, err
			}
		}
		if l.Customer, err = tx.Customer(ctx, l.Quote.CustomerID); err != nil {
			return l, err
		}
		if l.Workshop, err = tx.Workshop(ctx, l.Now); err != nil {
			return l, err
		}
		if l.Messages, err = tx.Messages(ctx, l.Quote.Number); err != nil {
			return l, err
		}
		if a, err := tx.Answer(ctx, l.Quote.ID); err == nil {
			l.Answer = &a
		} else if fault.KindOf(err) != fault.NotFound {
			return l, err
		}
		if l.Quote.State != Won {
			return l, nil
		}
		o, err := tx.OrderOf(ctx, l.Quote.ID)
		if err != nil {
			return l, err
		}
		if l.Order = &o; o.State != Booked {
			return l, nil
		}
		plans, err := tx.Booked(ctx)
		l.Ready = plans[o.ID].Ready
		return l, err
	})
}

// follow is the link of a secret and the quote it opens.
func (s *Service) follow(ctx context.Context, tx Tx, secret string) (Link, Quote, error) {
	l, err := tx.LinkBy(ctx, digestOf(secret))
	if err != nil {
		return l, Quote{}, err
	}
	q, err := tx.Standing(ctx, l.Quote)
	return l, q, err
}

// Given is what came of an answer on a customer's page.
type Given struct {
	OrderID string
	Wish    bool // latex was in the way: it is a wish, and the workshop's turn
	Fresh   bool // false where it had been answered before
}

// AcceptLinked accepts the quote of a link as its customer chose, if what they saw is what stands. Latex has to be
// answered where what they chose has it; with a yes it is a wish, and nothing is ordered.
func (s *Service) AcceptLinked(ctx context.Context, secret string, c Choice) (Given, error) {
	return read(ctx, s, func(tx Tx) (g Given, err error) {
		q, err := s.answering(ctx, tx, secret, &c)
		if err != nil {
			return g, err
		}
		if !q.Stands(s.now()) || c.Document != q.Document {
			return s.given(ctx, tx, q, c) // the order there is, or why there can be none
		}
		if err := q.checked(&c); err != nil {
			return g, err
		}
		messages, err := tx.Messages(ctx, q.Number)
		if err != nil {
			return g, err
		}
		waits := Linked{Quote: q, Messages: messages}.Wished()
		switch {
		case c.Latex == LatexYes && !waits:
			g.Wish = true
			if g.Fresh, err = s.keep(ctx, tx, q, Message{Kind: Wish, Name: c.Name, Options: c.Options, Language: c.Language}); err != nil {
				return g, err
			}
			return g, s.tell(ctx, tx, q, "would accept quote %s, but for latex", "Somebody who will handle it is allergic to latex, and what they chose contains it ("+chosenNames(q, c.Options)+"). Nothing was ordered: offer it without latex, or talk to them first.")
		case waits && c.Latex != "":
			g.Wish = true
			return g, nil
		}
		return s.given(ctx, tx, q, c)
	})
}

// checked refuses a choice without a name, or without a word on the latex it contains.
func (q Quote) checked(c *Choice) error {
	var l fault.List
	if c.Name == "" {
		l.Add("name", "", "Write your name: it stands under what you agree to.")
	}
	long(&l, "name", c.Name, 200)
	latex, err := q.Latex(c.Options)
	if err := l.Take("", err); err != nil {
		return err
	}
	if !latex {
		c.Latex = ""
	} else if c.Latex != LatexNo && c.Latex != LatexNotSure && c.Latex != LatexYes {
		l.Add("latex", string(c.Latex), "Answer this first: what you chose contains natural rubber latex.")
	}
	return l.Err()
}

// given accepts and tells the workshop.
func (s *Service) given(ctx context.Context, tx Tx, q Quote, c Choice) (g Given, err error) {
	if g.OrderID, g.Fresh, err = s.accept(ctx, tx, q.ID, c, c.Name); err != nil || !g.Fresh {
		return g, err
	}
	said := "They chose " + chosenNames(q, c.Options) + "."
	if c.Latex == LatexNotSure {
		said += " They are not sure whether somebody is allergic to latex: ask before it is coated."
	}
	return g, s.tell(ctx, tx, q, "has accepted quote %s", said)
}

func chosenNames(q Quote, keys []string) string {
	names := q.Names(keys)
	if len(names) == 0 {
		return "no options"
	}
	return strings.Join(names, ", ")
}

// Names are what the options of some keys are called, on one line each.
func (q Quote) Names(keys []string) (names []string) {
	for _, o := range q.Printed.Options {
		if slices.Contains(keys, o.Key) {
			names = append(names, oneName(o.Name))
		}
	}
	return names
}

// DeclineLinked declines the quote of a link; fresh is false where it was declined before.
func (s *Service) DeclineLinked(ctx context.Context, secret string, c Choice) (fresh bool, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		q, err := s.answering(ctx, tx, secret, &c)
		if err != nil {
			return err
		}
		by := cmp.Or(c.Name, q.Customer)
		if fresh, err = s.decline(ctx, tx, q.ID, c, by); err != nil || !fresh {
			return err
		}
		said := "They gave no reason."
		if c.Note != "" {
			said = "They wrote:\n\n" + c.Note
		}
		return s.tell(ctx, tx, q, "has declined quote %s", said)
	})
	return fresh, err
}

// answering is the quote of an answer that comes from a customer's page, locked; the choice says where it came from.
func (s *Service) answering(ctx context.Context, tx Tx, secret string, c *Choice) (Quote, error) {
	l, q, err := s.follow(ctx, tx, secret)
	if err != nil {
		return q, err
	}
	// Read again once nobody else can change it: what stood is what is answered.
	if q, err = tx.LockQuote(ctx, q.ID); err != nil {
		return q, err
	}
	c.Document = cmp.Or(c.Document, "unknown") // whoever answers here has to say what they saw
	c.Name, c.Note, c.Online, c.Link = oneName(c.Name), strings.TrimSpace(c.Note), true, l.ID
	return q, nil
}

// Ask keeps what a customer writes on their page.
func (s *Service) Ask(ctx context.Context, secret string, m Message) error {
	return s.store.Act(ctx, func(tx Tx) error {
		_, q, err := s.follow(ctx, tx, secret)
		if err != nil {
			return err
		}
		if q, err = tx.LockQuote(ctx, q.ID); err != nil { // counted by one at a time
			return err
		}
		before, err := tx.Messages(ctx, q.Number)
		if err != nil {
			return err
		}
		waiting := 0
		for _, b := range before {
			if b.Open() {
				waiting++
			}
		}
		if waiting >= mostOpen || len(before) >= mostMessages {
			return fault.New(fault.TooMany, "Much was written here already. Wait for the workshop's answer, or write to it directly.")
		}
		m.Kind, m.Settled = Question, time.Time{}
		m.Name = cmp.Or(m.Name, q.Customer)
		fresh, err := s.keep(ctx, tx, q, m)
		if err != nil || !fresh {
			return err
		}
		return s.tell(ctx, tx, q, "asks about quote %s", m.Text)
	})
}

// tell writes to the workshop what came from a customer's page about a quote; its number goes into what.
func (s *Service) tell(ctx context.Context, tx Tx, q Quote, what, text string) error {
	return s.tellOf(ctx, tx, q, strings.Replace(what, "%s", q.Number.String(), 1), text+"\n\nIt stands on the quote's page.")
}

// tellOf writes to the workshop's own address what came from a customer's page, where mail can be sent at all.
func (s *Service) tellOf(ctx context.Context, tx Tx, q Quote, what, text string) error {
	w, err := tx.Workshop(ctx, s.now())
	if err != nil || s.mailServer == "" || canWrite(w.Head.Email) != nil {
		return err
	}
	subject := []rune(oneName(q.Customer + " " + what))
	if len(subject) > 150 {
		subject = append(subject[:149], '…')
	}
	_, err = s.queue(ctx, tx, Mail{
		Kind: MailNotice, About: q.ID, To: w.Head.Email, Subject: string(subject), Token: newID(), By: oneName(q.Customer),
		Text: strings.ReplaceAll(oneName(q.Title)+", quote "+q.Number.String()+"\n\n"+text, LinkMark, ""),
	})
	return err
}

// Stands tells that a quote can be accepted at a moment: its last day counts whole.
func (q Quote) Stands(now time.Time) bool {
	return q.State == Issued && !stock.Day(now).After(stock.Day(q.ValidUntil.In(now.Location())))
}

// Latex tells that a quote with some of its options contains natural rubber latex.
func (q Quote) Latex(keys []string) (bool, error) {
	options, err := q.Printed.chosen(keys)
	if err != nil {
		return false, err
	}
	form, err := with(q.Form, options)
	if err != nil {
		return false, err
	}
	spec, err := form.Spec()
	return err == nil && spec.Coat.System == "latex", err
}

// Asks is what a quote comes to with some of its options: sums, and what of them books the bench.
func (q Quote) Asks(keys []string) (tax.Totals, money.Amount, error) {
	sums, err := q.With(keys)
	if err != nil {
		return sums, money.Amount{}, err
	}
	return sums, q.deposit(sums.Gross), nil
}
