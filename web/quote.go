package web

import (
	"cmp"
	"html/template"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/sales"
)

// quotePage is a draft while it is edited.
type quotePage struct {
	board
	Quote     sales.Quote
	Customer  string // chosen
	Title     string
	Customers []sales.Customer
	Edit      int
	Message   string            // why the last act was not done
	Problems  map[string]string // of the entries beside the spec
	Enquiry   *sales.Enquired   // it came of; nil for none
	Offered   optionsPart
	Language  string // of the customer, for names of options
	Show      draftShow
}

// issuedPage is a quote that stands.
type issuedPage struct {
	Quote    sales.Quote
	Show     draftShow // event and wearers, for the owner
	Picture  template.HTML
	Customer sales.Customer
	Versions []sales.Quote
	Owner    bool
	Order    *sales.Order // that was made of it or of another version
	Stands   bool         // it can be accepted
	Mail     mailBox      // what was sent of it
	Enquiry  *sales.Enquired
	Talk     talkBox // the customer's own page
	Once     string  // of the next reply: sent twice it is kept once
	Outcome  outcome
}

// quote shows a draft to edit, or an issued quote to read.
func (p *Pages) quote(c *fiber.Ctx) error {
	ctx := c.UserContext()
	q, err := p.sales.Quote(ctx, c.Params("id"))
	if err != nil {
		return err
	}
	if q.State == sales.Draft && owner(c) {
		b, err := p.board(ctx, q.CustomerID, q.Form, "/quotes/"+q.ID+"/live")
		if err != nil {
			return err
		}
		return p.showDraft(c, fiber.StatusOK, quotePage{board: b, Quote: q, Customer: q.CustomerID, Title: q.Title, Edit: q.Edit}, q.Form, nil)
	}
	if q.State == sales.Draft {
		return fault.New(fault.State, "This quote has not been issued yet. The owner is still working on it.")
	}
	return p.showIssued(c, fiber.StatusOK, q, talkBox{})
}

func (p *Pages) showIssued(c *fiber.Ctx, status int, q sales.Quote, talk talkBox) error {
	return p.showIssuedWith(c, status, q, talk, outcome{})
}

// showIssuedWith shows an issued quote with a form of its outcome as it was typed.
func (p *Pages) showIssuedWith(c *fiber.Ctx, status int, q sales.Quote, talk talkBox, again outcome) error {
	ctx := c.UserContext()
	customer, err := p.sales.Customer(ctx, q.CustomerID)
	if err != nil {
		return err
	}
	versions, err := p.sales.Versions(ctx, q)
	if err != nil {
		return err
	}
	data := issuedPage{Quote: q, Picture: template.HTML(q.Printed.Picture), Customer: customer, Versions: versions, Owner: owner(c), Outcome: again} // the picture was made by package drawing
	order, accepted, err := p.sales.Accepted(ctx, q)
	if err != nil {
		return err
	}
	if accepted {
		data.Order = &order
	}
	if data.Owner {
		if data.Show, err = p.draftShow(c, q, q.Pieces()); err != nil {
			return err
		}
		e, _, found, err := p.sales.EnquiryOf(ctx, q)
		if err != nil {
			return err
		}
		if found {
			data.Enquiry = &e
		}
	}
	data.Stands = data.Owner && !accepted && q.Stands(time.Now())
	if err := p.outcomeOf(c, &data); err != nil {
		return err
	}
	if data.Mail, err = p.mailsOf(c, q.ID); err != nil {
		return err
	}
	if data.Talk, err = p.talkOf(c, q); err != nil {
		return err
	}
	data.Talk.Page, data.Talk.Reply, data.Talk.Problem, data.Once = talk.Page, talk.Reply, talk.Problem, uuid.NewString()
	if data.Mail.Server != "" {
		data.Talk.Mail = data.Customer.Email
	}
	return p.render(c, status, "quote-issued", "Quote "+q.Number.String(), "quotes", data)
}

