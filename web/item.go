package web

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials"
	"foamwright/materials/stock"
)

// itemPage is one item: what it is, how it keeps, who sells it, and what it cost.
type itemPage struct {
	stock.Line
	New       bool
	Family    stock.Family // of a new item, once it is chosen
	Is, Keeps []itemEntry
	Suppliers []stock.Supplier
	Currency  string
	Owner     bool
	Kept      bool
	Plot      *prices
	Charged   string // ID of the pack that estimates charge by
	forms
}

// itemEntry is one property as an entry of the form: text, one of a few, or a tick each.
type itemEntry struct {
	entry
	How   string // text, figure, choice, tick, ticks
	Ticks []entry
}

// keeping are the fields that say how an item keeps and when to buy it.
func keeping() []string {
	return []string{"least", "sealed_days", "opened_days", "coldest", "warmest", "dampest", "retired"}
}

func (p *Pages) item(c *fiber.Ctx) error {
	return p.showItem(c, fiber.StatusOK, itemPage{Kept: c.Query("kept") != ""})
}

func (p *Pages) showItem(c *fiber.Ctx, status int, data itemPage) (err error) {
	code := c.Params("code")
	data.New, data.Owner = code == "new", owner(c)
	title := "New item"
	if data.New {
		data.Family = stock.Family(c.Query("kind", data.v.Get("kind")))
		data.Item = blank(data.Family)
	} else {
		if data.Line, err = p.list.Line(c.UserContext(), code); err != nil {
			return err
		}
		title, data.Family = data.Item.Name, data.Item.Family()
	}
	if data.Suppliers, err = p.list.Suppliers(c.UserContext()); err != nil {
		return err
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	data.Currency = string(w.Figures.Rates.Currency)
	if charged, _, sold := stock.Charged(data.Offers, today()); sold {
		data.Charged = charged.ID
	}
	data.entries()
	data.Plot = pricePlot(data.Line, data.names(), today())
	return p.render(c, status, "item", title, "stock", data)
}

// blank is an item of a family before anything is known of it.
func blank(f stock.Family) stock.Item {
	switch f {
	case stock.Foam:
		return stock.Of(materials.Foam{Form: materials.Sheet})
	case stock.Liquid:
		return stock.Of(materials.Liquid{})
	case stock.Good:
		return stock.Of(materials.Good{Unit: stock.Good.Units()[0]})
	}
	return stock.Item{}
}

// entries are the item's properties as they are, or as they were typed.
func (d *itemPage) entries() {
	for _, e := range d.Item.Entries() {
		if e.Field == "kind" || e.Field == "code" && !d.New || e.Field == "unit" && (!d.New || d.Family != stock.Good) {
			continue
		}
		label := strings.ToUpper(e.Label[:1]) + e.Label[1:]
		out := itemEntry{entry: d.Text("item", e.Field, label, e.Value), How: "figure"}
		switch e.Field {
		case "code", "name", "colour", "swatch":
			out.How = "text"
		case "textured", "unsanded", "retired":
			out.How = "tick"
		case "form":
			choose(&out, materials.Sheet, materials.Mat, materials.Roll)
		case "sets":
			out.How, out.Options = "choice", []option{{"", "as the step of filling says"}, {"air", "warmth and damp: water dries"}, {"warmth", "warmth alone"}, {"itself", "neither: it cools"}}
		case "unit":
			choose(&out, d.Family.Units()...)
		case "use":
			out.Options = []option{{"", "only when it is asked for"}}
			if d.Family == stock.Liquid {
				choose(&out, stock.LiquidUses()...)
			} else {
				choose(&out, stock.GoodUses()...)
			}
		case "flags":
			out.How = "ticks"
			typed := strings.Fields(out.Value)
			if d.Form == "item" {
				typed = d.v["flags"]
			}
			for _, f := range stock.Flags() {
				tick := entry{Name: "flags", Label: flagWords(f), Hint: string(f), ID: "flag-" + string(f)}
				if slices.Contains(typed, string(f)) {
					tick.Value = "yes"
				}
				out.Ticks = append(out.Ticks, tick)
			}
		}
		if slices.Contains(keeping(), e.Field) {
			d.Keeps = append(d.Keeps, out)
		} else {
			d.Is = append(d.Is, out)
		}
	}
}

// choose lets one of a few be chosen.
func choose[T ~string](e *itemEntry, of ...T) {
	e.How = "choice"
	for _, o := range of {
		e.Options = append(e.Options, option{string(o), string(o)})
	}
}

// flagWords say what a flag warns of.
func flagWords(f materials.Flag) string {
	switch f {
	case materials.Solvent:
		return "flammable solvent vapour"
	case materials.Rubber:
		return "natural rubber latex"
	case materials.Copper:
		return "copper: damages latex"
	case materials.Oil:
		return "oil: damages latex"
	}
	return string(f)
}

// Seller chooses the supplier of a pack.
func (d itemPage) Seller(form, usual string) entry {
	e := d.Text(form, "supplier", "Supplier", usual)
	if usual == "" {
		e.Options = []option{{"", "choose"}}
	}
	for _, s := range d.Suppliers {
		e.Options = append(e.Options, option{s.ID, s.Name})
	}
	return e
}

// From is a supplier's name.
func (d itemPage) From(supplier string) string { return d.names()[supplier] }

func (d itemPage) names() map[string]string {
	names := map[string]string{}
	for _, s := range d.Suppliers {
		names[s.ID] = s.Name
	}
	return names
}

// Now is the price of a pack today.
func (d itemPage) Now(o stock.Offer) *stock.Price {
	if p, ok := o.On(today()); ok {
		return &p
	}
	return nil
}

// Edit is the count that a form was shown with: what was refused because somebody else saved stays refused until the
// page is loaded again.
func (d itemPage) Edit(form string, now int) string {
	if form == d.Form && d.v.Get("edit") != "" {
		return d.v.Get("edit")
	}
	return strconv.Itoa(now)
}

// Flags are what the item warns of.
func (d itemPage) Flags() []string {
	if d.Item.Liquid == nil {
		return nil
	}
	var words []string
	for _, f := range d.Item.Liquid.Flags {
		words = append(words, flagWords(f))
	}
	return words
}

// keepItem keeps what an item is; what cannot be kept comes back as typed.
func (p *Pages) keepItem(c *fiber.Ctx) error {
	return p.itemAct(c, "item", func(t *typing) (string, error) {
		code, kind := c.Params("code"), stock.Family(t.v.Get("kind"))
		var there stock.Item
		if code == "new" {
			code = strings.TrimSpace(t.v.Get("code"))
		} else {
			line, err := p.list.Line(c.UserContext(), code)
			if err != nil {
				return "", err
			}
			there, kind = line.Item, line.Item.Family()
			there.Edit, _ = strconv.Atoi(t.v.Get("edit"))
		}
		item, err := stock.ItemOf(itemTyped(t.v, code, kind, there), there)
		if err == nil {
			item, err = p.list.KeepItem(c.UserContext(), item)
		}
		return place(item.Code) + "?kept=1", err
	})
}

// itemTyped are the properties of an item of a kind as they were typed.
func itemTyped(v url.Values, code string, kind stock.Family, there stock.Item) map[string]string {
	written := map[string]string{}
	for _, e := range blank(kind).Entries() {
		written[e.Field] = v.Get(e.Field)
		if e.Field != "name" && e.Field != "colour" { // figures are typed with a comma, too
			written[e.Field] = strings.Replace(written[e.Field], ",", ".", 1)
		}
	}
	written["code"], written["kind"], written["flags"] = code, string(kind), strings.Join(v["flags"], " ")
	if there.Edit > 0 {
		written["unit"] = string(there.Unit)
	} else if kind != stock.Good && kind != "" {
		written["unit"] = string(kind.Units()[0])
	}
	if kind != stock.Liquid {
		delete(written, "flags")
	}
	return written
}

// itemAct runs a form of the item's page.
func (p *Pages) itemAct(c *fiber.Ctx, form string, do func(t *typing) (to string, err error)) error {
	return act(c, form, do, func(_ int, f forms) error {
		return p.showItem(c, fiber.StatusUnprocessableEntity, itemPage{forms: f})
	})
}

// keepPack adds or changes a pack; a new one comes with its price.
func (p *Pages) keepPack(c *fiber.Ctx) error {
	id := c.Params("id")
	return p.itemAct(c, "pack-"+id, func(t *typing) (string, error) {
		to := place(c.Params("code")) + "?kept=1#packs"
		o := stock.Offer{Item: c.Params("code"), Supplier: t.v.Get("supplier"), Article: t.v.Get("article"), Usual: t.v.Get("usual") != "", Retired: t.v.Get("retired") != "", Pack: t.number("pack")}
		if o.Supplier == "" {
			t.problems.Add("supplier", "", "Choose who sells it.")
		}
		if id != "new" {
			o.ID, o.Edit = id, t.count("edit")
			if err := t.problems.Err(); err != nil {
				return "", err
			}
			_, err := p.list.KeepOffer(c.UserContext(), o)
			return to, err
		}
		price := t.price()
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		_, err := p.list.KeepPack(c.UserContext(), o, price, by(c))
		return to, err
	})
}

// price reads what a pack costs from a day on.
func (t *typing) price() stock.Price {
	price := stock.Price{Amount: t.number("amount"), From: t.day("from")}
	if price.From.IsZero() {
		t.problems.Add("from", "", "Write from which day on.")
	}
	return price
}

// notePrice adds what a pack costs from a day on.
func (p *Pages) notePrice(c *fiber.Ctx) error {
	return p.itemAct(c, "price-"+c.Params("id"), func(t *typing) (string, error) {
		price := t.price()
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		return place(c.Params("code")) + "?kept=1#packs", p.list.NotePrice(c.UserContext(), c.Params("id"), price, by(c))
	})
}
