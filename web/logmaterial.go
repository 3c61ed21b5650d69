package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// takeMaterial takes what was used off the shelf, for the order alone.
func (p *Pages) takeMaterial(c *fiber.Ctx) error {
	id, t := c.Params("order"), &typing{v: values(c)}
	order, err := p.sales.Order(c.UserContext(), id)
	if err != nil {
		return err
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
	if t.problems.Empty() {
		if _, err = p.sales.Take(c.UserContext(), id, edit, used, by(c)); err == nil {
			return c.Redirect("/log/"+id+"#material", fiber.StatusSeeOther)
		}
	}
	if err != nil && fault.KindOf(err) == fault.Conflict {
		err = fault.New(fault.State, "%s", err.Error()) // shown as it was typed, with what is taken by now
	}
	return p.notYet(t, err, "", func(status int) error {
		return p.showLog(c, status, id, logPage{Form: "take", v: t.v, problems: t.byField()})
	})
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
