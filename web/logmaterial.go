package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// takeMaterial takes what was used off the shelf, for the order alone.
func (p *Pages) takeMaterial(c *fiber.Ctx) error {
	id := c.Params("order")
	return act(c, "take", func(t *typing) (string, error) {
		order, err := p.sales.Order(c.UserContext(), id)
		if err != nil {
			return "", err
		}
		var used []stock.Used
		for _, k := range takes(order) {
			if field := "used." + k.Item; k.Unit != "" && strings.TrimSpace(t.v.Get(field)) != "" {
				used = append(used, stock.Used{Item: k.Item, Quantity: t.number(field)})
			}
		}
		edit := t.count("edit")
		if len(used) == 0 {
			t.problems.Add("", "", "Write how much was used of at least one material.")
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		_, err = p.sales.Take(c.UserContext(), id, edit, used, by(c))
		return "/log/" + id + "#material", err
	}, func(status int, f forms) error { return p.showLog(c, status, id, logPage{forms: f}) })
}

// Booked tells that material may be taken for the order.
func (d logPage) Booked() bool { return d.Order.State == sales.Booked }

// Use is where one writes how much of a material was used: it says what is left of what the quote reckons.
func (d logPage) Use(k taking) entry {
	label := k.Name + ": " + quantity(k.Left, k.Unit) + " left of " + quantity(k.Reckoned, k.Unit)
	if k.Up.IsPositive() {
		label += ", " + quantity(k.Up, k.Unit) + " taken"
	}
	return d.Entry("take", "used."+k.Item, label, "")
}
