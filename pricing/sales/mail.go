package sales

import (
	"context"
	"net/mail"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"foamwright/materials/fault"
)

// MailKind is what a mail is for; it says what About is the ID of.
type MailKind string

// The kinds of mails.
const (
	MailQuote           MailKind = "quote"            // about a quote, with its document
	MailQuoteReminder   MailKind = "reminder"         // about a quote that soon ends
	MailQuestions       MailKind = "questions"        // about an enquiry: what the workshop has to know first
	MailConfirmation    MailKind = "confirmation"     // about an order
	MailChange          MailKind = "change"           // about an order: a change note
	MailApproval        MailKind = "approval"         // about an order: its drawing
	MailCare            MailKind = "care"             // about an order that was handed over: its care sheet
	MailInvoice         MailKind = "invoice"          // about an invoice or a credit note
	MailInvoiceReminder MailKind = "invoice reminder" // about an invoice that was not paid
	MailReply           MailKind = "reply"            // about a quote: the answer to what its customer asked on their page
	MailNotice          MailKind = "notice"           // to the workshop itself: what came from a quote's own page
)

// MailState is where a mail stands.
type MailState string

// The states of a mail.
const (
	MailWaiting   MailState = "waiting"
	MailSent      MailState = "sent"
	MailFailed    MailState = "failed" // given up, until somebody asks for it again
	MailCancelled MailState = "cancelled"
)

// LinkMark stands in a text where the address of the customer's own page is put when the mail is sent.
const LinkMark = "{link}"

// Mail is one message to one customer. It is written in the act that causes it and never changed.
type Mail struct {
	ID        string
	MessageID string // without its brackets; the same at every attempt
	Token     string // of the form: asked for twice with the same one it is one mail
	Kind      MailKind
	About     string // ID of the quote, order or invoice
	Language  string // ISO 639-1; empty for English
	To        string // the bare address
	Subject   string
	Text      string // plain; LinkMark may stand in it
	Link      string // address of the customer's page; empty without one, and once the mail is gone
	Documents []Document
	From      string // the workshop's address and name, when it is taken to be sent
	FromName  string
	Queued    time.Time
	By        string // who asked for it

	State   MailState
	Tries   int       // attempts since it was asked for
	Since   time.Time // when it was, last
	Due     time.Time // the next attempt
	Held    time.Time // one sender is at it until then
	Refusal string    // why the last attempt failed, in plain words
	Sent    time.Time
}

// Waits tells that it is still to be sent.
func (m Mail) Waits() bool { return m.State == MailWaiting }

// MailStep is one line of what happened to a mail.
type MailStep struct {
	At       time.Time
	What     string // queued, begun, sent, put off, refused, again, cancelled
	Says, By string // By is empty for the sender
}

// MailFound is what a list of mails is narrowed by: what they are about, one kind, those that want looking at, how many
// rows at most.
type MailFound struct {
	About string
	Kind  MailKind
	Open  bool // waiting or failed
	Most  int
}

// MailTx is the outbox within one transaction. Lists leave the documents' bytes out.
type MailTx interface {
	AddMail(ctx context.Context, m Mail) (fresh bool, err error) // false where its token, or its reminder, is there
	MailOf(ctx context.Context, token string) (Mail, error)
	Mail(ctx context.Context, id string) (Mail, error) // with the documents' bytes
	LockMail(ctx context.Context, id string) (Mail, error)
	Mails(ctx context.Context, f MailFound) ([]Mail, error) // newest first
	// DueMail locks the mail that is due longest and that nobody is at; NotFound where none is.
	DueMail(ctx context.Context, now time.Time) (Mail, error)
	// ToRemind are the quotes that were sent by mail, end within so many days and whose customers were not reminded yet.
	ToRemind(ctx context.Context, now time.Time, days int) ([]string, error)
	SaveMail(ctx context.Context, m Mail) error // where it stands, not what was written
	AddMailStep(ctx context.Context, mail string, s MailStep) error
	MailSteps(ctx context.Context, mail string) ([]MailStep, error) // oldest first
}

