package web

import (
	"net/url"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/figures"
	"foamwright/pricing/people"
)

// whatIfPage is what a move would do. It is asked for by its address, so that it can be kept and sent around; nothing is
// changed by it.
type whatIfPage struct {
	typing
	Asked   bool
	Below   []figures.Shifted // the margin aimed at
	Others  []figures.Shifted
	Skipped []figures.Skipped
	Target  string
	Rate    string // the shop rate there is
	Items   []option
	wrong   map[string]string
}

// Entry is an entry as it was typed.
func (d whatIfPage) Entry(name, label string) entry {
	return entry{Name: name, Label: label, Value: d.v.Get(name), Problem: d.wrong[name], ID: "w-" + name}
}

// Item chooses one item.
func (d whatIfPage) Item() entry {
	e := d.Entry("item", "One item")
	e.Options = append([]option{{"", "none"}}, d.Items...)
	return e
}

func (p *Pages) registerWhatIf(r fiber.Router) {
	books := p.guard.Require(people.Bookkeeper)
	r.Get("/figures/what-if", books, p.whatIf)
}

func (p *Pages) whatIf(c *fiber.Ctx) error {
	ctx := c.UserContext()
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	d := whatIfPage{Target: figures.Margin{Share: w.Figures.Rates.Margin}.Percent(), Rate: w.Figures.Rates.Hour.String()}
	d.v = url.Values{}
	for _, name := range []string{"foam", "materials", "item", "item_by", "rate", "coats"} {
		d.v.Set(name, visible([]byte(c.Query(name))))
	}
	named := map[string]string{}
	for _, f := range w.Figures.Catalogue.Foams {
		named[f.Code] = f.Name
	}
	for _, l := range w.Figures.Catalogue.Liquids {
		named[l.Code] = l.Name
	}
	for _, g := range w.Figures.Catalogue.Goods {
		named[g.Code] = g.Name
	}
	for _, price := range w.Figures.Prices {
		if name := named[price.Item]; name != "" {
			d.Items = append(d.Items, option{price.Item, name})
		}
	}
	m := figures.Move{Item: d.v.Get("item"), Coats: d.count("coats")}
	for name, at := range map[string]func(){
		"foam": func() { m.Foam = d.number("foam") }, "materials": func() { m.Materials = d.number("materials") },
		"item_by": func() { m.ItemBy = d.number("item_by") }, "rate": func() { m.Rate = d.number("rate") },
	} {
		if strings.TrimSpace(d.v.Get(name)) != "" {
			at()
		}
	}
	status := fiber.StatusOK
	if d.Asked = !m.Nothing(); d.Asked && d.problems.Empty() {
		all, skipped, err := p.figures.WhatIf(ctx, m, func(int, int) {})
		if err := d.under("", err); err != nil {
			return err
		}
		d.Skipped = skipped
		for _, s := range all {
			if s.Below {
				d.Below = append(d.Below, s)
			} else {
				d.Others = append(d.Others, s)
			}
		}
	}
	if d.wrong = d.byField(); len(d.wrong) > 0 {
		status = fiber.StatusUnprocessableEntity
	}
	return p.render(c, status, "what-if", "What if", "figures", d)
}
