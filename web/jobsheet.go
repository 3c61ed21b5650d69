package web

import "github.com/gofiber/fiber/v2"

// jobSheet sends an order's sheet for the bench, with the plan as it stands now.
func (p *Pages) jobSheet(c *fiber.Ctx) error {
	doc, err := p.sales.JobSheet(c.UserContext(), c.Params("id"), p.reached(c)+"/log/"+c.Params("id"))
	if err != nil {
		return err
	}
	c.Set(fiber.HeaderCacheControl, "no-store")
	c.Set(fiber.HeaderContentType, "application/pdf")
	c.Set(fiber.HeaderContentDisposition, `inline; filename="`+doc.Name+`"`)
	return c.Send(doc.Bytes)
}
