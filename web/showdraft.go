package web

import (
	"context"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
)

// draftShow is the event and the group of a draft.
type draftShow struct {
	Event   *sales.Event
	Events  []option
	Group   sales.Group
	Late    string // that it is late for the event
	Warning string // that wearers and pieces do not agree
	typed   *string
}

// EventID is the event that is chosen.
func (s draftShow) EventID() string {
	switch {
	case s.typed != nil:
		return *s.typed
	case s.Event != nil:
		return s.Event.ID
	}
	return ""
}

func (p *Pages) draftShow(c *fiber.Ctx, q sales.Quote, pieces int) (s draftShow, err error) {
	ctx := c.UserContext()
	if s.Event, err = p.sales.EventOf(ctx, q.ID); err != nil {
		return s, err
	}
	if s.Events, err = p.eventOptions(c); err != nil {
		return s, err
	}
	if s.Event != nil {
		s.Late = s.Event.Warns(wallClock())
		if named(s.Events, s.Event.ID) == s.Event.ID {
			s.Events = append([]option{{s.Event.ID, s.Event.Name}}, s.Events...)
		}
	}
	if s.Group, err = p.sales.Group(ctx, q.ID); err != nil {
		return s, err
	}
	s.Warning = s.Group.Warns(pieces)
	return s, nil
}

// chooseEvent says which event a draft is for.
func (p *Pages) chooseEvent(ctx context.Context, q sales.Quote, event string) error {
	_, err := p.sales.ChooseEvent(ctx, q.ID, q.Edit, event)
	return err
}
