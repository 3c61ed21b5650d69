package web

import (
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// registerEvents mounts events and their hand-over lists.
func (p *Pages) registerEvents(r fiber.Router) {
	owner := p.guard.Require(people.Owner)
	r.Get("/events", owner, p.events)
	r.Post("/events", owner, p.keepEvent)
	r.Get("/events/:id", owner, p.event)
	r.Post("/events/:id", owner, p.keepEvent)
	r.Post("/events/:id/hand-over", owner, p.handOver)
	r.Get("/events/:id/hand-over.pdf", owner, p.handoverList)
	r.Post("/orders/:id/event", owner, p.moveOrder)
}

// eventsPage is the events to come, and those that are over.
type eventsPage struct {
	forms
	Coming, Over []sales.Upcoming
	Rules        []option
	Lead         int // days
}

// eventPage is one event with its hand-over list.
type eventPage struct {
	forms
	sales.Handover
	Rules    []option
	Proposed string // last day to order by the standard lead time
	Warning  string
}

// Rule is what the event's rule is called.
func (d eventPage) Rule() string { return named(d.Rules, d.Event.Rule) }

// Edition is the one the event was written down with, where the workshop's rule has another by now.
func (d eventPage) Edition() string {
	if strings.HasSuffix(d.Rule(), ", "+d.Event.Edition) {
		return ""
	}
	return d.Event.Edition
}

func named(list []option, value string) string {
	for _, o := range list {
		if o.Value == value && value != "" {
			return o.Label
		}
	}
	return value
}

func (p *Pages) events(c *fiber.Ctx) error {
	return p.showEvents(c, fiber.StatusOK, eventsPage{})
}

func (p *Pages) showEvents(c *fiber.Ctx, status int, d eventsPage) error {
	all, err := p.sales.Events(c.UserContext())
	if err != nil {
		return err
	}
	for _, e := range all {
		if e.Over(wallClock()) {
			d.Over = append([]sales.Upcoming{e}, d.Over...)
		} else {
			d.Coming = append(d.Coming, e)
		}
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	d.Rules, d.Lead = offered(w.Figures).Rules, w.Figures.Rates.LeadDays
	return p.render(c, status, "events", "Events", "orders", d)
}

// keepEvent adds an event or changes one.
func (p *Pages) keepEvent(c *fiber.Ctx) error {
	return act(c, "event", func(t *typing) (string, error) {
		e := sales.Event{
			ID: c.Params("id"), Name: t.v.Get("name"), Place: t.v.Get("place"), First: t.day("first"), Last: t.day("last"), Rule: t.v.Get("rule"),
			OrderBy: t.day("order_by"), Note: t.v.Get("note"), Edit: t.count("edit"),
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		kept, err := p.sales.KeepEvent(c.UserContext(), e)
		return "/events/" + kept.ID, err
	}, func(status int, f forms) error {
		if c.Params("id") == "" {
			return p.showEvents(c, status, eventsPage{forms: f})
		}
		return p.showEvent(c, status, eventPage{forms: f})
	})
}

func (p *Pages) event(c *fiber.Ctx) error {
	return p.showEvent(c, fiber.StatusOK, eventPage{})
}

func (p *Pages) showEvent(c *fiber.Ctx, status int, d eventPage) error {
	var err error
	if d.Handover, err = p.sales.Handover(c.UserContext(), c.Params("id")); err != nil {
		return err
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	d.Rules, d.Proposed = offered(w.Figures).Rules, iso(sales.OrderBy(w, d.Event.First))
	if by := sales.OrderBy(w, d.Event.First); !by.Equal(d.Event.OrderBy) {
		d.Warning = by.Format("2 January 2006")
	}
	return p.render(c, status, "event", d.Event.Name, "orders", d)
}

// handOver notes that the ticked orders were handed over.
func (p *Pages) handOver(c *fiber.Ctx) error {
	return act(c, "hand-over", func(t *typing) (string, error) {
		day := t.must("day")
		var ticked []sales.Ticked
		for _, order := range t.v["got"] {
			ticked = append(ticked, sales.Ticked{Order: order, Edit: t.count("edit." + order)})
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		return "/events/" + c.Params("id"), p.sales.HandOver(c.UserContext(), c.Params("id"), ticked, day, by(c))
	}, func(status int, f forms) error { return p.showEvent(c, status, eventPage{forms: f}) })
}

// Got tells that an order is ticked.
func (d eventPage) Got(order string) bool {
	if d.Form == "hand-over" {
		return strings.Contains(strings.Join(d.v["got"], " "), order)
	}
	return false
}

// Any tells that something can be handed over.
func (d eventPage) Any() bool {
	return slices.ContainsFunc(d.Lines, sales.Handing.Ready)
}

func (p *Pages) handoverList(c *fiber.Ctx) error {
	doc, err := p.sales.HandoverList(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return sendDocument(c, doc)
}

// moveOrder says which event an order is for.
func (p *Pages) moveOrder(c *fiber.Ctx) error {
	return p.orderAct(c, "event", func(t *typing, id string) error {
		return p.sales.MoveOrder(c.UserContext(), id, t.v.Get("event"))
	})
}
