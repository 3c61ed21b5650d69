package sales

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"

	"foamwright/materials/fault"
)

// MessageKind is what customer and workshop write to each other about a quote.
type MessageKind string

// The kinds of messages. A wish is a yes that is no order yet: what is chosen has latex, and whoever will handle it has
// an allergy.
const (
	Question MessageKind = "question"
	Wish     MessageKind = "wish"
	Reply    MessageKind = "reply" // of the workshop
)

// Message is one of them, kept as it was written.
type Message struct {
	ID       string // of the form it was written in: sent twice it is kept once
	QuoteID  string // the version that stood
	Version  int
	Kind     MessageKind
	At       time.Time
	Name     string
	Text     string
	Options  []string  // keys, of a wish
	Language string    // ISO 639-1, the page was read in
	Settled  time.Time // a customer's that was replied to or wants no reply; zero until then
}

// Open tells that the workshop owes an answer.
func (m Message) Open() bool { return m.Settled.IsZero() }

// How much a customer may write: enough for any talk, and an end to floods.
const (
	mostOpen     = 20
	mostMessages = 300
)

// newsDays is how long an answer about an order is news; common practice, no source.
const newsDays = 3

// MessageTx is the messages within one transaction.
type MessageTx interface {
	AddMessage(ctx context.Context, m Message) (fresh bool, err error) // false where its ID is there
	Messages(ctx context.Context, n Number) ([]Message, error)         // about any version, oldest first
	// SettleMessages settles a number's open ones of a kind; of every kind where it is empty.
	SettleMessages(ctx context.Context, n Number, kind MessageKind, at time.Time) error
	SeeAnswer(ctx context.Context, quoteID string, at time.Time) error
	// News are oldest first. Answers to changes, and drawings that were approved, are news from since on; a drawing
	// that is to be changed is until another is shown.
	News(ctx context.Context, since time.Time) ([]News, error)
}

// News is one thing that came from a customer's page and that nobody of the workshop has settled or seen.
type News struct {
	Kind     string // a MessageKind, an Outcome, "change " and a ChangeState, "drawing " and a Verdict
	QuoteID  string
	OrderID  string // where there is one
	Quote    Number
	Title    string
	Customer string
	At       time.Time
	Text     string // of a message, or the reason
	Latex    Latex
}

// News is what customers wrote and answered on their pages since somebody last looked: questions until they are settled,
// answers until their quote was opened, what was said of an order for some days.
func (s *Service) News(ctx context.Context) ([]News, error) {
	return read(ctx, s, func(tx Tx) ([]News, error) { return tx.News(ctx, s.now().AddDate(0, 0, -newsDays)) })
}

// OfOrder tells that it was said about an order's change or drawing.
func (n News) OfOrder() bool {
	return strings.HasPrefix(n.Kind, "change ") || strings.HasPrefix(n.Kind, "drawing ")
}

// Messages are what was written about a quote's number, oldest first.
func (s *Service) Messages(ctx context.Context, quoteID string) ([]Message, error) {
	return read(ctx, s, func(tx Tx) ([]Message, error) {
		q, err := tx.Quote(ctx, quoteID)
		if err != nil || q.Number.No == 0 {
			return nil, err
		}
		return tx.Messages(ctx, q.Number)
	})
}

// ReplyTo answers what a customer asked: it stands on their page, and nothing of theirs is open any more. With mail it
// goes to their address too, once however often it is asked for under the same ID.
func (s *Service) ReplyTo(ctx context.Context, quoteID string, m Message, mail bool) error {
	return s.store.Act(ctx, func(tx Tx) error {
		q, err := tx.Quote(ctx, quoteID)
		if err != nil {
			return err
		}
		if q.State == Draft {
			return fault.New(fault.State, "This quote has not been issued yet, so its customer has no page to read this on. Issue it first.")
		}
		m.Kind, m.Settled = Reply, s.now()
		if _, err := uuid.Parse(m.ID); err != nil {
			m.ID = newID()
		}
		fresh, err := s.keep(ctx, tx, q, m)
		if err != nil {
			return err
		}
		if fresh && mail {
			if err := s.mailReply(ctx, tx, q, m); err != nil {
				return err
			}
		}
		return tx.SettleMessages(ctx, q.Number, "", s.now())
	})
}

// mailReply puts an answer into the outbox. It has no link: whoever asked has their page open, and every link is one
// more key to it.
func (s *Service) mailReply(ctx context.Context, tx Tx, q Quote, m Message) error {
	c, err := tx.Customer(ctx, q.CustomerID)
	if err != nil {
		return err
	}
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return err
	}
	subject, text := Wording(MailFacts{Kind: MailReply, Head: w.Head, Customer: c, Number: q.Number, Title: q.Title, Said: strings.TrimSpace(m.Text)})
	_, err = s.queue(ctx, tx, Mail{Token: "reply " + m.ID, Kind: MailReply, About: q.ID, Language: c.Language, To: c.Email, Subject: subject, Text: strings.ReplaceAll(text, LinkMark, ""), By: m.Name})
	return err
}

// Settle notes that a customer's messages want no reply.
func (s *Service) Settle(ctx context.Context, quoteID string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		q, err := tx.Quote(ctx, quoteID)
		if err != nil {
			return err
		}
		return tx.SettleMessages(ctx, q.Number, "", s.now())
	})
}

// SeeAnswer notes that the workshop has seen the answer to a quote.
func (s *Service) SeeAnswer(ctx context.Context, quoteID string) error {
	return s.store.Act(ctx, func(tx Tx) error { return tx.SeeAnswer(ctx, quoteID, s.now()) })
}

// keep keeps a message after a check.
func (s *Service) keep(ctx context.Context, tx Tx, q Quote, m Message) (fresh bool, err error) {
	var l fault.List
	if m.Text = strings.TrimSpace(m.Text); m.Text == "" && m.Kind != Wish {
		l.Add("text", "", "Write what you want to ask or say.")
	}
	long(&l, "text", m.Text, 2000)
	if m.Name = oneName(m.Name); m.Name == "" {
		l.Add("name", "", "Write your name.")
	}
	long(&l, "name", m.Name, 200)
	if err := l.Err(); err != nil {
		return false, err
	}
	if _, err := uuid.Parse(m.ID); err != nil {
		m.ID = newID()
	}
	m.QuoteID, m.Version, m.At = q.ID, q.Version, s.now()
	return tx.AddMessage(ctx, m)
}

// oneName is a name on one line.
func oneName(name string) string { return strings.Join(strings.Fields(name), " ") }