// queue puts a mail into the outbox of an act: it is sent if and only if the act is done. Asked for again with the same
// token it gives the mail that is there.
func (s *Service) queue(ctx context.Context, tx Tx, m Mail) (Mail, error) {
	if s.mailServer == "" {
		return m, noServer()
	}
	m.To, m.Subject, m.Text = strings.TrimSpace(m.To), strings.TrimSpace(m.Subject), strings.TrimSpace(strings.ReplaceAll(m.Text, "\r\n", "\n"))
	if err := m.check(); err != nil {
		return m, err
	}
	now := s.now()
	w, err := tx.Workshop(ctx, now)
	if err != nil {
		return m, err
	}
	if err := canWrite(w.Head.Email); err != nil {
		return m, err
	}
	m.ID = newID()
	m.MessageID = m.ID + w.Head.Email[strings.LastIndex(w.Head.Email, "@"):]
	m.State, m.Queued, m.Since, m.Due = MailWaiting, now, now, now
	fresh, err := tx.AddMail(ctx, m)
	if err != nil {
		return m, err
	}
	if !fresh {
		was, err := tx.MailOf(ctx, m.Token)
		if fault.KindOf(err) == fault.NotFound && m.Kind == MailQuoteReminder {
			err = fault.New(fault.State, "The customer was reminded of this quote already.")
		}
		return was, err
	}
	return m, tx.AddMailStep(ctx, m.ID, MailStep{At: now, What: "queued", By: m.By})
}

// canWrite tells whether mail can come from the workshop's own address.
func canWrite(from string) error {
	if from == "" {
		return fault.New(fault.State, "The workshop has no mail address to write from. Write it under Workshop first.")
	}
	if !bareAddress(from) {
		return fault.New(fault.State, "%s is no mail address that can be written from. Correct it under Workshop.", fault.Shorten(from))
	}
	return nil
}

// mostText is how long the text of a mail may be, in characters.
const mostText = 20_000

func (m Mail) check() error {
	var l fault.List
	switch {
	case m.To == "":
		l.Add("to", "", "Write the mail address it goes to.")
	case !bareAddress(m.To):
		l.Add("to", m.To, "This is no single mail address. Write one like mara@ferry-house.example.")
	}
	oneLine(&l, "subject", m.Subject)
	if m.Subject == "" {
		l.Add("subject", "", "Write what it is about.")
	}
	long(&l, "subject", m.Subject, 200)
	if m.Text == "" {
		l.Add("text", "", "Write what is to be read.")
	}
	long(&l, "text", m.Text, mostText)
	if strings.Contains(m.Text, LinkMark) && m.Link == "" {
		l.Add("text", LinkMark, "There is no page of the customer's own for this. Take "+LinkMark+" out.")
	}
	if len(m.Token) < 8 || len(m.Token) > 100 {
		l.Add("token", m.Token, "Send a token of 8 to 100 letters that is new for every mail, so that asking twice sends once.")
	}
	return l.Err()
}

// oneLine refuses what would end a line: in the head of a mail it would begin another entry.
func oneLine(l *fault.List, field, value string) {
	if strings.ContainsFunc(value, func(r rune) bool { return unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp) }) || !utf8.ValidString(value) {
		l.Add(field, value, "This must be one line. Take out line breaks and invisible characters.")
	}
}

// bareAddress tells that a text is one mail address and nothing besides, in letters that every server takes.
func bareAddress(text string) bool {
	a, err := mail.ParseAddress(text)
	return err == nil && a.Address == text && len(text) <= 254 && !strings.ContainsFunc(text, func(r rune) bool {
		return r > unicode.MaxASCII || unicode.IsControl(r) || unicode.IsSpace(r) || r == '"'
	})
}

// noServer says why nothing is sent by itself.
func noServer() error {
	return fault.New(fault.State, "No mail server is set, so nothing is sent from here. Download the document and send it by hand.")
}

// SetMailServer says by which server mail is sent, for people to read; without one no mail is taken. It is said once,
// before the service is used.
func (s *Service) SetMailServer(name string) { s.mailServer = name }

// MailServer is the server that mail is sent by; empty where none is set.
func (s *Service) MailServer() string { return s.mailServer }

// Mails lists mails, the newest first.
func (s *Service) Mails(ctx context.Context, f MailFound) ([]Mail, error) {
	return read(ctx, s, func(tx Tx) ([]Mail, error) { return tx.Mails(ctx, f) })
}

// Mail is one mail with what happened to it, oldest first.
func (s *Service) Mail(ctx context.Context, id string) (m Mail, steps []MailStep, err error) {
	err = s.store.Act(ctx, func(tx Tx) (err error) {
		if m, err = tx.Mail(ctx, id); err != nil {
			return err
		}
		steps, err = tx.MailSteps(ctx, id)
		return err
	})
	return m, steps, err
}

// Paragraphs are the lines of a text, cut where a line is empty.
func Paragraphs(text string) [][]string {
	var all [][]string
	for _, p := range strings.Split(text, "\n\n") {
		if p = strings.Trim(p, "\n"); p != "" {
			all = append(all, strings.Split(p, "\n"))
		}
	}
	return all
}
