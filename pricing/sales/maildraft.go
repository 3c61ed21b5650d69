package sales

import (
	"context"
	"strings"

	"foamwright/materials/fault"
)

// MailDraft is a mail as it is offered to the maker: to whom, in which words, with what, all worked out from what it is
// about. To, Subject and Text are theirs to change.
type MailDraft struct {
	Kind      MailKind
	About     string
	To        string
	Subject   string
	Text      string
	Language  string
	Documents []Document // names and hashes; with bytes what is kept only when it is sent
	Page      Quote      // whose page the customer has; zero without one
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

// MailDraft is what a mail of a kind would be, for somebody to read over. A State fault says why there is none.
func (s *Service) MailDraft(ctx context.Context, kind MailKind, about string) (MailDraft, error) {
	return read(ctx, s, func(tx Tx) (MailDraft, error) { return s.mailDraft(ctx, tx, kind, about, true) })
}

// Post puts a mail into the outbox, with the documents of what it is about. Asked for again with the same token it
// gives the mail that is there.
func (s *Service) Post(ctx context.Context, r PostRequest, by string) (Mail, error) {
	return read(ctx, s, func(tx Tx) (Mail, error) {
		if was, err := r.asked(ctx, tx); fault.KindOf(err) != fault.NotFound {
			return was, err
		}
		d, err := s.mailDraft(ctx, tx, r.Kind, r.About, r.Site != "")
		if err != nil {
			return Mail{}, err
		}
		// Whoever asked at the same moment has been waited for by now.
		if was, err := r.asked(ctx, tx); fault.KindOf(err) != fault.NotFound {
			return was, err
		}
		return s.post(ctx, tx, d, r, by)
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

// post queues a mail as somebody left it. The secret of its link is made here, and only where the text shows it.
func (s *Service) post(ctx context.Context, tx Tx, d MailDraft, r PostRequest, by string) (Mail, error) {
	m := Mail{Token: r.Token, Kind: d.Kind, About: d.About, Language: d.Language, To: r.To, Subject: r.Subject, Text: r.Text, Documents: d.Documents, By: by}
	if d.Page.ID != "" && strings.Contains(r.Text, LinkMark) {
		secret, err := s.link(ctx, tx, d.Page, by)
		if err != nil {
			return m, err
		}
		m.Link = strings.TrimRight(r.Site, "/") + "/q/" + secret
	}
	for _, doc := range d.Documents {
		if doc.Bytes == nil {
			continue
		}
		if err := tx.KeepDocument(ctx, doc); err != nil {
			return m, err
		}
	}
	return s.queue(ctx, tx, m)
}

// mailDraft makes the mail of a kind, linked to the customer's page where there is one and it can be reached; what it is
// about stays as it is until the act ends.
func (s *Service) mailDraft(ctx context.Context, tx Tx, kind MailKind, about string, linked bool) (MailDraft, error) {
	if s.mailServer == "" {
		return MailDraft{}, noServer()
	}
	switch kind {
	case MailQuote, MailQuoteReminder:
		return s.quoteMail(ctx, tx, kind, about, linked)
	case MailConfirmation, MailChange, MailApproval, MailCare:
		return s.orderMail(ctx, tx, kind, about)
	case MailInvoice, MailInvoiceReminder:
		return s.invoiceMail(ctx, tx, kind, about)
	}
	return MailDraft{}, fault.New(fault.NotFound, "There is no such kind of mail.")
}

// compose makes the words of a mail from its facts, and puts its documents with it.
func (s *Service) compose(ctx context.Context, tx Tx, f MailFacts, about string, documents ...Document) (MailDraft, error) {
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return MailDraft{}, err
	}
	f.Head = w.Head
	d := MailDraft{Kind: f.Kind, About: about, To: f.Customer.Email, Language: f.Customer.Language, Of: f.Number}
	for _, doc := range documents {
		if doc.Bytes == nil {
			kept, err := tx.Document(ctx, doc.Hash)
			if err != nil {
				return d, err
			}
			doc.Name = kept.Name
		}
		d.Documents = append(d.Documents, doc)
	}
	d.Subject, d.Text = Wording(f)
	return d, nil
}

func (s *Service) quoteMail(ctx context.Context, tx Tx, kind MailKind, id string, linked bool) (MailDraft, error) {
	q, err := tx.LockQuote(ctx, id)
	if err != nil {
		return MailDraft{}, err
	}
	switch {
	case q.State == Draft:
		return MailDraft{}, fault.New(fault.State, "This quote has not been issued, so there is nothing to send yet.")
	case q.State == Replaced:
		return MailDraft{}, fault.New(fault.State, "A later version of quote %s was issued. Send that one.", q.Number)
	case q.State != Issued:
		return MailDraft{}, fault.New(fault.State, "Quote %s is %s already.", q.Number, q.State)
	case !q.Stands(s.now()):
		return MailDraft{}, fault.New(fault.State, "Quote %s stood until %s. Make a new version with today's prices.", q.Number, q.ValidUntil.Format("2 January 2006"))
	}
	c, err := tx.Customer(ctx, q.CustomerID)
	if err != nil {
		return MailDraft{}, err
	}
	f := MailFacts{Kind: kind, Customer: c, Number: q.Number, Title: q.Title, Sum: q.Gross, Until: q.ValidUntil, Linked: linked}
	d, err := s.compose(ctx, tx, f, id, Document{Hash: q.Document})
	if linked {
		d.Page = q
	}
	return d, err
}
