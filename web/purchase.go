package web

import (
	"fmt"
	"net/url"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/stock"
)

// purchasePage is what was ordered of a supplier and what of it came.
type purchasePage struct {
	stock.Purchase
	Owner    bool
	Came     bool // something was just put on the shelf
	v        url.Values
	problems map[string]string
}

func (p *Pages) purchase(c *fiber.Ctx) error {
	return p.showPurchase(c, fiber.StatusOK, purchasePage{Came: c.Query("came") != ""})
}

func (p *Pages) showPurchase(c *fiber.Ctx, status int, data purchasePage) (err error) {
	if data.Purchase, err = p.shelf.Purchase(c.UserContext(), c.Params("id")); err != nil {
		return err
	}
	data.Owner = owner(c)
	return p.render(c, status, "purchase", fmt.Sprintf("Purchase %d of %d", data.No, data.Year), "buying", data)
}

// Text is an entry as it was typed; usual stands there until then.
func (d purchasePage) Text(name, label, usual string) entry {
	e := entry{Name: name, Label: label, Value: usual, Problem: d.problems[name], ID: id(name)}
	if d.v.Has(name) {
		e.Value = d.v.Get(name)
	}
	return e
}

// Whole is what is wrong with the delivery as a whole, or with what is all here already.
func (d purchasePage) Whole() string {
	var placed []string
	for _, l := range d.Lines {
		if l.Open() > 0 && d.Closed.IsZero() {
			placed = append(placed, "packs."+l.Offer, "price."+l.Offer, "label."+l.Offer, "best."+l.Offer)
		}
	}
	return unplaced(d.problems, placed)
}

// Last tells that nothing more was said to come.
func (d purchasePage) Last() bool { return d.v.Get("last") != "" }

// arrive puts what came of a purchase on the shelf.
func (p *Pages) arrive(c *fiber.Ctx) error {
	return act(c, "", func(t *typing) (string, error) {
		purchase, err := p.shelf.Purchase(c.UserContext(), c.Params("id"))
		if err != nil {
			return "", err
		}
		var came []stock.Arrived
		for _, l := range purchase.Lines {
			a := stock.Arrived{Offer: l.Offer, Packs: t.count("packs." + l.Offer), Label: t.v.Get("label." + l.Offer), BestBefore: t.day("best." + l.Offer)}
			if had := t.count("had." + l.Offer); t.v.Has("had." + l.Offer) {
				a.Had = &had
			}
			if a.Packs != 0 {
				a.Price = t.number("price." + l.Offer)
			}
			came = append(came, a)
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		_, err = p.shelf.Arrive(c.UserContext(), purchase.ID, came, t.v.Get("last") != "", by(c))
		return "/buying/" + purchase.ID + "?came=1", err
	}, unlessChanged(func(status int, f forms) error {
		return p.showPurchase(c, status, purchasePage{v: f.v, problems: f.problems})
	}))
}

// purchaseList sends a purchase as a file of rows, for a mail or a spreadsheet.
func (p *Pages) purchaseList(c *fiber.Ctx) error {
	purchase, err := p.shelf.Purchase(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	return sendCSV(c, fmt.Sprintf("purchase-%d-%d.csv", purchase.Year, purchase.No), purchase.CSV())
}
