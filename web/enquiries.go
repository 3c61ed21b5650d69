package web

import (
	"cmp"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"foamwright/api/problem"
	"foamwright/pricing/enquiry"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// registerEnquiries mounts the enquiries, the waiting list and the public form.
func (p *Pages) registerEnquiries(r fiber.Router) {
	owner := p.guard.Require(people.Owner)
	r.Get("/enquiries", owner, p.enquiries)
	r.Get("/enquiries/new", owner, p.newEnquiry)
	r.Post("/enquiries/new", owner, p.editEnquiry)
	r.Post("/enquiries/live", owner, p.liveEnquiry)
	r.Get("/enquiries/:id", owner, p.enquiry)
	r.Post("/enquiries/:id", owner, p.editEnquiry)
	r.Post("/enquiries/:id/ask", owner, p.askEnquiry)
	r.Post("/enquiries/:id/close", owner, p.closeEnquiry)
	r.Post("/enquiries/:id/reopen", owner, p.reopenEnquiry)
	r.Post("/enquiries/:id/forget", owner, p.forgetEnquiry)
	r.Get("/waiting", owner, p.waiting)
	r.Post("/waiting", owner, p.wait)
	r.Post("/waiting/:id/end", owner, p.endWait)
	r.Get("/workshop/enquiries", owner, p.enquirySettings)
	r.Post("/workshop/enquiries", owner, p.editEnquirySettings)
	r.Get(enquirePath, p.enquirePage)
	r.Post(enquirePath, p.enquire)
}

func (p *Pages) enquiries(c *fiber.Ctx) error {
	all := c.Query("all") != ""
	list, err := p.sales.Enquiries(c.UserContext(), sales.EnquiryFound{Words: c.Query("words"), Open: !all && c.Query("words") == ""})
	if err != nil {
		return err
	}
	waiting, err := p.sales.WaitingList(c.UserContext(), false)
	if err != nil {
		return err
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "enquiries", "Enquiries", "quotes", struct {
		List    []sales.Enquiry
		All     bool
		Words   string
		Waiting int
		Open    bool
	}{list, all, c.Query("words"), len(waiting), w.Enquiries.Open})
}

func (p *Pages) newEnquiry(c *fiber.Ctx) error {
	return p.showEnquiry(c, fiber.StatusOK, enquiryPage{Enquired: sales.Enquired{Enquiry: sales.Enquiry{ID: uuid.NewString()}}})
}

func (p *Pages) enquiry(c *fiber.Ctx) error {
	e, err := p.sales.Enquiry(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return p.showEnquiry(c, fiber.StatusOK, enquiryPage{Enquired: e, Edited: e.Edit})
}

// showEnquiry shows an enquiry with what its words say and what is to be asked.
func (p *Pages) showEnquiry(c *fiber.Ctx, status int, d enquiryPage) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	d.rules = offered(w.Figures).Rules
	if d.Text == "" {
		d.Text = d.Wording(w.Head.Name)
	}
	if d.Edited > 0 {
		if d.Photos, err = p.photosOf(c, sales.PhotoOfEnquiry, d.ID); err != nil {
			return err
		}
	}
	d.Token, d.CanMail = uuid.NewString(), p.sales.CanMail()
	title := d.Name
	if d.Edited == 0 {
		title = "New enquiry"
	} else if d.Mail, err = p.mailsOf(c, d.ID); err != nil {
		return err
	}
	title = cmp.Or(title, "Enquiry")
	return p.render(c, status, "enquiry", title, "quotes", d)
}

// typedEnquiry is an enquiry as it was posted.
func typedEnquiry(c *fiber.Ctx) (e sales.Enquiry, edited int) {
	v := values(c)
	e = sales.Enquiry{ID: c.Params("id"), Words: v.Get("words"), Name: v.Get("name"), Mail: v.Get("mail"), Phone: v.Get("phone"), Language: v.Get("language"), Answers: map[enquiry.Topic]string{}}
	if e.ID == "" {
		e.ID = v.Get("id")
	}
	for name := range v {
		if about, ok := strings.CutPrefix(name, "answers."); ok {
			if value := strings.TrimSpace(v.Get(name)); value != "" {
				e.Answers[enquiry.Topic(about)] = value
			}
		}
	}
	edited, err := strconv.Atoi(v.Get("edit"))
	if err != nil || edited < 0 {
		edited = -1 // an edit count nobody was shown
	}
	e.Edit = edited
	return e, edited
}

// typedPage is the page as it was posted, and the enquiry to keep of it. A letter that was not changed is made anew.
func (p *Pages) typedPage(c *fiber.Ctx) (enquiryPage, sales.Enquiry, error) {
	ctx, v := c.UserContext(), values(c)
	e, edited := typedEnquiry(c)
	if _, err := uuid.Parse(e.ID); err != nil {
		e.ID = uuid.NewString()
	}
	read, err := p.sales.ReadEnquiry(ctx, e)
	if err != nil {
		return enquiryPage{}, e, err
	}
	d := enquiryPage{Enquired: read, Edited: edited, Customer: v.Get("customer"), Unsaved: true}
	d.Enquiry.Answers, d.Enquiry.Words = e.Answers, e.Words
	if edited <= 0 {
		return d, e, nil
	}
	kept, err := p.sales.Enquiry(ctx, e.ID) // what the form does not show stays as it is
	if err != nil {
		return d, e, err
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return d, e, err
	}
	d.State, d.Asked, d.QuoteID, d.Quote, d.Waits, d.Created, d.By = kept.State, kept.Asked, kept.QuoteID, kept.Quote, kept.Waits, kept.Created, kept.By
	e.Letter = kept.Letter
	if v.Has("letter") {
		typed := strings.TrimSpace(strings.ReplaceAll(v.Get("letter"), "\r\n", "\n"))
		anew := kept
		anew.Enquiry.Letter = ""
		if e.Letter = typed; kept.Asked.IsZero() && typed == strings.TrimSpace(anew.Wording(w.Head.Name)) {
			e.Letter = ""
		}
	}
	d.Enquiry.Letter, d.Text = e.Letter, e.Letter
	return d, e, nil
}

// editEnquiry does what the pressed button says: read, keep, or draft the quote.
func (p *Pages) editEnquiry(c *fiber.Ctx) error {
	ctx, v := c.UserContext(), values(c)
	again, e, err := p.typedPage(c)
	if err != nil {
		return err
	}
	if v.Get("do") == "read" {
		return p.showEnquiry(c, fiber.StatusOK, again)
	}
	kept, err := p.sales.KeepEnquiry(ctx, e, by(c))
	to := "/enquiries/" + kept.ID
	if err == nil {
		again.Edited, again.Unsaved, again.ID, again.Same = kept.Edit, false, kept.ID, kept.Same
		if v.Get("do") == "quote" {
			var q sales.Quote
			q, err = p.sales.QuoteEnquiry(ctx, kept.ID, again.Customer)
			to = "/quotes/" + q.ID
		}
	}
	if err == nil {
		return c.Redirect(to, fiber.StatusSeeOther)
	}
	return p.refusedEnquiry(c, again, err)
}

// refusedEnquiry shows an enquiry as it was typed, with why nothing, or not all, was done.
func (p *Pages) refusedEnquiry(c *fiber.Ctx, d enquiryPage, err error) error {
	status := problem.Status(err)
	if d.Problems, err = problemsOf(err); err != nil {
		return err
	}
	d.Message = d.Problems[""]
	return p.showEnquiry(c, status, d)
}

// liveEnquiry answers with what the words say while they are typed. Nothing is stored.
func (p *Pages) liveEnquiry(c *fiber.Ctx) error {
	e, _ := typedEnquiry(c)
	read, err := p.sales.ReadEnquiry(c.UserContext(), e)
	if err != nil {
		return err
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	c.Set(fiber.HeaderCacheControl, "no-store")
	return p.write(c, fiber.StatusOK, "enquiry", "reading", enquiryPage{Enquired: read, Customer: values(c).Get("customer"), rules: offered(w.Figures).Rules})
}
