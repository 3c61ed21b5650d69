package web

import (
	"cmp"
	"net/url"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/api/guard"
	"foamwright/pricing/figures"
	"foamwright/pricing/labour"
	"foamwright/pricing/people"
	"foamwright/pricing/workshop"
)

// whatIfPage is what a move would do. It is asked for by its address, so that it can be kept and sent around; nothing is
// changed by it.
type whatIfPage struct {
	typing            // as it is read
	typed  url.Values // as it was typed
	wrong  map[string]string
	w      workshop.Workshop
	whatIfResult
}

// whatIfResult is what came of it.
type whatIfResult struct {
	Asked, Told bool // something was asked for; the page hears what comes of it
	Move        figures.Move
	Effect      figures.Effect
	Query       string // that asks the same again
	Owner       bool
	CSRF        string
	Refused     []string // quotes that a new version could not be opened of, and why
}

// whatIfEntries are the names of the entries.
func whatIfEntries() []string {
	return []string{"foam", "materials", "item", "item_by", "rate", "group", "hours_by", "coats", "margin"}
}

// Entry is an entry as it was typed.
func (d whatIfPage) Entry(name, label string) entry {
	return entry{Name: name, Label: label, Value: d.typed.Get(name), Problem: d.wrong[name], ID: "w-" + name}
}

func (d whatIfPage) choice(name, label, none string, options []option) entry {
	e := d.Entry(name, label)
	e.Options = append([]option{{"", none}}, options...)
	if !slices.ContainsFunc(e.Options, func(o option) bool { return o.Value == e.Value }) {
		e.Options = append(e.Options, option{e.Value, e.Value}) // what was asked for is not lost
	}
	return e
}

// Item chooses one item that has a price.
func (d whatIfPage) Item() entry {
	named := map[string]string{}
	for _, f := range d.w.Figures.Catalogue.Foams {
		named[f.Code] = f.Name
	}
	for _, l := range d.w.Figures.Catalogue.Liquids {
		named[l.Code] = l.Name
	}
	for _, g := range d.w.Figures.Catalogue.Goods {
		named[g.Code] = g.Name
	}
	var items []option
	for _, price := range d.w.Figures.Prices {
		if name := named[price.Item]; name != "" {
			items = append(items, option{price.Item, name})
		}
	}
	return d.choice("item", "One item", "none", items)
}

// Group chooses a group of steps.
func (d whatIfPage) Group() entry {
	var groups []option
	for _, g := range labour.Groups(d.w.Figures.Steps) {
		groups = append(groups, option{g, labour.GroupName(g)})
	}
	return d.choice("group", "Hours of", "all the work", groups)
}

// Rate and Target are those there are.
func (d whatIfPage) Rate() string   { return d.w.Figures.Rates.Hour.StringFixed(2) }
func (d whatIfPage) Target() string { return d.w.Figures.Rates.Margin.Shift(2).String() }

// Result is what came of it.
func (d whatIfPage) Result() whatIfResult { return d.whatIfResult }

// Problems are what is wrong by entry.
func (d whatIfPage) Problems() map[string]string { return d.wrong }

// Rows are a table of what moved; the owner may act on quotes that stand.
func (d whatIfResult) Rows(all []figures.Shifted, standing bool) shiftedRows {
	return shiftedRows{all, standing && d.Owner}
}

type shiftedRows struct {
	All []figures.Shifted
	Act bool
}

// Bar is how far it is, for those who hear it.
func (d whatIfPage) Bar() string { return "/figures/what-if/told?" + d.Query }

func (p *Pages) registerWhatIf(r fiber.Router) {
	books, owner := p.guard.Require(people.Bookkeeper), p.guard.Require(people.Owner)
	r.Get("/figures/what-if", books, p.whatIf)
	r.Get("/figures/what-if/told", books, p.whatIfTold)
	r.Get("/figures/what-if.csv", books, p.whatIfCSV)
	r.Post("/figures/what-if/revise", owner, p.whatIfRevise)
}

// whatIfAsked reads what is asked for; what is wrong with it stands beside the entries.
func (p *Pages) whatIfAsked(c *fiber.Ctx, asked func(name string) string) (d whatIfPage, err error) {
	if d.w, err = p.sales.Workshop(c.UserContext()); err != nil {
		return d, err
	}
	d.v, d.typed = url.Values{}, url.Values{}
	again := url.Values{}
	for _, name := range whatIfEntries() {
		typed := visible([]byte(asked(name)))
		d.typed.Set(name, typed)
		d.v.Set(name, plainNumber(typed))
		if typed != "" {
			again.Set(name, typed)
		}
	}
	m := figures.Move{Item: d.typed.Get("item"), Group: d.typed.Get("group"), Coats: d.count("coats")}
	for name, to := range map[string]*decimal.Decimal{"foam": &m.Foam, "materials": &m.Materials, "item_by": &m.ItemBy, "rate": &m.Rate, "hours_by": &m.HoursBy, "margin": &m.Margin} {
		if d.v.Get(name) != "" {
			*to = d.number(name)
		}
	}
	// Nought is how a Move says that nothing moves: typed, it would be answered with what there is.
	if d.v.Get("rate") != "" && m.Rate.IsZero() && d.problems.Empty() {
		d.problems.Add("rate", d.typed.Get("rate"), "Write a rate above 0, or leave it empty for the one there is.")
	}
	if d.v.Get("margin") != "" && m.Margin.IsZero() && d.problems.Empty() {
		d.problems.Add("margin", d.typed.Get("margin"), "Write a percentage above 0, or leave it empty for the one there is.")
	}
	if err := d.under("", m.Check(d.w.Figures)); err != nil {
		return d, err
	}
	person, _ := guard.Person(c)
	d.Move, d.Query, d.wrong = m, again.Encode(), d.byField()
	d.Owner, d.CSRF = person.Role == people.Owner, p.guard.CSRFToken(c)
	d.Query = cmp.Or(d.Query, "today=1")
	return d, nil
}

// plainNumber is a number as people type percentages: "+12 %" is 12, and the long minus of print is one.
func plainNumber(typed string) string {
	return strings.TrimSpace(strings.TrimPrefix(strings.TrimSuffix(strings.TrimSpace(strings.ReplaceAll(typed, "−", "-")), "%"), "+"))
}

// whatIf shows the form; asked for something it answers at once, and the page hears how far it is and what comes of it.
// Without script, wait asks for the answer as a whole.
func (p *Pages) whatIf(c *fiber.Ctx) error {
	d, err := p.whatIfAsked(c, func(name string) string { return c.Query(name) })
	if err != nil {
		return err
	}
	d.Asked = c.Context().QueryArgs().Len() > 0
	switch {
	case len(d.wrong) > 0:
		return p.render(c, fiber.StatusUnprocessableEntity, "what-if", "What if", "figures", d)
	case d.Asked && c.Query("wait") == "":
		d.Told = true
	case d.Asked:
		if d.Effect, err = p.figures.WhatIf(c.UserContext(), d.Move, func(int, int) {}); err != nil {
			return err
		}
	}
	return p.render(c, fiber.StatusOK, "what-if", "What if", "figures", d)
}
