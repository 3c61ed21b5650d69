package web

import (
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// enquirySettingsPage is how strangers may ask, and from when on new orders are begun.
type enquirySettingsPage struct {
	Open     bool
	Before   string // a day
	Privacy  []privacy
	Address  string // of the public form
	Edit     string
	Kept     bool
	Problems map[string]string
	Message  string
}

// privacy is the sentence of one language, with the usual one beside it.
type privacy struct{ Code, Name, Text, Usual string }

func (p *Pages) enquirySettings(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	return p.showEnquirySettings(c, fiber.StatusOK, w, enquirySettingsPage{
		Open: w.Enquiries.Open, Before: iso(w.NoOrdersBefore), Edit: strconv.Itoa(w.Edit), Kept: c.Query("kept") != "",
	})
}

func (p *Pages) showEnquirySettings(c *fiber.Ctx, status int, w workshop.Workshop, d enquirySettingsPage) error {
	own := w.Enquiries.Privacy
	w.Enquiries.Privacy = nil
	for _, t := range words.Tongues() {
		d.Privacy = append(d.Privacy, privacy{t.Code(), t.Name(), own[t.Code()], w.PrivacyIn(t)})
	}
	d.Address = p.reached(c) + enquirePath
	return p.render(c, status, "enquiry-settings", "How enquiries come", "workshop", d)
}

func (p *Pages) editEnquirySettings(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	t := typing{v: values(c)}
	d := enquirySettingsPage{Open: t.v.Get("open") != "", Before: t.v.Get("no_orders_before"), Edit: t.v.Get("edit")}
	w.Edit, w.NoOrdersBefore = t.count("edit"), t.day("no_orders_before")
	w.Enquiries = workshop.Enquiries{Open: d.Open, Privacy: map[string]string{}}
	for _, tongue := range words.Tongues() {
		if text := strings.TrimSpace(t.v.Get("privacy." + tongue.Code())); text != "" {
			w.Enquiries.Privacy[tongue.Code()] = text
		}
	}
	err = t.problems.Err()
	if err == nil {
		err = p.sales.SetWorkshop(c.UserContext(), w, by(c))
	}
	if err == nil {
		return c.Redirect("/workshop/enquiries?kept=1", fiber.StatusSeeOther)
	}
	status := problem.Status(err)
	if d.Problems, err = problemsOf(err); err != nil {
		return err
	}
	d.Message = d.Problems[""]
	return p.showEnquirySettings(c, status, w, d)
}
