package web

import (
	"cmp"
	"slices"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

func (p *Pages) registerRepairs(r fiber.Router) {
	owner := p.guard.Require(people.Owner)
	r.Get("/repairs", owner, p.repairs)
	r.Post("/repairs", owner, p.takeIn)
	r.Get("/repairs/:id", owner, p.repair)
	r.Get("/repairs/:id/tag.pdf", owner, p.tag)
	r.Post("/repairs/:id/inspect", owner, p.inspect)
	r.Post("/repairs/:id/move", owner, p.moveRepair)
	r.Post("/repairs/:id/quote", owner, p.quoteRepair)
}

// repairsPage is what waits to be mended, and what is over.
type repairsPage struct {
	forms
	Waiting, Over     []sales.Repair
	Customers, Orders []option
}

func (p *Pages) repairs(c *fiber.Ctx) error {
	return p.showRepairs(c, fiber.StatusOK, repairsPage{})
}

func (p *Pages) showRepairs(c *fiber.Ctx, status int, d repairsPage) (err error) {
	ctx := c.UserContext()
	if d.Waiting, err = p.sales.Repairs(ctx, sales.RepairFound{}); err != nil {
		return err
	}
	if d.Over, err = p.sales.Repairs(ctx, sales.RepairFound{Over: true}); err != nil {
		return err
	}
	if d.Customers, err = p.customerOptions(c); err != nil {
		return err
	}
	if d.Orders, err = p.madeOptions(c); err != nil {
		return err
	}
	return p.render(c, status, "repairs", "Repairs", "orders", d)
}

func (p *Pages) customerOptions(c *fiber.Ctx) (all []option, err error) {
	list, err := p.sales.Customers(c.UserContext(), sales.Found{})
	for _, one := range list {
		all = append(all, option{one.ID, one.Name})
	}
	return all, err
}

// madeOptions are the newest orders that were made.
func (p *Pages) madeOptions(c *fiber.Ctx) (all []option, err error) {
	list, err := p.sales.Orders(c.UserContext(), sales.Found{})
	for _, o := range list {
		if o.State == sales.Done || o.State == sales.Booked {
			all = append(all, option{o.ID, o.Number.String() + ": " + cmp.Or(o.Title, "Untitled") + ", " + o.Customer})
		}
	}
	return all, err
}

// takeIn takes a piece in and gives it a tag.
func (p *Pages) takeIn(c *fiber.Ctx) error {
	return act(c, "in", func(t *typing) (string, error) {
		r := sales.Repair{CustomerID: t.v.Get("customer"), OrderID: t.v.Get("order"), What: t.v.Get("what"), Condition: t.v.Get("condition"), Came: t.day("came")}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		taken, err := p.sales.TakeIn(c.UserContext(), r, by(c))
		return "/repairs/" + taken.ID, err
	}, func(status int, f forms) error { return p.showRepairs(c, status, repairsPage{forms: f}) })
}

// repairPage is one repair.
type repairPage struct {
	forms
	sales.Repair
	Free   time.Time // the last day on which its order is mended free; zero where that is not known
	Quote  *sales.Quote
	Order  *sales.Order // its price was accepted as
	Photos photoBox
}

// Proposed tells that it came in within the warranty of its order.
func (d repairPage) Proposed() bool { return sales.InWarranty(d.Came, d.Free) }

// Steps are where it can stand, in order.
func (d repairPage) Steps() []orderStep {
	all := []sales.RepairState{sales.CameIn, sales.Inspected, sales.AtBench, sales.Mended, sales.GivenBack}
	at := 0
	for i, s := range all {
		if s == d.State {
			at = i
		}
	}
	var steps []orderStep
	for i, s := range all {
		step := orderStep{Name: sales.Sentence(string(s)), Done: i <= at && d.State != sales.Scrapped || i == 0}
		switch {
		case i == 0:
			step.Day = d.Came
		case s == d.State:
			step.Day = d.Since
		}
		steps = append(steps, step)
	}
	if d.State == sales.Scrapped {
		return append(steps[:1], orderStep{"Scrapped", d.Since, true})
	}
	return steps
}

// Can tells that a state may follow.
func (d repairPage) Can(to string) bool {
	return slices.Contains(d.State.Next(), sales.RepairState(to))
}

func (p *Pages) repair(c *fiber.Ctx) error {
	return p.showRepair(c, fiber.StatusOK, repairPage{})
}

func (p *Pages) showRepair(c *fiber.Ctx, status int, d repairPage) (err error) {
	ctx := c.UserContext()
	if d.Repair, d.Free, err = p.sales.Repair(ctx, c.Params("id")); err != nil {
		return err
	}
	if d.QuoteID != "" {
		q, err := p.sales.Quote(ctx, d.QuoteID)
		if err != nil {
			return err
		}
		d.Quote = &q
		if o, found, err := p.sales.Accepted(ctx, q); err != nil {
			return err
		} else if found {
			d.Order = &o
		}
	}
	if d.Photos, err = p.photosOf(c, sales.PhotoOfRepair, d.ID); err != nil {
		return err
	}
	return p.render(c, status, "repair", "Repair "+d.Tag.String(), "orders", d)
}

// repairAct runs a form of a repair's page.
func (p *Pages) repairAct(c *fiber.Ctx, form string, do func(t *typing, id string, edit int) (to string, err error)) error {
	return act(c, form, func(t *typing) (string, error) {
		edit := t.count("edit")
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		return do(t, c.Params("id"), edit)
	}, func(status int, f forms) error { return p.showRepair(c, status, repairPage{forms: f}) })
}

func (p *Pages) inspect(c *fiber.Ctx) error {
	return p.repairAct(c, "inspect", func(t *typing, id string, edit int) (string, error) {
		if t.v.Get("warranty") == "" {
			t.problems.Add("warranty", "", "Say whether it is mended free.")
			return "", t.problems.Err()
		}
		_, err := p.sales.Inspect(c.UserContext(), id, edit, t.v.Get("findings"), t.v.Get("warranty") == "yes")
		return "/repairs/" + id, err
	})
}

func (p *Pages) moveRepair(c *fiber.Ctx) error {
	return p.repairAct(c, "move", func(t *typing, id string, edit int) (string, error) {
		_, err := p.sales.MoveRepair(c.UserContext(), id, edit, sales.RepairState(t.v.Get("to")), t.v.Get("reason"))
		return "/repairs/" + id, err
	})
}

// quoteRepair opens the draft of its price.
func (p *Pages) quoteRepair(c *fiber.Ctx) error {
	return p.repairAct(c, "quote", func(_ *typing, id string, edit int) (string, error) {
		q, err := p.sales.QuoteRepair(c.UserContext(), id, edit)
		return "/quotes/" + q.ID, err
	})
}

func (p *Pages) tag(c *fiber.Ctx) error {
	doc, err := p.sales.Tag(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return sendDocument(c, doc)
}