// showDraft shows a draft with a form, which may be other than the one that is kept, and what was typed beside it.
func (p *Pages) showDraft(c *fiber.Ctx, status int, data quotePage, form orderform.Form, v url.Values) error {
	customers, err := p.sales.Customers(c.UserContext(), sales.Found{})
	if err != nil {
		return err
	}
	data.Customers = customers
	if err := p.options(c.UserContext(), &data, form, v); err != nil {
		return err
	}
	for _, one := range customers {
		if one.ID == data.Customer {
			data.Language = cmp.Or(one.Language, "en")
		}
	}
	e, notes, found, err := p.sales.EnquiryOf(c.UserContext(), data.Quote)
	if err != nil {
		return err
	}
	if found {
		data.Enquiry, data.Form.notes = &e, notes
	}
	if data.Show, err = p.draftShow(c, data.Quote, sales.Quote{Form: form}.Pieces()); err != nil {
		return err
	}
	if v.Has("event") {
		event := v.Get("event")
		data.Show.typed = &event
	}
	title := cmp.Or(data.Title, "Quote")
	return p.render(c, status, "quote", title, "quotes", data)
}

// editQuote does what the pressed button says: recompute, keep, or issue. What was typed is shown again whenever it
// is not done.
func (p *Pages) editQuote(c *fiber.Ctx) error {
	ctx, v := c.UserContext(), values(c)
	q, err := p.sales.Quote(ctx, c.Params("id"))
	if err != nil {
		return err
	}
	f, b, err := p.posted(ctx, v, "/quotes/"+q.ID+"/live")
	if err != nil {
		return err
	}
	edit, err := strconv.Atoi(v.Get("edit"))
	if err != nil {
		edit = -1
	}
	again := quotePage{board: b, Quote: q, Customer: v.Get("customer"), Title: v.Get("title"), Edit: edit}
	issuing := v.Get("do") == "issue"
	if strings.HasPrefix(v.Get("do"), recompute) || b.Garbled || issuing && b.Estimate == nil {
		return p.showDraft(c, status(b), again, f, v)
	}
	onOptions, place := strings.HasPrefix(v.Get("do"), "options "), ""
	if onOptions {
		place = "#options"
	}
	if v.Get("do") == "options this" {
		err = p.offerTyped(c, q, edit, f, v)
	} else {
		var saved sales.Quote
		saved, err = p.sales.SaveDraftWith(ctx, q.ID, edit, again.Customer, again.Title, f, namedOptions(q.Options, v))
		if err == nil {
			again.Edit, again.Unsaved, again.Quote = saved.Edit, false, saved // kept, whatever becomes of issuing
			switch {
			case issuing:
				err = p.issue(c, saved, v)
			case onOptions:
				err = p.actOnOptions(c, saved, v)
			case v.Get("do") == "event":
				err = p.chooseEvent(ctx, saved, v.Get("event"))
			}
		}
	}
	if err == nil {
		return c.Redirect("/quotes/"+q.ID+place, fiber.StatusSeeOther)
	}
	answer := problem.Status(err)
	problems, err := problemsOf(err)
	if err != nil {
		return err
	}
	again.Problems, again.Message, again.Form.problems = problems, message(problems), problems
	return p.showDraft(c, answer, again, f, v)
}

// issue freezes a draft at the price that was on the page.
func (p *Pages) issue(c *fiber.Ctx, q sales.Quote, v url.Values) error {
	_, err := p.sales.Issue(c.UserContext(), q.ID, sales.Shown{Digest: v.Get("digest"), Gross: v.Get("gross")}, by(c))
	return err
}

// live answers with the parts of a board that change while somebody types. Nothing is stored.
func (p *Pages) live(c *fiber.Ctx) error {
	_, b, err := p.posted(c.UserContext(), values(c), c.Path())
	if err != nil {
		return err
	}
	c.Set(fiber.HeaderCacheControl, "no-store")
	return p.write(c, fiber.StatusOK, "quote", "live", b)
}

// status is what a board answers with: what cannot be made is unprocessable.
func status(b board) int {
	if b.Wrong > 0 {
		return fiber.StatusUnprocessableEntity
	}
	return fiber.StatusOK
}
