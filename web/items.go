package web

import (
	"context"
	"io"
	"net/url"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/people"
)

// catalogueDoors are the paths of the catalogue that others than the owner may open: prices are no helper's business.
func catalogueDoors() []guard.Door {
	return []guard.Door{guard.For("/stock/items", people.Bookkeeper), guard.For("/stock/prices.csv", people.Bookkeeper), guard.For("/stock/items.csv", people.Bookkeeper), guard.For("/stock/suppliers", people.Bookkeeper)}
}

// registerCatalogue mounts items, suppliers and their prices.
func (p *Pages) registerCatalogue(r fiber.Router) {
	owner := p.guard.Require(people.Owner)
	r.Get("/stock/items.csv", p.file("items", p.list.ItemsCSV))
	r.Get("/stock/prices.csv", p.file("prices", p.list.PricesCSV))
	r.Get("/stock/items", p.items)
	r.Post("/stock/items", owner, p.bringIn)
	r.Get("/stock/items/:code", p.item)
	r.Post("/stock/items/:code", owner, p.keepItem)
	r.Post("/stock/items/:code/packs/:id", owner, p.keepPack)
	r.Post("/stock/items/:code/packs/:id/price", owner, p.notePrice)
	r.Get("/stock/suppliers", p.suppliers)
	r.Get("/stock/suppliers/:id", p.supplier)
	r.Post("/stock/suppliers/:id", owner, p.keepSupplier)
}

// mostItems is how many lines of the catalogue a page shows.
const mostItems = 300

// itemsPage is the catalogue by section.
type itemsPage struct {
	Sections []itemsSection
	Words    string
	Currency string
	Owner    bool
	More     int // items that are found and not shown
	Kind     string
	Outcome  *stock.Outcome // of a file that was brought in or checked
	Checked  bool
	Wrong    []fault.Problem // of a file that was refused
}

type itemsSection struct {
	Name stock.Section
	Rows []itemsRow
}

// itemsRow is an item with the pack that estimates charge it by.
type itemsRow struct {
	stock.Item
	Offer stock.Offer
	Price stock.Price
	Sold  bool
	Packs int
}

// place is an item's page.
func place(code string) string { return "/stock/items/" + url.PathEscape(code) }

func (p *Pages) items(c *fiber.Ctx) error {
	return p.showItems(c, fiber.StatusOK, itemsPage{})
}

func (p *Pages) showItems(c *fiber.Ctx, status int, data itemsPage) error {
	list, err := p.list.InForce(c.UserContext(), today())
	if err != nil {
		return err
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	data.Words, data.Currency, data.Owner = c.Query("words"), string(w.Figures.Rates.Currency), owner(c)
	packs := map[string][]stock.Offer{}
	for _, o := range list.Offers {
		packs[o.Item] = append(packs[o.Item], o)
	}
	of, shown := map[stock.Section][]itemsRow{}, 0
	for _, i := range list.Items {
		if !i.Matches(data.Words) {
			continue
		}
		if shown++; shown > mostItems {
			data.More++
			continue
		}
		row := itemsRow{Item: i, Packs: len(packs[i.Code])}
		row.Offer, row.Price, row.Sold = stock.Charged(packs[i.Code], today())
		of[i.Section()] = append(of[i.Section()], row)
	}
	for _, name := range stock.Sections() {
		if len(of[name]) > 0 {
			data.Sections = append(data.Sections, itemsSection{name, of[name]})
		}
	}
	return p.render(c, status, "items", "Catalogue", "stock", data)
}

// file sends a CSV file.
func (p *Pages) file(name string, read func(context.Context) ([]byte, error)) fiber.Handler {
	return func(c *fiber.Ctx) error {
		data, err := read(c.UserContext())
		if err != nil {
			return err
		}
		return sendCSV(c, name+".csv", data)
	}
}

// bringIn takes a file of items or prices: all of it or nothing, and what is wrong by row and column.
func (p *Pages) bringIn(c *fiber.Ctx) error {
	data := itemsPage{Kind: c.FormValue("kind"), Checked: c.FormValue("do") == "check"}
	sent, err := uploaded(c)
	if err == nil {
		var out stock.Outcome
		if data.Kind == "prices" {
			out, err = p.list.ImportPrices(c.UserContext(), sent, by(c), data.Checked)
		} else {
			out, err = p.list.ImportItems(c.UserContext(), sent, data.Checked)
		}
		if err == nil {
			data.Outcome = &out
			return p.showItems(c, fiber.StatusOK, data)
		}
	}
	switch fault.KindOf(err) {
	case fault.Invalid, fault.TooLarge, fault.Conflict:
		data.Wrong = fault.ProblemsOf(err)
		return p.showItems(c, fiber.StatusUnprocessableEntity, data)
	}
	return err
}

// uploaded is the file of a form, up to just over what is read of it.
func uploaded(c *fiber.Ctx) ([]byte, error) {
	header, err := c.FormFile("file")
	if err != nil || header.Size == 0 {
		return nil, fault.New(fault.Invalid, "Choose a file first.")
	}
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, stock.MaxCSV+1))
}
