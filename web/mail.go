package web

import (
	"context"
	"crypto/rand"
	"fmt"
	"net"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// mailDoors are who may look at mail: whoever reads quotes and invoices.
func mailDoors() []guard.Door { return []guard.Door{guard.For("/mail", people.Bookkeeper)} }

// registerMail mounts the outbox, and the pages on which a mail is read over before it is sent.
func (p *Pages) registerMail(r fiber.Router) {
	r.Get("/mail", p.mails)
	r.Get("/mail/:id", p.mail)
	r.Post("/mail/:id/again", p.mailAct((*sales.Service).TryMail))
	r.Post("/mail/:id/cancel", p.mailAct((*sales.Service).CancelMail))
	owner := p.guard.Require(people.Owner)
	p.writes(r, "/quotes/:id/send", sales.MailQuote, owner)
	p.writes(r, "/orders/:id/confirmation/send", sales.MailConfirmation, owner)
	p.writes(r, "/orders/:id/change/send", sales.MailChange, owner)
	p.writes(r, "/orders/:id/drawing/send", sales.MailApproval, owner)
	p.writes(r, "/orders/:id/care/send", sales.MailCare, owner)
}

// writes mounts the page on which a mail of a kind is written, below the page of what it is about.
func (p *Pages) writes(r fiber.Router, path string, kind sales.MailKind, who ...fiber.Handler) {
	back := path[:strings.Index(path, "/:id")+1]
	r.Get(path, append(who, func(c *fiber.Ctx) error { return p.writeMail(c, kind, back) })...)
	r.Post(path, append(who, func(c *fiber.Ctx) error { return p.sendMail(c, kind, back) })...)
}

// mailKinds is what each kind is called on screen, and where what it is about has its page.
func mailKind(k sales.MailKind) (called, at string) {
	switch k {
	case sales.MailQuote:
		return "Quote", "/quotes/"
	case sales.MailQuoteReminder:
		return "Reminder of a quote", "/quotes/"
	case sales.MailQuestions:
		return "Questions", "/enquiries/"
	case sales.MailReply:
		return "Answer to a question", "/quotes/"
	case sales.MailNotice:
		return "Note from a customer's page", "/quotes/"
	case sales.MailConfirmation:
		return "Order confirmation", "/orders/"
	case sales.MailChange:
		return "Change note", "/orders/"
	case sales.MailApproval:
		return "Drawing to approve", "/orders/"
	case sales.MailCare:
		return "Care sheet", "/orders/"
	case sales.MailInvoice:
		return "Invoice", "/invoices/"
	case sales.MailInvoiceReminder:
		return "Invoice reminder", "/invoices/"
	}
	return string(k), "/"
}

// mailLine is a mail as lists show it.
type mailLine struct {
	sales.Mail
	CSRF string
	Acts bool // it can be tried again and cancelled by who looks
	Here bool // on the page of what it is about
}

// Called is what kind of mail it is.
func (m mailLine) Called() string { called, _ := mailKind(m.Kind); return called }

// At is the page of what it is about.
func (m mailLine) At() string { _, at := mailKind(m.Kind); return at + m.About }

// Open tells that somebody can still do something about it.
func (m mailLine) Open() bool {
	return m.Acts && (m.State == sales.MailWaiting && !m.Held.After(time.Now()) || m.State == sales.MailFailed)
}

// Next is when it is tried again.
func (m mailLine) Next() string {
	if d := time.Until(m.Due); d >= time.Minute {
		return fmt.Sprintf("again at %s", m.Due.Local().Format("15:04"))
	}
	return "again in a moment"
}

// mailBox is a list of mails with what can be done about them.
type mailBox struct {
	Mails  []mailLine
	Server string
	Steps  []sales.MailStep // of one
}

// box puts mails into a list for who looks.
func (p *Pages) box(c *fiber.Ctx, found []sales.Mail, here bool) mailBox {
	b := mailBox{Server: p.sales.MailServer()}
	for _, m := range found {
		b.Mails = append(b.Mails, mailLine{m, p.guard.CSRFToken(c), sees(c), here})
	}
	return b
}

// mailsOf are the mails about one thing, for its own page.
func (p *Pages) mailsOf(c *fiber.Ctx, about string) (mailBox, error) {
	found, err := p.sales.Mails(c.UserContext(), sales.MailFound{About: about, Most: 10})
	found = slices.DeleteFunc(found, func(m sales.Mail) bool { return m.Kind == sales.MailNotice }) // not to the customer
	return p.box(c, found, true), err
}

func (p *Pages) mails(c *fiber.Ctx) error {
	found, err := p.sales.Mails(c.UserContext(), sales.MailFound{Open: c.Query("open") != ""})
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "mails", "Mail", "quotes", p.box(c, found, false))
}

