package web

import (
	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
)

// answerShow is what a customer sees of their parcels, and the photos that were shared with them and are no secret.
type answerShow struct {
	Parcels []sales.Parcel
	Photos  []sales.Photo
}

func (p *Pages) answerShow(c *fiber.Ctx, v visit) (s answerShow, err error) {
	if s.Parcels, err = p.sales.Parcels(c.UserContext(), v.Order.ID); err != nil {
		return s, err
	}
	all, err := p.sales.Photos(c.UserContext(), sales.PhotoOfOrder, v.Order.ID)
	for _, one := range all {
		if one.Outside(wallClock()) {
			s.Photos = append(s.Photos, one)
		}
	}
	return s, err
}

// answerPhoto sends a photo of the order to its customer: one that is not theirs to see is not there.
func (p *Pages) answerPhoto(c *fiber.Ctx, v visit) error {
	if v.Order == nil {
		return p.noSuchAnswer(c)
	}
	s, err := p.answerShow(c, v)
	if err != nil {
		return err
	}
	for _, one := range s.Photos {
		if one.ID == c.Params("id") {
			return p.sendPhoto(c, one.ID, false)
		}
	}
	return p.noSuchAnswer(c)
}
