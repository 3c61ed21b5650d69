package web

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/calendar"
	"foamwright/pricing/people"
)

// calendarPath is where other programs' calendars ask; the secret of a link follows.
const calendarPath = "/calendar/"

// feed sends the plan of the bench as iCalendar to whoever has the secret of a link. Only the owner's own links tell for whom something is made.
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

// reached is the address the program is reached at, without a slash at its end: what was set, else what was asked for.
func (p *Pages) reached(c *fiber.Ctx) string {
	if p.reachedAt != "" {
		return p.reachedAt
	}
	return c.BaseURL()
}
