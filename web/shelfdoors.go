package web

import (
	"net/url"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/pricing/people"
)

// shelfDoors are who may open the pages of the shelf and of orders: the helper works at the shelf and sees no
// amounts, the bookkeeper looks on.
func shelfDoors() []guard.Door {
	return []guard.Door{
		guard.For("/today", people.Roles()...), guard.For("/stock", people.Roles()...), guard.For("/orders", people.Roles()...),
		guard.For("/days", people.Roles()...),
		guard.For("/buying", people.Bookkeeper),
	}
}

// registerShelf mounts the pages of the shelf and of orders. It comes after what lies below /stock by name, since
// there an item's code may stand.
func (p *Pages) registerShelf(r fiber.Router) {
	owner, hands := p.guard.Require(people.Owner), p.guard.Require(people.Helper)
	r.Get("/today", p.today)

	r.Get("/stock", p.stock)
	r.Get("/stock/count", hands, p.countSheet)
	r.Post("/stock/count", hands, p.postCount)
	r.Get("/stock/:code", p.stockCard)
	r.Post("/stock/:code/receive", owner, p.receive)
	r.Post("/stock/:code/waste", hands, p.waste)
	r.Post("/stock/:code/return", owner, p.bringBack)
	r.Post("/stock/:code/lots/:lot", hands, p.markLot)

	r.Get("/buying", p.buying)
	r.Post("/buying", owner, p.noteOrder)
	r.Get("/buying/:id", p.purchase)
	r.Post("/buying/:id", owner, p.arrive)
	r.Get("/buying/:id/list.csv", p.purchaseList)

	r.Post("/quotes/:id/accept", owner, p.accept)
	r.Get("/orders", p.orders)
	r.Get("/orders/:id", p.order)
	r.Post("/orders/:id/pay", owner, p.payOrder)
	r.Post("/orders/:id/start", owner, p.startOrder)
	r.Post("/orders/:id/replan", owner, p.replan)
	r.Get("/orders/:id/sheet.pdf", hands, p.jobSheet)
	r.Get("/days", p.daysPage)
	r.Post("/orders/:id/cancel", owner, p.cancelOrder)
	r.Post("/orders/:id/finish", owner, p.finishOrder)
	p.registerMade(r, owner, hands)

	// Where a form that came back was posted to, a reader who loads the address finds the page it stands on.
	for _, act := range []string{"receive", "waste", "return", "lots/:lot"} {
		r.Get("/stock/:code/"+act, backTo("/stock/", "code"))
	}
	for _, act := range []string{"pay", "start", "replan", "cancel", "finish"} {
		r.Get("/orders/:id/"+act, backTo("/orders/", "id"))
	}
}

// backTo leads to the page of what an address names.
func backTo(page, name string) fiber.Handler {
	return func(c *fiber.Ctx) error {
		return c.Redirect(page+url.PathEscape(c.Params(name)), fiber.StatusSeeOther)
	}
}
