package web

import (
	"cmp"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// answerPath is where a customer's own page lies; the secret of a link follows.
const answerPath = "/q"

// registerAnswer mounts the customers' pages, which the secret alone opens.
func (p *Pages) registerAnswer(r fiber.Router) {
	r.Get(answerPath+"/:secret", p.onLink(p.answerPage))
	r.Post(answerPath+"/:secret", p.onLink(p.answer))
	r.Post(answerPath+"/:secret/sum", p.onLink(p.answerSum))
	r.Get(answerPath+"/:secret/quote.pdf", p.onLink(p.answerDocument))
	p.registerAnswered(r)
	// Whatever else is asked below a secret is told nothing more than an unknown one.
	r.All(answerPath+"/*", p.noSuchAnswer)
	r.All(answerPath, p.noSuchAnswer)
}

// unlisted keeps a customer's page to who holds its address: it is told to no other page, kept by no browser and found
// by no search. It stands before the guard, so that refusals are no exception.
func (p *Pages) unlisted(c *fiber.Ctx) error {
	c.Set(fiber.HeaderReferrerPolicy, "no-referrer")
	c.Set(fiber.HeaderCacheControl, "no-store")
	c.Set("X-Robots-Tag", "noindex, nofollow, noarchive")
	return c.Next()
}

// visit is somebody on a customer's page.
type visit struct {
	sales.Linked
	Secret string
	Tongue words.Tongue // the visitor's choice, else the customer's
	Guest  bool         // from outside the workshop: whoever is signed in only looks
}

// At is the page's address in the visitor's language, or that of a part of it.
func (v visit) At(part ...string) string {
	at := answerPath + "/" + v.Secret
	if len(part) > 0 {
		at += "/" + strings.Join(part, "/")
	}
	return at + "?in=" + v.Tongue.Code()
}

// onLink opens a page or an act below a customer's link. All that opens nothing is one answer: unknown, ended, malformed.
func (p *Pages) onLink(then func(*fiber.Ctx, visit) error) fiber.Handler {
	return func(c *fiber.Ctx) error {
		v := visit{Secret: c.Params("secret")}
		_, known := guard.Person(c)
		v.Guest = !known
		err := p.guard.Guess(c, func() (err error) {
			v.Linked, err = p.sales.Linked(c.UserContext(), v.Secret, v.Guest && c.Method() == fiber.MethodGet)
			return err
		})
		if fault.KindOf(err) == fault.NotFound {
			return p.noSuchAnswer(c)
		}
		if err != nil {
			return err
		}
		code := cmp.Or(v.Quote.Printed.Said.Language, v.Customer.Language)
		if chosen := c.Query("in"); chosen != "" {
			code = chosen
		}
		v.Tongue = words.Speak(code)
		return then(c, v)
	}
}

// noSuchAnswer is what an address says that opens nothing.
func (p *Pages) noSuchAnswer(c *fiber.Ctx) error {
	return p.write(c, fiber.StatusNotFound, "answer-none", "answer-bare", nil)
}

// isAnswer tells that a customer's page was asked for.
func isAnswer(c *fiber.Ctx) bool {
	path := strings.ToLower(c.Path())
	return path == answerPath || strings.HasPrefix(path, answerPath+"/")
}

// answerError says to a customer why something was not done, in a page without the workshop's own ways.
func (p *Pages) answerError(c *fiber.Ctx, err error) error {
	status := problem.Status(err)
	if status == fiber.StatusNotFound || status == fiber.StatusMethodNotAllowed {
		return p.noSuchAnswer(c)
	}
	t := words.Speak(c.Query("in"))
	said := t.Say("Something went wrong on our side. Please try again in a moment.")
	switch fault.KindOf(err) {
	case fault.TooMany:
		said = t.Say("There were too many requests just now. Please try again in a moment.")
	case fault.Forbidden:
		said = t.Say("This page was open too long, or your browser keeps no cookies, and nothing was done. Please open your link again and send it once more.")
	case fault.Unavailable:
		said = t.Say("This took too long just now. Please look whether it was done before you try again.")
	}
	return p.write(c, status, "answer-error", "answer-bare", struct {
		Tongue words.Tongue
		Said   string
	}{t, said})
}
