package web

import (
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// answerLinkedChange answers a change of an order on its customer's own page.
func (p *Pages) answerLinkedChange(c *fiber.Ctx, v visit) error {
	return p.answerOf(c, v, "change", func(d answerView, no int) (bool, error) {
		choice := sales.Choice{Name: d.typed.Get("change.name"), Note: d.typed.Get("change.reason"), Document: d.typed.Get("change.document"), Language: v.Tongue.Code()}
		return p.sales.AnswerChangeLinked(c.UserContext(), v.Secret, no, d.typed.Get("do") == "accept", choice)
	}, "accept", "decline")
}

// answerLinkedDrawing says what a customer thinks of a drawing, on their own page.
func (p *Pages) answerLinkedDrawing(c *fiber.Ctx, v visit) error {
	return p.answerOf(c, v, "drawing", func(d answerView, round int) (bool, error) {
		verdict := sales.Redraw
		if d.typed.Get("do") == "approve" {
			verdict = sales.Approved
		}
		return p.sales.AnswerDrawingLinked(c.UserContext(), v.Secret, round, verdict, d.typed.Get("drawing.words"), sales.Choice{Name: d.typed.Get("drawing.name"), Language: v.Tongue.Code()})
	}, "approve", "redraw")
}

// answerOf runs one of the forms about an order, then looks at the page as it stands: with what was done, or with what
// was typed and why it was not. does are what its buttons say.
func (p *Pages) answerOf(c *fiber.Ctx, v visit, form string, act func(d answerView, no int) (bool, error), does ...string) error {
	d := answerView{visit: v, typed: values(c)}
	if !v.Guest {
		d.Notice = "You are signed in to the workshop, so nothing was done: this is your customer's page."
		return p.showAnswer(c, fiber.StatusForbidden, d)
	}
	no, err := strconv.Atoi(c.Params("no"))
	if err != nil || v.Order == nil || !slices.Contains(does, d.typed.Get("do")) {
		return p.noSuchAnswer(c)
	}
	fresh, err := act(d, no)
	if err == nil {
		done := "already-said"
		if fresh {
			done = d.typed.Get("do") + "-" + form
		}
		return d.to(c, done, "")
	}
	switch fault.KindOf(err) {
	case fault.NotFound:
		return p.noSuchAnswer(c)
	case fault.Conflict, fault.State:
		if d.Linked, _ = p.sales.Linked(c.UserContext(), v.Secret, false); d.Order == nil { // the link was ended meanwhile
			return p.noSuchAnswer(c)
		}
		d.Notice = d.Tongue.Say("This was answered or taken back in the meantime, as it stands here now. What you sent changed nothing.")
	case fault.Invalid:
		for _, problem := range fault.ProblemsOf(err) {
			d.sayOf(form, problem.Field)
		}
	default:
		return err
	}
	return p.showAnswer(c, problem.Status(err), d)
}

// sayOf puts a problem beside an entry of a form about the order, in the visitor's language.
func (d *answerView) sayOf(form, field string) {
	t, at := d.Tongue, form+"."+field
	switch {
	case field == "name":
		d.blame(at, t.Say("Write your name, at most 200 letters: it stands under what you agree to."))
	case field == "words" && strings.TrimSpace(d.Typed(at)) == "":
		d.blame(at, t.Say("Write what should be different."))
	default:
		d.blame(at, t.Say("This is longer than 2000 letters. Shorten it."))
	}
}
