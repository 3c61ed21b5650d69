package web

import (
	"fmt"
	"html/template"
	"slices"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/api/problem"
	"foamwright/materials/drawing"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/stock"
)

// offcutsPage is the offcuts on the shelf, by foam.
type offcutsPage struct {
	Foams                 []offcutFoam
	Prices, Owner, Hands  bool
	Lot, Note, Wrong, All string // the form that was refused: whose, what was typed, what is wrong with it; with all
}

type offcutFoam struct {
	Name, Code string
	Pieces     []offcutCard
}

// offcutCard is one offcut with its picture, in one scale with the others of its foam.
type offcutCard struct {
	stock.Mind
	Picture template.HTML // made by package drawing, which escapes every text
	Area    string
	Old     bool // it lay too long
}

func (p *Pages) offcuts(c *fiber.Ctx) error { return p.showOffcuts(c, fiber.StatusOK, offcutsPage{}) }

func (p *Pages) showOffcuts(c *fiber.Ctx, status int, data offcutsPage) error {
	list, err := p.shelf.Offcuts(c.UserContext())
	if err != nil {
		return err
	}
	data.Prices, data.Owner, data.Hands = sees(c), owner(c), hands(c)
	for len(list) > 0 {
		code := list[0].Item.Code
		n := slices.IndexFunc(list, func(m stock.Mind) bool { return m.Item.Code != code })
		if n < 0 {
			n = len(list)
		}
		data.Foams = append(data.Foams, offcutFoam{list[0].Item.Name, code, offcutCards(list[:n])})
		list = list[n:]
	}
	return p.render(c, status, "offcuts", "Offcuts", "stock", data)
}

// offcutCards draws the offcuts of one foam, all lying down.
func offcutCards(list []stock.Mind) (cards []offcutCard) {
	wide, high := 0.0, 0.0
	shapes := make([]geom.Shape, len(list))
	for i, m := range list {
		shapes[i] = *m.Lot.Shape
		box := shapes[i].Outer.Bounds()
		if box.Height() > box.Width() {
			shapes[i] = geom.Region{shapes[i]}.Transform(geom.Rotate(90))[0]
		}
		wide, high = max(wide, box.Width(), box.Height()), max(high, min(box.Width(), box.Height()))
	}
	for i, m := range list {
		cards = append(cards, offcutCard{
			Mind: m, Picture: template.HTML(drawing.SVG(drawing.Offcut(lotName(m.Lot), shapes[i], wide, high))), Old: m.Late(today()),
			Area: fmt.Sprintf("%.2f\u00a0m²", geom.Region{shapes[i]}.Area()/1e6),
		})
	}
	return cards
}

// wasteOffcut throws one away, with the reason.
func (p *Pages) wasteOffcut(c *fiber.Ctx) error {
	v := values(c)
	err := p.shelf.Waste(c.UserContext(), v.Get("item"), v.Get("lot"), decimal.Zero, v.Get("note"), by(c))
	if err == nil {
		return c.Redirect("/stock/offcuts", fiber.StatusSeeOther)
	}
	status := problem.Status(err)
	data := offcutsPage{Lot: v.Get("lot"), Note: v.Get("note")}
	problems, err := problemsOf(err)
	if err != nil {
		return err
	}
	if data.Wrong = problems["note"]; data.Wrong == "" {
		// Only what is no offcut on the shelf wants a quantity.
		data.All, status = "This offcut is not on the shelf any more: it was cut or thrown away.", problem.Status(fault.New(fault.Conflict, ""))
	}
	return p.showOffcuts(c, status, data)
}