func (p *Pages) mail(c *fiber.Ctx) error {
	m, steps, err := p.sales.Mail(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	b := p.box(c, []sales.Mail{m}, false)
	b.Steps = steps
	return p.render(c, fiber.StatusOK, "mail", "Mail to "+m.To, "quotes", b)
}

// mailAct does something about a mail and goes back to the page it was asked for from.
func (p *Pages) mailAct(act func(s *sales.Service, ctx context.Context, id, by string) (sales.Mail, error)) fiber.Handler {
	return func(c *fiber.Ctx) error {
		m, err := act(p.sales, c.UserContext(), c.Params("id"), by(c))
		if err != nil {
			return err
		}
		to := "/mail/" + m.ID
		if values(c).Get("here") != "" {
			_, at := mailKind(m.Kind)
			to = at + m.About
		}
		return c.Redirect(to, fiber.StatusSeeOther)
	}
}

// mailForm is a mail while it is read over.
type mailForm struct {
	sales.MailDraft
	Called   string
	Back     string // page of what it is about
	Token    string
	Before   mailBox // mails about the same thing
	Preview  [][]string
	Site     string
	Problems map[string]string
}

// Link is how the address of the customer's page will look.
func (f mailForm) Link() string { return f.Site + "/q/…" }

// Near tells that the address of the pages leads nowhere but on this machine.
func (f mailForm) Near() bool {
	u, err := url.Parse(f.Site)
	if err != nil {
		return true
	}
	ip := net.ParseIP(u.Hostname())
	return u.Hostname() == "localhost" || ip != nil && ip.IsLoopback()
}

// Mark is what stands in the text where that address comes.
func (f mailForm) Mark() string { return sales.LinkMark }

func (p *Pages) draftMail(c *fiber.Ctx, kind sales.MailKind, back string) (mailForm, error) {
	d, err := p.sales.MailDraft(c.UserContext(), kind, c.Params("id"))
	if err != nil {
		return mailForm{}, err
	}
	before, err := p.mailsOf(c, c.Params("id"))
	called, _ := mailKind(kind)
	return mailForm{MailDraft: d, Called: called, Back: back + d.About, Token: rand.Text(), Before: before, Site: p.reached(c)}, err
}

func (p *Pages) writeMail(c *fiber.Ctx, kind sales.MailKind, back string) error {
	f, err := p.draftMail(c, kind, back)
	if err != nil {
		return err
	}
	return p.showMailForm(c, fiber.StatusOK, f)
}

func (p *Pages) showMailForm(c *fiber.Ctx, status int, f mailForm) error {
	section := strings.Trim(f.Back[:strings.LastIndex(f.Back, "/")], "/")
	if section == "invoices" {
		section = "money"
	}
	return p.render(c, status, "mail-write", f.Called+" by mail", section, f)
}

// sendMail queues the mail as it was left on the page, or shows how it reads. The token of the form makes one mail of
// two presses.
func (p *Pages) sendMail(c *fiber.Ctx, kind sales.MailKind, back string) error {
	v := values(c)
	r := sales.PostRequest{Token: v.Get("token"), Kind: kind, About: c.Params("id"), To: v.Get("to"), Subject: v.Get("subject"), Text: v.Get("text"), Site: p.reached(c)}
	var err error
	if v.Get("do") != "preview" {
		if _, err = p.sales.Post(c.UserContext(), r, by(c)); err == nil {
			return c.Redirect(back+r.About, fiber.StatusSeeOther)
		}
	}
	answer := fiber.StatusOK
	problems := map[string]string{}
	if err != nil {
		answer = problem.Status(err)
		var wrong error
		if problems, wrong = problemsOf(err); wrong != nil {
			return wrong
		}
	}
	f, wrong := p.draftMail(c, kind, back)
	if wrong != nil { // it cannot be sent any more, and that says why
		return wrong
	}
	f.To, f.Subject, f.Text, f.Problems = r.To, r.Subject, strings.ReplaceAll(r.Text, "\r\n", "\n"), problems
	if r.Token != "" {
		f.Token = r.Token
	}
	if err == nil {
		f.Preview = sales.Paragraphs(f.Text)
	}
	return p.showMailForm(c, answer, f)
}

// Shown is the preview, with the place of the link filled.
func (f mailForm) Shown() [][]string { return filled(f.Text, f.Link()) }

// Lines are the text, with the link left out of sight: whoever has it is the customer.
func (m mailLine) Lines() [][]string { return filled(m.Text, "[link to the customer's own page]") }

func filled(text, link string) [][]string {
	return sales.Paragraphs(strings.ReplaceAll(text, sales.LinkMark, link))
}

// mailLate is how long a mail may wait before Today tells of it, refused or not.
const mailLate = 10 * time.Minute

// mailToday is what wants looking at: what was given up or put off, and what nobody sends.
func (p *Pages) mailToday(c *fiber.Ctx) (mailBox, error) {
	found, err := p.sales.Mails(c.UserContext(), sales.MailFound{Open: true, Most: 20})
	found = slices.DeleteFunc(found, func(m sales.Mail) bool { return m.Refusal == "" && time.Since(m.Queued) < mailLate })
	return p.box(c, found, false), err
}

// mailStep says what happened to a mail.
func mailStep(what string) string {
	switch what {
	case "queued":
		return "asked for"
	case "begun":
		return "tried with the mail server"
	case "sent":
		return "taken by the mail server"
	case "again":
		return "asked for again"
	}
	return what
}
