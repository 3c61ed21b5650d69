package web

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/materials/fault"
	"foamwright/pricing/calendar"
	"foamwright/pricing/people"
)

// calendarPath is where other programs' calendars ask; the secret of a link follows.
const calendarPath = "/calendar/"

// registerCalendar mounts the feed, which its secret alone opens, and the making and ending of links to it.
func (p *Pages) registerCalendar(r fiber.Router) {
	r.Get(calendarPath+":secret", p.feed)
	r.Post("/account/calendar", p.newCalendarLink)
	r.Post("/account/calendar/:id/end", p.endCalendarLink)
	back := func(c *fiber.Ctx) error { return c.Redirect("/account", fiber.StatusSeeOther) }
	r.Get("/account/calendar", back)
	r.Get("/account/calendar/:id/end", back)
}

// feed sends the plan of the bench as iCalendar. Only the owner's own links tell for whom something is made.
func (p *Pages) feed(c *fiber.Ctx) error {
	ctx := c.UserContext()
	person, err := p.people.FollowCalendar(ctx, strings.TrimSuffix(c.Params("secret"), ".ics"))
	if err != nil {
		return err
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	orders, err := p.sales.Days(ctx)
	if err != nil {
		return err
	}
	doc := calendar.Write(calendar.Feed{Workshop: w.Head.Name, Hours: w.Figures.Calendar, Orders: orders, Names: person.Role == people.Owner})
	sum := sha256.Sum256(doc)
	etag := `"` + hex.EncodeToString(sum[:]) + `"`
	c.Set(fiber.HeaderETag, etag)
	c.Set(fiber.HeaderCacheControl, "private, no-cache")
	if c.Get(fiber.HeaderIfNoneMatch) == etag {
		return c.SendStatus(fiber.StatusNotModified)
	}
	c.Set(fiber.HeaderContentType, "text/calendar; charset=utf-8")
	c.Set(fiber.HeaderContentDisposition, `inline; filename="bench.ics"`)
	return c.Send(doc)
}

func (p *Pages) newCalendarLink(c *fiber.Ctx) error {
	session, ok := guard.Current(c)
	if !ok {
		return fault.New(fault.Unauthenticated, "Sign in first.")
	}
	f := entryForm{Login: session.Login, ByLink: session.ByLink, Name: c.FormValue("name")}
	_, secret, err := p.people.NewCalendarLink(c.UserContext(), session.ID, f.Name)
	if err != nil {
		return p.refused(c, err, "account", session.Name, p.withLinks(c, session.ID, f))
	}
	f.Name, f.Secret = "", p.reached(c)+calendarPath+secret+".ics"
	return p.render(c, fiber.StatusOK, "account", session.Name, "", p.withLinks(c, session.ID, f))
}

func (p *Pages) endCalendarLink(c *fiber.Ctx) error {
	session, ok := guard.Current(c)
	if !ok {
		return fault.New(fault.Unauthenticated, "Sign in first.")
	}
	id, err := strconv.ParseInt(c.Params("id"), 10, 64)
	if err == nil {
		err = p.people.EndCalendarLink(c.UserContext(), session.ID, id)
	} else {
		err = fault.New(fault.NotFound, "There is no such link.")
	}
	if err != nil && fault.KindOf(err) != fault.NotFound { // ended twice is ended
		return err
	}
	return c.Redirect("/account", fiber.StatusSeeOther)
}

// withLinks is the account's page with the person's links; without them where they cannot be read just now.
func (p *Pages) withLinks(c *fiber.Ctx, personID int64, f entryForm) entryForm {
	links, err := p.people.CalendarLinks(c.UserContext(), personID)
	if err != nil {
		p.problems.Note(c, err)
	}
	f.Links = links
	return f
}

// reached is the address the program is reached at, without a slash at its end: what was set, else what was asked for.
func (p *Pages) reached(c *fiber.Ctx) string {
	if p.reachedAt != "" {
		return p.reachedAt
	}
	return c.BaseURL()
}
