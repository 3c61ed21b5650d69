package api

import (
	"cmp"
	"context"
	"slices"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// Mail is one message to one customer and where it stands.
type Mail struct {
	ID        string     `json:"id" format:"uuid"`
	MessageID string     `json:"message_id" doc:"as it stands in the message, without brackets; the same at every attempt"`
	Kind      string     `json:"kind" enum:"quote,reminder,questions,notice,confirmation,change,approval,invoice,invoice reminder"`
	About     string     `json:"about" format:"uuid" doc:"the quote, order or invoice, by kind"`
	To        string     `json:"to"`
	Subject   string     `json:"subject"`
	Text      string     `json:"text,omitempty" doc:"{link} stands for the address of the customer's own page; left out in lists"`
	Documents []string   `json:"documents,omitempty" doc:"names of what is attached; left out in lists"`
	State     string     `json:"state" enum:"waiting,sent,failed,cancelled"`
	Tries     int        `json:"tries" doc:"since it was asked for last"`
	Refusal   string     `json:"refusal,omitempty" doc:"why the last attempt failed"`
	Queued    time.Time  `json:"queued"`
	By        string     `json:"by,omitempty" doc:"who asked for it; left out when it was written by itself"`
	Due       *time.Time `json:"due,omitempty" doc:"the next attempt, of one that waits"`
	Sent      *time.Time `json:"sent,omitempty"`
	Steps     []MailStep `json:"steps,omitempty" doc:"what happened, oldest first; left out in lists"`
}

// MailStep is one line of what happened to a mail.
type MailStep struct {
	At   time.Time `json:"at"`
	What string    `json:"what" enum:"queued,begun,sent,put off,refused,again,cancelled"`
	Says string    `json:"says,omitempty"`
	By   string    `json:"by,omitempty"`
}

type mailList struct {
	Mails []Mail `json:"mails"`
}

type mailNarrowing struct {
	About string `query:"about" doc:"only those about this quote, order or invoice"`
	Open  bool   `query:"open" doc:"only those that wait or were given up"`
	Most  most   `query:"most"`
}

type newMail struct {
	Token   string `json:"token" minLength:"8" maxLength:"100" doc:"new for every mail: asked for again with the same one it is sent once"`
	Kind    string `json:"kind" enum:"quote,reminder,confirmation,change,approval,invoice,invoice reminder"`
	About   string `json:"about" format:"uuid" doc:"the quote, order or invoice, by kind"`
	To      string `json:"to,omitempty" doc:"the customer's mail address, where it is left out"`
	Subject string `json:"subject,omitempty" maxLength:"200" doc:"the usual words in the customer's language, where it is left out"`
	Text    string `json:"text,omitempty" maxLength:"20000" doc:"the usual words in the customer's language, where it is left out"`
}

func mailRow(m sales.Mail) Mail {
	out := Mail{ID: m.ID, MessageID: m.MessageID, Kind: string(m.Kind), About: m.About, To: m.To, Subject: m.Subject, State: string(m.State), Tries: m.Tries, Refusal: m.Refusal, Queued: m.Queued.UTC(), Sent: moment(m.Sent), By: m.By}
	if m.Waits() {
		out.Due = moment(m.Due)
	}
	return out
}

func (f *face) wholeMail(ctx context.Context, id string) (*answer[Mail], error) {
	m, steps, err := f.Sales.Mail(ctx, id)
	out := mailRow(m)
	out.Text = m.Text
	for _, d := range m.Documents {
		out.Documents = append(out.Documents, d.Name)
	}
	for _, s := range steps {
		out.Steps = append(out.Steps, MailStep{s.At.UTC(), s.What, s.Says, s.By})
	}
	return &answer[Mail]{out}, err
}

// forBooks are the kinds of mail that a bookkeeper may send.
func forBooks(k sales.MailKind) bool {
	return slices.Contains([]sales.MailKind{sales.MailInvoice, sales.MailInvoiceReminder}, k)
}

func (f *face) mails() {
	operation(f, op("GET /mails", "list-mails", "Mails, the newest first", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *mailNarrowing) (*answer[mailList], error) {
			found, err := narrowing{Most: in.Most}.found()
			if err != nil {
				return nil, err
			}
			list, err := f.Sales.Mails(ctx, sales.MailFound{About: in.About, Open: in.Open, Most: found.Most})
			return &answer[mailList]{mailList{each(list, mailRow)}}, err
		})
	operation(f, op("GET /mails/{id}", "mail", "One mail with what happened to it").also(people.Bookkeeper),
		func(ctx context.Context, in *byID) (*answer[Mail], error) { return f.wholeMail(ctx, in.ID) })
	taking(f, op("POST /mails", "send-mail", "Send a quote, a confirmation, an invoice by mail", conflict, notFound).created().also(people.Bookkeeper).
		saying("Puts the mail with its documents into the outbox, from where it goes to the workshop's mail server, and is tried again where that fails. Without a mail server nothing is taken (409). A bookkeeper sends invoices only."), f.sendMail)
	for _, act := range []struct {
		id, route, summary string
		do                 func(ctx context.Context, id, by string) (sales.Mail, error)
	}{
		{"try-mail", "POST /mails/{id}/again", "Try a mail at once that was given up or waits", f.Sales.TryMail},
		{"cancel-mail", "POST /mails/{id}/cancel", "Take a mail out of the outbox that was not sent", f.Sales.CancelMail},
	} {
		operation(f, op(act.route, act.id, act.summary, conflict).also(people.Bookkeeper), func(ctx context.Context, in *byID) (*answer[Mail], error) {
			if _, err := act.do(ctx, in.ID, callOf(ctx).by); err != nil {
				return nil, err
			}
			return f.wholeMail(ctx, in.ID)
		})
	}
}

func (f *face) sendMail(ctx context.Context, _ *none, e newMail) (*made[Mail], error) {
	kind, k := sales.MailKind(e.Kind), callOf(ctx)
	var l fault.List
	if e.About == "" {
		l.Add("about", "", "Send the id of the quote, order or invoice that the mail is about.")
	}
	if e.Kind == "" {
		l.Add("kind", "", "Say what kind of mail it is, for example quote.")
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	if k.role != people.Owner && !forBooks(kind) {
		return nil, fault.New(fault.Forbidden, "Only the owner sends this. A bookkeeper sends invoices and reminders of them.")
	}
	r := sales.PostRequest{Token: e.Token, Kind: kind, About: e.About, To: e.To, Subject: e.Subject, Text: e.Text, Site: cmp.Or(f.ReachedAt, k.site)}
	if r.To == "" || r.Subject == "" || r.Text == "" {
		d, err := f.Sales.MailDraft(ctx, kind, e.About)
		if err != nil {
			return nil, err
		}
		r.To, r.Subject, r.Text = cmp.Or(r.To, d.To), cmp.Or(r.Subject, d.Subject), cmp.Or(r.Text, d.Text)
	}
	m, err := f.Sales.Post(ctx, r, k.by)
	if err != nil {
		return nil, err
	}
	whole, err := f.wholeMail(ctx, m.ID)
	return &made[Mail]{Path + "/mails/" + m.ID, whole.Body}, err
}
