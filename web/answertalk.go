package web

import (
	"slices"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// talkBox is the workshop's side of a customer's page: its links and what was written. How it ended stands above.
type talkBox struct {
	Links    []sales.Link
	Page     string // address of a link made just now; shown once
	Messages []sales.Message
	Reply    string // as it was typed
	Problem  string
	Mail     string // address that an answer can be sent to; empty without one, or without a server
	quote    sales.Quote
}

// registerTalk mounts what the owner does about a customer's page.
func (p *Pages) registerTalk(r fiber.Router, owner fiber.Handler) {
	back := func(c *fiber.Ctx) error { return c.Redirect("/quotes/"+c.Params("id"), fiber.StatusSeeOther) }
	r.Post("/quotes/:id/link", owner, p.makeLink)
	r.Post("/quotes/:id/link/:link/end", owner, p.endLink)
	r.Post("/quotes/:id/reply", owner, p.reply)
	r.Get("/quotes/:id/link", back)
	r.Get("/quotes/:id/link/:link/end", back)
	r.Get("/quotes/:id/reply", back)
}

// talkOf reads it; that the owner looks at an answer is noted.
func (p *Pages) talkOf(c *fiber.Ctx, q sales.Quote) (b talkBox, err error) {
	ctx := c.UserContext()
	b.quote = q
	if b.Links, err = p.sales.Links(ctx, q.ID); err != nil {
		return b, err
	}
	if b.Messages, err = p.sales.Messages(ctx, q.ID); err != nil {
		return b, err
	}
	a, answered, err := p.sales.Answer(ctx, q.ID)
	if err != nil || !answered {
		return b, err
	}
	if a.Online && a.Seen.IsZero() && owner(c) {
		err = p.sales.SeeAnswer(ctx, q.ID)
	}
	return b, err
}

// Open tells that something of the customer's waits for a word.
func (b talkBox) Open() bool {
	return slices.ContainsFunc(b.Messages, sales.Message.Open)
}

// Names are the options of a message.
func (b talkBox) Names(keys []string) []string { return b.quote.Names(keys) }

// Live tells that a link opens the page.
func (b talkBox) Live(l sales.Link) bool { return l.Ended.IsZero() }

// At is a moment by the clock of the workshop.
func (b talkBox) At(t time.Time) string { return t.Local().Format("2 January 2006, 15:04") }

// makeLink makes a link and shows it once.
func (p *Pages) makeLink(c *fiber.Ctx) error {
	secret, err := p.sales.Link(c.UserContext(), c.Params("id"), by(c))
	if err != nil {
		return err
	}
	return p.showTalk(c, fiber.StatusOK, talkBox{Page: p.reached(c) + answerPath + "/" + secret})
}

func (p *Pages) endLink(c *fiber.Ctx) error {
	if err := p.sales.EndLink(c.UserContext(), c.Params("id"), c.Params("link")); err != nil {
		return err
	}
	return c.Redirect("/quotes/"+c.Params("id")+"#customer", fiber.StatusSeeOther)
}

// reply answers the customer, or notes that there is nothing to answer.
func (p *Pages) reply(c *fiber.Ctx) error {
	v, id := values(c), c.Params("id")
	var err error
	if v.Get("do") == "settle" {
		err = p.sales.Settle(c.UserContext(), id)
	} else {
		err = p.sales.ReplyTo(c.UserContext(), id, sales.Message{ID: v.Get("once"), Name: by(c), Text: v.Get("text")}, v.Get("do") == "mail")
	}
	switch fault.KindOf(err) {
	case fault.Invalid, fault.State:
		problems, _ := problemsOf(err)
		return p.showTalk(c, problem.Status(err), talkBox{Reply: v.Get("text"), Problem: message(problems)})
	default:
		if err != nil {
			return err
		}
	}
	return c.Redirect("/quotes/"+id+"#customer", fiber.StatusSeeOther)
}

func (p *Pages) showTalk(c *fiber.Ctx, status int, b talkBox) error {
	q, err := p.sales.Quote(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return p.showIssued(c, status, q, b)
}
