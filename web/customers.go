package web

import (
	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
)

type customerPage struct {
	Customer sales.Customer
	Quotes   []sales.Quote
	Problems map[string]string
}

func (p *Pages) customers(c *fiber.Ctx) error {
	list, err := p.sales.Customers(c.UserContext(), sales.Found{Words: c.Query("words")})
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "customers", "Customers", "customers", list)
}

// customer is one customer to read and change, or "new" to add one.
func (p *Pages) customer(c *fiber.Ctx) error {
	data := customerPage{Customer: sales.Customer{ID: "new"}}
	title := "New customer"
	if id := c.Params("id"); id != "new" {
		kept, err := p.sales.Customer(c.UserContext(), id)
		if err != nil {
			return err
		}
		data.Customer, title = kept, kept.Name
		if data.Quotes, err = p.sales.Quotes(c.UserContext(), sales.Found{Customer: id}); err != nil {
			return err
		}
	}
	return p.render(c, fiber.StatusOK, "customer", title, "customers", data)
}

func (p *Pages) editCustomer(c *fiber.Ctx) error {
	v := values(c)
	typed := sales.Customer{Name: v.Get("name"), Email: v.Get("email"), Phone: v.Get("phone"), Address: v.Get("address"), Note: v.Get("note")}
	if id := c.Params("id"); id != "new" {
		kept, err := p.sales.Customer(c.UserContext(), id)
		if err != nil {
			return err
		}
		typed.ID = kept.ID
	}
	kept, err := p.sales.KeepCustomer(c.UserContext(), typed)
	if err == nil {
		return c.Redirect("/customers/"+kept.ID, fiber.StatusSeeOther)
	}
	problems, err := problemsOf(err)
	if err != nil {
		return err
	}
	if typed.ID == "" {
		typed.ID = "new"
	}
	return p.render(c, fiber.StatusUnprocessableEntity, "customer", "Customer", "customers", customerPage{Customer: typed, Problems: problems})
}
