package sales

import (
	"context"
	"strings"

	"foamwright/materials/fault"
)

// Letter is a mail as it is offered to the maker: to whom, in which words, with what, all worked out from what it is
// about. To, Subject and Text are theirs to change.
type Letter struct {
	Kind      MailKind
	About     string
	To        string
	Subject   string
	Text      string
	Language  string
	Documents []Document // names and hashes
	Link      string     // ID of the quote whose page the customer has; empty without one
	Of        Number     // of the quote, order or invoice
}

// PostRequest is a mail that somebody asks for, as they left it.
type PostRequest struct {
	Token             string // of the form: asked for twice with the same one it is sent once
	Kind              MailKind
	About             string
	To, Subject, Text string
	Site              string // address people reach the pages at, for links
}

// Letter is what a mail of a kind would be, for somebody to read over. A State fault says why there is none.
func (s *Service) Letter(ctx context.Context, kind MailKind, about string) (Letter, error) {
	return read(ctx, s, func(tx Tx) (Letter, error) { return s.letter(ctx, tx, kind, about) })
}

// Post puts a mail into the outbox, with the documents of what it is about. Asked for again with the same token it
// gives the mail that is there.
func (s *Service) Post(ctx context.Context, r PostRequest, by string) (Mail, error) {
	return read(ctx, s, func(tx Tx) (Mail, error) {
		if was, err := r.asked(ctx, tx); fault.KindOf(err) != fault.NotFound {
			return was, err
		}
		l, err := s.letter(ctx, tx, r.Kind, r.About)
		if err != nil {
			return Mail{}, err
		}
		// Whoever asked at the same moment has been waited for by now.
		if was, err := r.asked(ctx, tx); fault.KindOf(err) != fault.NotFound {
			return was, err
		}
		return s.post(ctx, tx, l, r, by)
	})
}

// asked is the mail that was asked for with the same token; NotFound where none was.
func (r PostRequest) asked(ctx context.Context, tx Tx) (Mail, error) {
	was, err := tx.MailOf(ctx, r.Token)
	if err == nil && (was.Kind != r.Kind || was.About != r.About) {
		return was, fault.New(fault.Conflict, "This token was used for another mail. Send a new one.")
	}
	return was, err
}

// post queues a letter as somebody left it. The secret of its link is made here, and only where the text shows it.
func (s *Service) post(ctx context.Context, tx Tx, l Letter, r PostRequest, by string) (Mail, error) {
	m := Mail{Token: r.Token, Kind: l.Kind, About: l.About, Language: l.Language, To: r.To, Subject: r.Subject, Text: r.Text, Documents: l.Documents, By: by}
	if l.Link != "" && strings.Contains(r.Text, LinkMark) {
		secret, err := s.link(ctx, tx, l.Link, by)
		if err != nil {
			return m, err
		}
		m.Link = strings.TrimRight(r.Site, "/") + "/q/" + secret
	}
	return s.queue(ctx, tx, m)
}

// letter makes the mail of a kind; what it is about stays as it is until the act ends.
func (s *Service) letter(ctx context.Context, tx Tx, kind MailKind, about string) (Letter, error) {
	if s.mailServer == "" {
		return Letter{}, noServer()
	}
	switch kind {
	case MailQuote, MailQuoteReminder:
		return s.quoteLetter(ctx, tx, kind, about)
	}
	return Letter{}, fault.New(fault.NotFound, "There is no such kind of mail.")
}

// compose fills a letter with the words for its facts.
func (s *Service) compose(ctx context.Context, tx Tx, f MailFacts, about string) (Letter, error) {
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return Letter{}, err
	}
	f.Head = w.Head
	l := Letter{Kind: f.Kind, About: about, To: f.Customer.Email, Language: f.Customer.Language, Of: f.Number}
	l.Subject, l.Text = Wording(f)
	return l, nil
}

func (s *Service) quoteLetter(ctx context.Context, tx Tx, kind MailKind, id string) (Letter, error) {
	q, err := tx.LockQuote(ctx, id)
	if err != nil {
		return Letter{}, err
	}
	switch {
	case q.State == Draft:
		return Letter{}, fault.New(fault.State, "This quote has not been issued, so there is nothing to send yet.")
	case q.State == Replaced:
		return Letter{}, fault.New(fault.State, "A later version of quote %s was issued. Send that one.", q.Number)
	case q.State != Issued:
		return Letter{}, fault.New(fault.State, "Quote %s is %s already.", q.Number, q.State)
	case s.now().After(q.ValidUntil):
		return Letter{}, fault.New(fault.State, "Quote %s stood until %s. Make a new version with today's prices.", q.Number, q.ValidUntil.Format("2 January 2006"))
	}
	c, err := tx.Customer(ctx, q.CustomerID)
	if err != nil {
		return Letter{}, err
	}
	doc, err := tx.Document(ctx, q.Document)
	if err != nil {
		return Letter{}, err
	}
	f := MailFacts{Kind: kind, Customer: c, Number: q.Number, Title: q.Title, Sum: q.Gross, Until: q.ValidUntil, Linked: linked}
	l, err := s.compose(ctx, tx, f, id)
	l.Documents = []Document{{Hash: doc.Hash, Name: doc.Name}}
	if linked {
		l.Link = q.ID
	}
	return l, err
}

// linked tells that customers have a page of their own.
const linked = false

// link makes the secret of a customer's page.
func (s *Service) link(context.Context, Tx, string, string) (string, error) {
	return "", fault.New(fault.State, "Customers have no page of their own yet.")
}
