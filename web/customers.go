package web

import (
	"cmp"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

type customerPage struct {
	Customer sales.Customer
	Quotes   []sales.Quote
	Problems map[string]string
}

// Language chooses what documents are written in.
func (d customerPage) Language() entry {
	e := entry{Name: "language", Label: "Documents in", Value: words.Speak(d.Customer.Language).Code(), Problem: d.Problems["customer.language"], ID: id("language")}
	for _, t := range words.Tongues() {
		e.Options = append(e.Options, option{t.Code(), t.Name()})
	}
	return e
}

// Treatment chooses how tax is charged.
func (d customerPage) Treatment() entry {
	e := entry{Name: "treatment", Label: "Tax", Value: string(d.Customer.Treatment), Problem: d.Problems["customer.treatment"], ID: id("treatment")}
	said := map[tax.Treatment]string{
		tax.AsUsual: "as usual", tax.ReverseCharge: "reverse charge", tax.Export: "none: export", tax.Exempt: "none: exempt",
	}
	for _, t := range tax.Treatments() {
		e.Options = append(e.Options, option{string(t), said[t]})
	}
	return e.keep()
}

func (p *Pages) customers(c *fiber.Ctx) error {
	list, err := p.sales.Customers(c.UserContext(), sales.Found{Words: c.Query("words")})
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "customers", "Customers", "quotes", list)
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
	return p.render(c, fiber.StatusOK, "customer", title, "quotes", data)
}

func (p *Pages) editCustomer(c *fiber.Ctx) error {
	v := values(c)
	typed := sales.Customer{
		Name: v.Get("name"), Email: v.Get("email"), Phone: v.Get("phone"), Address: v.Get("address"), Note: v.Get("note"),
		Language: v.Get("language"), Business: v.Get("business") != "", TaxNumber: v.Get("tax_number"), Country: v.Get("country"),
		Treatment: tax.Treatment(v.Get("treatment")), PayFirst: v.Get("pay_first") != "",
	}
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
	typed.ID = cmp.Or(typed.ID, "new")
	return p.render(c, fiber.StatusUnprocessableEntity, "customer", "Customer", "quotes", customerPage{Customer: typed, Problems: problems})
}
