package web

import (
	"net/url"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// answer does what the pressed button says: work out the total, accept, decline or ask. What was typed is shown again
// whenever it is not done.
func (p *Pages) answer(c *fiber.Ctx, v visit) error {
	typed := values(c)
	d := answerView{visit: v, typed: typed, Chosen: ticked(typed, "option.")}
	if !v.Guest && typed.Get("do") != "sum" {
		d.Notice = "You are signed in to the workshop, so nothing was done: this is your customer's page."
		return p.showAnswer(c, fiber.StatusForbidden, d)
	}
	choice := sales.Choice{
		Options: d.Chosen, Name: typed.Get("name"), Document: typed.Get("document"), Latex: sales.Latex(typed.Get("latex")), Language: v.Tongue.Code(),
	}
	switch typed.Get("do") {
	case "accept":
		given, err := p.sales.AcceptLinked(c.UserContext(), v.Secret, choice)
		switch {
		case err != nil:
			return p.notAnswered(c, d, err)
		case given.Wish:
			return d.to(c, "wished", "")
		case given.Fresh:
			return d.to(c, "accepted", "")
		}
		return d.to(c, "already", "")
	case "decline":
		choice.Note = typed.Get("reason")
		fresh, err := p.sales.DeclineLinked(c.UserContext(), v.Secret, choice)
		switch {
		case err != nil:
			return p.notAnswered(c, d, err)
		case fresh:
			return d.to(c, "declined", "")
		}
		return d.to(c, "already", "")
	case "ask":
		err := p.sales.Ask(c.UserContext(), v.Secret, sales.Message{ID: typed.Get("once"), Text: typed.Get("question"), Name: typed.Get("name"), Language: v.Tongue.Code()})
		if err != nil {
			return p.notAnswered(c, d, err)
		}
		return d.to(c, "asked", "talk")
	}
	return p.showAnswer(c, fiber.StatusOK, d)
}

// ticked are the options of a form, each once: those with a box of their own, and one of each group.
func ticked(v url.Values, group string) (keys []string) {
	for name, typed := range v {
		if name != "option" && !strings.HasPrefix(name, group) {
			continue
		}
		for _, key := range typed {
			if key != "" && !slices.Contains(keys, key) {
				keys = append(keys, key)
			}
		}
	}
	slices.Sort(keys)
	return keys
}

// to sends the browser to look at the page as it is now, with what was ticked.
func (d answerView) to(c *fiber.Ctx, done, part string) error {
	at := d.At() + "&done=" + done
	if done == "asked" && len(d.Chosen) > 0 {
		at += "&options=" + url.QueryEscape(strings.Join(d.Chosen, ","))
	}
	if part != "" {
		at += "#" + part
	}
	return c.Redirect(at, fiber.StatusSeeOther)
}

// notAnswered shows the page as it stands now, with why it was not done.
func (p *Pages) notAnswered(c *fiber.Ctx, d answerView, err error) error {
	status, t := problem.Status(err), d.Tongue
	switch fault.KindOf(err) {
	case fault.Conflict, fault.State, fault.Invalid, fault.TooMany:
	case fault.NotFound: // the link was ended meanwhile
		return p.noSuchAnswer(c)
	default:
		return err
	}
	now, again := p.sales.Linked(c.UserContext(), d.Secret, false)
	if again != nil {
		return again
	}
	was := d.Quote
	d.Linked = now
	switch kind := fault.KindOf(err); {
	case kind == fault.TooMany:
		d.Notice = t.Say("You have written a good deal already. Please wait for the answer, or write to the workshop directly.")
	case now.Quote.ID != was.ID, now.Quote.Document != d.typed.Get("document") && now.Quote.State == sales.Issued:
		d.Chosen = d.known()
		d.Notice = t.Say("The workshop has sent a new version of this quote, which stands here now. Nothing was done: look at it first, then answer.")
	case kind == fault.Invalid && d.typed.Get("do") == "ask": // asked of any quote, whatever was answered
	case now.Quote.State == sales.Declined:
		d.Notice = t.Say("This quote has been declined in the meantime. Nothing was ordered.")
	case now.Quote.State == sales.Won:
		d.Notice = t.Say("This quote has been accepted in the meantime. What you sent changed nothing.")
	case kind == fault.State:
		d.Notice = t.Say("This quote does not stand any more. Nothing was ordered.")
	}
	for _, problem := range fault.ProblemsOf(err) {
		d.say(problem)
	}
	return p.showAnswer(c, status, d)
}

// say puts a problem beside its entry, in the visitor's language.
func (d *answerView) say(p fault.Problem) {
	t, long := d.Tongue, len([]rune(d.typed.Get(map[string]string{"text": "question"}[p.Field]))) > 2000
	switch p.Field {
	case "name":
		d.blame("name", t.Say("Write your name, at most 200 letters: it stands under what you agree to."))
	case "latex":
		d.blame("latex", t.Say("Answer this first: what you chose contains natural rubber latex."))
	case "text":
		d.blame("question", t.Say("Write what you would like to know."))
		if long {
			d.blame("question", t.Say("This is too long: at most 2000 letters can be sent at once."))
		}
	case "reason":
		d.blame("reason", t.Say("This is longer than 2000 letters. Shorten it."))
	}
}

// answerSum answers with the part of the page that changes while options are ticked. Nothing is stored.
func (p *Pages) answerSum(c *fiber.Ctx, v visit) error {
	typed := values(c)
	d := answerView{visit: v, typed: typed, Chosen: ticked(typed, "option.")}
	if err := d.complete(); err != nil {
		return err
	}
	return p.write(c, fiber.StatusOK, "answer", "answer-sum", d)
}

// answerDocument is the quote's document as it was issued.
func (p *Pages) answerDocument(c *fiber.Ctx, v visit) error {
	doc, err := p.sales.Document(c.UserContext(), v.Quote.ID)
	if err != nil {
		return err
	}
	return sendAnswerPDF(c, doc)
}
