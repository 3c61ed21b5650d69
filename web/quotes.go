package web

import (
	"net/url"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// quotes lists quotes, newest first.
func (p *Pages) quotes(c *fiber.Ctx) error {
	list, err := p.sales.Quotes(c.UserContext(), sales.Found{Words: c.Query("words"), Standing: sales.Standing(c.Query("standing"))})
	if err != nil {
		return err
	}
	open, err := p.sales.Enquiries(c.UserContext(), sales.EnquiryFound{Open: true})
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "quotes", "Quotes", "quotes", struct {
		Quotes    []sales.Quote
		Owner     bool
		Enquiries int // that are open
		Standings []sales.Standing
		Standing  sales.Standing // of those that are shown; empty for all
	}{list, owner(c), len(open), sales.Standings(), sales.Standing(c.Query("standing"))})
}

func owner(c *fiber.Ctx) bool {
	person, ok := guard.Person(c)
	return ok && person.Role == people.Owner
}

// newQuoteForm is the page that starts a quote.
type newQuoteForm struct {
	Customers []sales.Customer
	Designs   []sales.Design
	Typed     url.Values
	Problems  map[string]string
}

func (p *Pages) newQuotePage(c *fiber.Ctx) error {
	return p.showNewQuote(c, fiber.StatusOK, url.Values{"design": {c.Query("design")}, "customer": {c.Query("customer")}}, nil)
}

func (p *Pages) showNewQuote(c *fiber.Ctx, status int, typed url.Values, problems map[string]string) error {
	customers, err := p.sales.Customers(c.UserContext(), sales.Found{})
	if err != nil {
		return err
	}
	designs, err := p.sales.Designs(c.UserContext())
	if err != nil {
		return err
	}
	return p.render(c, status, "quote-new", "New quote", "quotes", newQuoteForm{customers, designs, typed, problems})
}

// newQuote starts a draft from a design, or from the usual shield, for a customer of the list or a new one.
func (p *Pages) newQuote(c *fiber.Ctx) error {
	v := values(c)
	ctx := c.UserContext()
	title, from := "", sales.Design{Form: usualShield()}
	var err error
	if design := v.Get("design"); design != "" {
		if from, err = p.sales.Design(ctx, design); err == nil {
			title = from.Name
		}
	}
	customer := v.Get("customer")
	if name := strings.TrimSpace(v.Get("new_customer")); err == nil && name != "" {
		var kept sales.Customer
		if kept, err = p.sales.KeepCustomer(ctx, sales.Customer{Name: name, Email: v.Get("new_email")}); err == nil {
			customer = kept.ID
		}
	}
	if err == nil {
		var q sales.Quote
		if q, err = p.sales.NewQuoteOf(ctx, customer, title, from); err == nil {
			return c.Redirect("/quotes/"+q.ID, fiber.StatusSeeOther)
		}
	}
	problems, err := problemsOf(err)
	if err != nil {
		return err
	}
	return p.showNewQuote(c, fiber.StatusUnprocessableEntity, v, problems)
}

// usualShield is what a blank quote begins with: a plain round buckler, so that the page is alive at once.
func usualShield() orderform.Form {
	t := orderform.T
	return orderform.Form{
		Name:    t("New shield"),
		Outline: orderform.Outline{Shape: t("round"), Diameter: orderform.Size{Text: t("50 cm")}},
		Core:    orderform.Core{Foam: t("mat-10"), Layers: t("2")},
	}
}

// revise opens a new version of an issued quote.
func (p *Pages) revise(c *fiber.Ctx) error {
	q, err := p.sales.Revise(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return c.Redirect("/quotes/"+q.ID, fiber.StatusSeeOther)
}

// discard removes a draft.
func (p *Pages) discard(c *fiber.Ctx) error {
	if err := p.sales.Discard(c.UserContext(), c.Params("id")); err != nil {
		return err
	}
	return c.Redirect("/quotes", fiber.StatusSeeOther)
}

// document sends an issued quote's PDF, the same bytes every time.
func (p *Pages) document(c *fiber.Ctx) error {
	doc, err := p.sales.Document(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return sendDocument(c, doc)
}

// sendDocument sends a document; who has a frozen one already is told so. One that is made anew each time has no hash,
// and nobody keeps it.
func sendDocument(c *fiber.Ctx, doc sales.Document) error {
	if doc.Hash == "" {
		c.Set(fiber.HeaderCacheControl, "no-store")
	} else {
		etag := `"` + doc.Hash + `"`
		c.Set(fiber.HeaderETag, etag)
		c.Set(fiber.HeaderCacheControl, "private, no-cache")
		if c.Get(fiber.HeaderIfNoneMatch) == etag {
			return c.SendStatus(fiber.StatusNotModified)
		}
	}
	c.Set(fiber.HeaderContentType, "application/pdf")
	c.Set(fiber.HeaderContentDisposition, `inline; filename="`+doc.Name+`"`)
	return c.Send(doc.Bytes)
}
