package guard

import (
	"foamwright/materials/fault"
	"foamwright/pricing/people"

	"github.com/gofiber/fiber/v2"
)

// Guess looks a secret up that stands in the address, unless there were too many from the same sender that were none.
// look gives NotFound for such a one. Who is refused learns nothing: it was not looked up.
func (g *Guard) Guess(c *fiber.Ctx, look func() error) error {
	from := g.address(c)
	if wait := g.guesses.wait(from, g.o.Clock(), 0); wait > 0 {
		return fault.New(fault.TooMany, "Too many requests just now; try again in a moment.").Because(people.Wait(wait))
	}
	err := look()
	if fault.KindOf(err) == fault.NotFound {
		g.guesses.take(from, g.o.Clock())
	}
	return err
}
