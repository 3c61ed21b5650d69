package web

import (
	"net/url"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// waitingPage is who waits for a free bench.
type waitingPage struct {
	List      []sales.Waiting
	Over      []sales.Waiting
	Customers []sales.Customer
	Full      string // that no new order is begun before a day
	Turn      *sales.Turn
	Typed     url.Values
	Problems  map[string]string
	Ending    string // the entry whose reason was refused
}

func (p *Pages) waiting(c *fiber.Ctx) error {
	return p.showWaiting(c, fiber.StatusOK, waitingPage{})
}

func (p *Pages) showWaiting(c *fiber.Ctx, status int, d waitingPage) (err error) {
	ctx := c.UserContext()
	if d.List, err = p.sales.WaitingList(ctx, false); err != nil {
		return err
	}
	if d.Over, err = p.sales.WaitingList(ctx, true); err != nil {
		return err
	}
	if d.Customers, err = p.sales.Customers(ctx, sales.Found{}); err != nil {
		return err
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	d.Full = w.FullIn(words.Tongue{}, wallClock())
	turn, free, err := p.sales.Next(ctx)
	if err != nil {
		return err
	}
	if free {
		d.Turn = &turn
	}
	return p.render(c, status, "waiting", "Waiting list", "quotes", d)
}

// wait puts somebody on the list, by hand or from their enquiry.
func (p *Pages) wait(c *fiber.Ctx) error {
	return act(c, "", func(t *typing) (string, error) {
		w := sales.Waiting{CustomerID: t.v.Get("customer"), Who: t.v.Get("who"), Wish: t.v.Get("wish"), Since: t.day("since"), Note: t.v.Get("note"), EnquiryID: t.v.Get("enquiry")}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		_, err := p.sales.Wait(c.UserContext(), w, by(c))
		return "/waiting", err
	}, func(status int, f forms) error {
		return p.showWaiting(c, status, waitingPage{Typed: f.v, Problems: f.problems})
	})
}

func (p *Pages) endWait(c *fiber.Ctx) error {
	return act(c, c.Params("id"), func(t *typing) (string, error) {
		return "/waiting", p.sales.EndWait(c.UserContext(), c.Params("id"), t.v.Get("reason"))
	}, func(status int, f forms) error {
		return p.showWaiting(c, status, waitingPage{Problems: f.problems, Ending: f.Form})
	})
}
