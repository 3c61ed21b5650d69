package web

import (
	"net/url"
	"strconv"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/materials/stock"
)

// mostShelf is how many items a page of the shelf shows.
const mostShelf = 200

// shelfPage is what is on the shelf, by section.
type shelfPage struct {
	Sections []shelfSection
	Words    string
	Prices   bool // amounts of money are shown
	Owner    bool
	Next     string // address of the following items; empty after the last
}

type shelfSection struct {
	Name stock.Section
	Rows []stock.Row
}

// sees tells whether amounts of money are shown to whoever asks.
func sees(c *fiber.Ctx) bool {
	person, ok := guard.Person(c)
	return ok && person.Role.SeesPrices()
}

func (p *Pages) stock(c *fiber.Ctx) error {
	f := stock.Found{Words: c.Query("words"), Most: mostShelf, Skip: max(0, c.QueryInt("from"))}
	rows, err := p.shelf.List(c.UserContext(), f)
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "stock", "Stock", "stock",
		shelfPage{Sections: inSections(rows), Words: f.Words, Prices: sees(c), Owner: owner(c), Next: next("/stock", f, len(rows))})
}

// inSections sorts rows into the sections of the shelf, each in the order they came.
func inSections(rows []stock.Row) []shelfSection {
	of := map[stock.Section][]stock.Row{}
	for _, r := range rows {
		of[r.Item.Section()] = append(of[r.Item.Section()], r)
	}
	var all []shelfSection
	for _, name := range stock.Sections() {
		if len(of[name]) > 0 {
			all = append(all, shelfSection{name, of[name]})
		}
	}
	return all
}

// next is where the items after these are listed.
func next(path string, f stock.Found, shown int) string {
	if shown < f.Most {
		return ""
	}
	q := url.Values{"from": {strconv.Itoa(f.Skip + shown)}}
	if f.Words != "" {
		q.Set("words", f.Words)
	}
	return path + "?" + q.Encode()
}
