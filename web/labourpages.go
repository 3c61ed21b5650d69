package web

import "github.com/gofiber/fiber/v2"

// registerLabour mounts the pages of steps, bench, rates and learned times. They are the owner's alone: no door is open.
func (p *Pages) registerLabour(r fiber.Router) {
	r.Get("/workshop/steps", p.steps)
	r.Get("/workshop/steps/:code", p.step)
	r.Post("/workshop/steps/:code", p.editStep)
	r.Get("/workshop/bench", p.bench)
	r.Post("/workshop/bench", p.editBench)
	r.Get("/workshop/rate", p.rate)
	r.Post("/workshop/rate", p.editRate)
	r.Get("/learned", p.learned)
	r.Post("/learned", p.takeOver)
}
