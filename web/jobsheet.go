package web

import "github.com/gofiber/fiber/v2"

// jobSheet is an order's sheet for the bench.
func (p *Pages) jobSheet(c *fiber.Ctx) error {
	return fiber.ErrNotFound
}
