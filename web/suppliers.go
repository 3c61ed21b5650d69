package web

import (
	"net/url"
	"strconv"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/stock"
)

// suppliersPage is who sells what.
type suppliersPage struct {
	Suppliers []stock.Supplier
	Packs     map[string]int
	Owner     bool
}

func (p *Pages) suppliers(c *fiber.Ctx) error {
	list, err := p.list.InForce(c.UserContext(), today())
	if err != nil {
		return err
	}
	suppliers, err := p.list.Suppliers(c.UserContext())
	if err != nil {
		return err
	}
	data := suppliersPage{Suppliers: suppliers, Packs: map[string]int{}, Owner: owner(c)}
	for _, o := range list.Offers {
		data.Packs[o.Supplier]++
	}
	return p.render(c, fiber.StatusOK, "suppliers", "Suppliers", "stock", data)
}

// supplierPage is one supplier and what they sell.
type supplierPage struct {
	stock.Supplier
	Sold     []supplierRow
	Currency string
	New      bool
	Owner    bool
	Kept     bool
	Lead     string // days, as typed
	Count    string // of edits, as the form was shown with
	Problems map[string]string
}

type supplierRow struct {
	stock.Offer
	Item  stock.Item
	Price *stock.Price
}

func (p *Pages) supplier(c *fiber.Ctx) error {
	return p.showSupplier(c, fiber.StatusOK, nil, supplierPage{Kept: c.Query("kept") != "", Problems: map[string]string{}})
}

func (p *Pages) showSupplier(c *fiber.Ctx, status int, typed url.Values, data supplierPage) error {
	data.New, data.Owner = c.Params("id") == "new", owner(c)
	title := "New supplier"
	if !data.New {
		supplier, sold, err := p.list.Supplier(c.UserContext(), c.Params("id"))
		if err != nil {
			return err
		}
		list, err := p.list.InForce(c.UserContext(), today())
		if err != nil {
			return err
		}
		items := map[string]stock.Item{}
		for _, i := range list.Items {
			items[i.Code] = i
		}
		data.Supplier, title = supplier, supplier.Name
		for _, o := range sold {
			row := supplierRow{Offer: o, Item: items[o.Item]}
			if price, ok := o.On(today()); ok {
				row.Price = &price
			}
			data.Sold = append(data.Sold, row)
		}
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	data.Currency, data.Lead = string(w.Figures.Rates.Currency), strconv.Itoa(data.LeadDays)
	data.Count = strconv.Itoa(data.Edit)
	if typed != nil {
		data.Name, data.Email, data.Note, data.Lead = typed.Get("name"), typed.Get("email"), typed.Get("note"), typed.Get("lead_days")
		data.Count = typed.Get("edit")
	}
	return p.render(c, status, "supplier", title, "stock", data)
}

func (p *Pages) keepSupplier(c *fiber.Ctx) error {
	return act(c, "", func(t *typing) (string, error) {
		s := stock.Supplier{Name: t.v.Get("name"), Email: t.v.Get("email"), Note: t.v.Get("note"), LeadDays: t.count("lead_days")}
		if c.Params("id") != "new" {
			s.ID, s.Edit = c.Params("id"), t.count("edit")
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		s, err := p.list.KeepSupplier(c.UserContext(), s)
		return "/stock/suppliers/" + s.ID + "?kept=1", err
	}, func(_ int, f forms) error {
		return p.showSupplier(c, fiber.StatusUnprocessableEntity, f.v, supplierPage{Problems: f.problems})
	})
}
