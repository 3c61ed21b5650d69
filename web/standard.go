package web

import (
	"fmt"
	"html/template"
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"foamwright/pricing/money"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

func (p *Pages) registerStandard(r fiber.Router) {
	owner := p.guard.Require(people.Owner)
	r.Get("/standard", owner, p.standard)
	r.Post("/standard/price", owner, p.setStandard)
	r.Get("/standard/price-list.pdf", owner, p.priceListFile)
	r.Post("/standard/ready", owner, p.addReady)
	r.Post("/standard/ready/:id/move", owner, p.moveReady)
	r.Post("/standard/ready/:id/drop", owner, p.dropReady)
	r.Post("/standard/ready/:id/sell", owner, p.sell)
}

// standardPage is the price list, the finished shields that lie ready, and what was sold.
type standardPage struct {
	forms
	sales.PriceList
	Here, Gone                 []sales.Ready
	Designs, Orders, Customers []option
	Events                     []option // now or soon
	Token                      string   // of the next sale
	Currency                   money.Currency
}

// Face is a picture as markup.
func (standardPage) Face(svg string) template.HTML { return template.HTML(svg) } // made by package drawing, which escapes every text

// Asked is what a finished shield costs today; nothing where its design is not on the list.
func (d standardPage) Asked(design string) *money.Amount {
	for _, l := range d.List {
		if l.Design.ID == design {
			return &l.Price
		}
	}
	return nil
}

// Tongues are those a list can be printed in.
func (standardPage) Tongues() []words.Tongue { return words.Tongues() }

// Ways are how it may be paid, cash first: it is a show.
func (standardPage) Ways() []option {
	all := []option{{string(sales.ByCash), "cash"}}
	for _, w := range sales.Ways() {
		if w != sales.ByCash {
			all = append(all, option{string(w), string(w)})
		}
	}
	return all
}

func (p *Pages) standard(c *fiber.Ctx) error {
	return p.showStandard(c, fiber.StatusOK, standardPage{})
}

func (p *Pages) showStandard(c *fiber.Ctx, status int, d standardPage) (err error) {
	ctx := c.UserContext()
	if d.PriceList, err = p.sales.PriceList(ctx, today(), words.Tongue{}); err != nil {
		return err
	}
	if d.Here, err = p.sales.ReadyShields(ctx, false); err != nil {
		return err
	}
	if d.Gone, err = p.sales.ReadyShields(ctx, true); err != nil {
		return err
	}
	designs, err := p.sales.Designs(ctx)
	if err != nil {
		return err
	}
	for _, one := range designs {
		d.Designs = append(d.Designs, option{one.ID, one.Name})
	}
	if d.Orders, err = p.madeOptions(c); err != nil {
		return err
	}
	if d.Customers, err = p.customerOptions(c); err != nil {
		return err
	}
	if d.Events, err = p.eventOptions(c); err != nil {
		return err
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	d.Token, d.Currency = uuid.NewString(), w.Figures.Rates.Currency
	return p.render(c, status, "standard", "Standard shields", "designs", d)
}

// eventOptions are the events that are not over.
func (p *Pages) eventOptions(c *fiber.Ctx) (all []option, err error) {
	list, err := p.sales.Events(c.UserContext())
	for _, e := range list {
		if !e.Over(wallClock()) {
			all = append(all, option{e.ID, e.Name + ", " + e.First.Format("2 January 2006")})
		}
	}
	return all, err
}

// standardAct runs a form of the page.
func (p *Pages) standardAct(c *fiber.Ctx, form string, do func(t *typing) (to string, err error)) error {
	return act(c, form, do, func(status int, f forms) error { return p.showStandard(c, status, standardPage{forms: f}) })
}

func (p *Pages) setStandard(c *fiber.Ctx) error {
	return p.standardAct(c, "price", func(t *typing) (string, error) {
		from, price := t.day("from"), t.number("price")
		if t.v.Get("design") == "" {
			t.problems.Add("design", "", "Choose which design.")
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		return "/standard", p.sales.SetStandard(c.UserContext(), t.v.Get("design"), from, price, by(c))
	})
}

// priceListFile prints the list of a day.
func (p *Pages) priceListFile(c *fiber.Ctx) error {
	day := today()
	if d, err := time.Parse(time.DateOnly, c.Query("day")); err == nil {
		day = d
	}
	doc, err := p.sales.PrintPriceList(c.UserContext(), day, words.Speak(c.Query("in")))
	if err != nil {
		return err
	}
	return sendDocument(c, doc)
}

func (p *Pages) addReady(c *fiber.Ctx) error {
	return p.standardAct(c, "ready", func(t *typing) (string, error) {
		r := sales.Ready{DesignID: t.v.Get("design"), Place: t.v.Get("place"), Note: t.v.Get("note"), MadeBy: t.v.Get("order")}
		count, cost := t.count("count"), t.maybe("cost")
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		return "/standard", p.sales.AddReady(c.UserContext(), r, count, cost, by(c))
	})
}

func (p *Pages) moveReady(c *fiber.Ctx) error {
	return p.standardAct(c, "move-"+c.Params("id"), func(t *typing) (string, error) {
		return "/standard", p.sales.MoveReady(c.UserContext(), c.Params("id"), t.v.Get("place"), t.v.Get("note"))
	})
}

func (p *Pages) dropReady(c *fiber.Ctx) error {
	return p.standardAct(c, "drop-"+c.Params("id"), func(t *typing) (string, error) {
		return "/standard", p.sales.DropReady(c.UserContext(), c.Params("id"), t.v.Get("reason"))
	})
}

// sell sells a finished shield, and shows its invoice.
func (p *Pages) sell(c *fiber.Ctx) error {
	return p.standardAct(c, "sell-"+c.Params("id"), func(t *typing) (string, error) {
		sale := sales.ShowSale{
			Ready: c.Params("id"), CustomerID: t.v.Get("customer"), Event: t.v.Get("event"), Price: t.v.Get("price"), For: t.maybe("for"), Why: t.v.Get("why"), Way: sales.Way(t.v.Get("way")), Token: t.v.Get("token"),
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		sold, err := p.sales.Sell(c.UserContext(), sale, by(c))
		return "/invoices/" + sold.ID, err
	})
}

// Named is a name of a form of one shield.
func (standardPage) Named(what, id string) string { return fmt.Sprint(what, "-", id) }

// Lost is what was wrong with a form of a shield that lies here no more.
func (d standardPage) Lost() string {
	for _, what := range []string{"sell", "move", "drop"} {
		if id, of := strings.CutPrefix(d.Form, d.Named(what, "")); of && !slices.ContainsFunc(d.Here, func(r sales.Ready) bool { return r.ID == id }) {
			return message(d.problems)
		}
	}
	return ""
}

// Wrong is all that is wrong with a form, where it has no entries of its own to stand beside.
func (d standardPage) Wrong(form string) string {
	if d.Form != form {
		return ""
	}
	return message(d.problems)
}
