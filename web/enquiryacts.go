package web

import (
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
)

func isoDay(text string) (time.Time, bool) {
	day, err := time.Parse(time.DateOnly, text)
	return day, err == nil
}

// onEnquiry does something about an enquiry and comes back to it; what was refused comes back as it was typed.
func (p *Pages) onEnquiry(c *fiber.Ctx, act func(edit int) error, again func(*enquiryPage)) error {
	t := typing{v: values(c)}
	err := act(t.count("edit"))
	if err == nil {
		return c.Redirect("/enquiries/"+c.Params("id"), fiber.StatusSeeOther)
	}
	e, gone := p.sales.Enquiry(c.UserContext(), c.Params("id"))
	if gone != nil {
		return gone
	}
	d := enquiryPage{Enquired: e, Edited: e.Edit}
	again(&d)
	return p.refusedEnquiry(c, d, err)
}

// askEnquiry keeps what was typed and sends the questions by mail, or notes that they were sent by hand.
func (p *Pages) askEnquiry(c *fiber.Ctx) error {
	v, ctx := values(c), c.UserContext()
	again, e, err := p.typedPage(c)
	if err != nil {
		return err
	}
	kept, err := p.sales.KeepEnquiry(ctx, e, by(c))
	if err == nil {
		again.Edited, again.Unsaved = kept.Edit, false
		if v.Get("do") == "mail" {
			_, err = p.sales.AskByMail(ctx, kept.ID, kept.Edit, sales.PostRequest{Token: v.Get("token"), Text: v.Get("letter")}, by(c))
		} else {
			_, err = p.sales.Asked(ctx, kept.ID, kept.Edit, v.Get("letter"))
		}
	}
	if err == nil {
		return c.Redirect("/enquiries/"+kept.ID, fiber.StatusSeeOther)
	}
	return p.refusedEnquiry(c, again, err)
}

func (p *Pages) closeEnquiry(c *fiber.Ctx) error {
	return p.onEnquiry(c, func(edit int) error {
		_, err := p.sales.CloseEnquiry(c.UserContext(), c.Params("id"), edit, values(c).Get("reason"))
		return err
	}, func(d *enquiryPage) { d.Reason = values(c).Get("reason") })
}

func (p *Pages) reopenEnquiry(c *fiber.Ctx) error {
	return p.onEnquiry(c, func(edit int) error {
		_, err := p.sales.ReopenEnquiry(c.UserContext(), c.Params("id"), edit)
		return err
	}, func(*enquiryPage) {})
}

func (p *Pages) forgetEnquiry(c *fiber.Ctx) error {
	if err := p.sales.ForgetEnquiry(c.UserContext(), c.Params("id")); err != nil {
		return err
	}
	return c.Redirect("/enquiries", fiber.StatusSeeOther)
}
