package web

import (
	"context"
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials/orderform"
	"foamwright/pricing/sales"
)

// changePage is a change of an order while it is written: the spec as it is to be, and what that does to the price.
type changePage struct {
	board
	Order    sales.Order
	Change   *sales.Change // nil while what was typed cannot be made
	Label    string
	Edit     int
	Message  string
	Problems map[string]string
}

// Net tells that the amount of the change is without tax.
func (d changePage) Net() bool {
	r := d.Change.Order.Terms.Regime
	return r.Registered && !r.GrossPrices
}

func (p *Pages) registerChanges(r fiber.Router) {
	owner := p.guard.Require("owner")
	r.Get("/orders/:id/change", owner, p.changePage)
	r.Post("/orders/:id/change", owner, p.offerChange)
	r.Post("/orders/:id/change/live", owner, p.changeLive)
	r.Post("/orders/:id/changes/:no", owner, p.answerChange)
	r.Post("/orders/:id/drawings", owner, p.showDrawing)
	r.Post("/orders/:id/drawings/:round", owner, p.answerDrawing)
	r.Post("/orders/:id/deliver", owner, p.deliver)
	r.Get("/orders/:id/papers/:kind/:no", owner, p.paper)
}

// changePage begins with the order as it is made now.
func (p *Pages) changePage(c *fiber.Ctx) error {
	t, err := p.sales.Order(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	data, err := p.changed(c.UserContext(), t.Order.ID, t.Quote.Form)
	if err != nil {
		return err
	}
	data.Order, data.Edit = t.Order, t.Order.Edit
	return p.showChange(c, fiber.StatusOK, data)
}

func (p *Pages) showChange(c *fiber.Ctx, status int, data changePage) error {
	return p.render(c, status, "change", "Change order "+data.Order.Number.String(), "orders", data)
}

// changed works out a changed spec: with its problems beside its entries where it cannot be made.
func (p *Pages) changed(ctx context.Context, id string, f orderform.Form) (changePage, error) {
	live := "/orders/" + id + "/change/live"
	change, err := p.sales.PriceChange(ctx, id, f)
	if err != nil {
		problems, err := problemsOf(err)
		if err != nil {
			return changePage{}, err
		}
		w, err := p.sales.Workshop(ctx)
		if err != nil {
			return changePage{}, err
		}
		return changePage{board: board{Form: newForm(f, problems, offered(w.Figures)), Wrong: len(problems), Live: live}}, nil
	}
	return changePage{board: drawn(f, change.Estimate, change.Figures, live), Change: &change}, nil
}

// postedChange reads what was typed.
func (p *Pages) postedChange(c *fiber.Ctx, v url.Values) (orderform.Form, changePage, error) {
	ctx, id := c.UserContext(), c.Params("id")
	spec := specValues(v)
	spec.Del("label")
	f, err := orderform.FromValues(spec)
	if err != nil {
		b, err := p.unreadable(ctx, spec, err, "/orders/"+id+"/change/live")
		return f, changePage{board: b}, err
	}
	data, err := p.changed(ctx, id, f)
	return f, data, err
}

// changeLive answers with the parts that change while somebody types. Nothing is stored.
func (p *Pages) changeLive(c *fiber.Ctx) error {
	_, data, err := p.postedChange(c, values(c))
	if err != nil {
		return err
	}
	c.Set(fiber.HeaderCacheControl, "no-store")
	return p.write(c, fiber.StatusOK, "change", "change-live", data)
}

// offerChange prices, prints and keeps a change, or shows what was typed again.
func (p *Pages) offerChange(c *fiber.Ctx) error {
	ctx, v := c.UserContext(), values(c)
	t, err := p.sales.Order(ctx, c.Params("id"))
	if err != nil {
		return err
	}
	f, again, err := p.postedChange(c, v)
	if err != nil {
		return err
	}
	edit, err := strconv.Atoi(v.Get("edit"))
	if err != nil {
		edit = -1
	}
	again.Order, again.Label, again.Edit, again.Unsaved = t.Order, v.Get("label"), edit, true
	_, again.Open, _ = strings.Cut(v.Get("do"), recompute+" ")
	if strings.HasPrefix(v.Get("do"), recompute) || again.Change == nil {
		return p.showChange(c, status(again.board), again)
	}
	_, err = p.sales.OfferChange(ctx, t.Order.ID, edit, v.Get("gross"), again.Label, f, by(c))
	if err == nil {
		return c.Redirect("/orders/"+t.Order.ID+"#changes", fiber.StatusSeeOther)
	}
	answer := problem.Status(err)
	problems, err := problemsOf(err)
	if err != nil {
		return err
	}
	again.Problems, again.Message = problems, message(problems)
	return p.showChange(c, answer, again)
}

// answerChange notes what the customer said to a change, or withdraws it.
func (p *Pages) answerChange(c *fiber.Ctx) error {
	return p.orderAct(c, "change", func(t *typing, id string) error {
		no, _ := c.ParamsInt("no")
		choice := sales.Choice{Name: t.v.Get("name"), Note: t.v.Get("reason")}
		switch t.v.Get("do") {
		case "accepted":
			_, err := p.sales.AnswerChange(c.UserContext(), id, no, true, choice, by(c))
			return err
		case "declined":
			_, err := p.sales.AnswerChange(c.UserContext(), id, no, false, choice, by(c))
			return err
		case "withdraw":
			_, err := p.sales.WithdrawChange(c.UserContext(), id, no, by(c))
			return err
		}
		t.problems.Add("", t.v.Get("do"), "Choose what became of the change.")
		return nil
	})
}

// showDrawing opens a round of drawings for the customer.
func (p *Pages) showDrawing(c *fiber.Ctx) error {
	return p.orderAct(c, "drawing", func(t *typing, id string) error {
		_, err := p.sales.ShowDrawing(c.UserContext(), id, t.v.Get("note"), by(c))
		return err
	})
}

// answerDrawing notes what the customer said of a drawing.
func (p *Pages) answerDrawing(c *fiber.Ctx) error {
	return p.orderAct(c, "drawing", func(t *typing, id string) error {
		round, _ := c.ParamsInt("round")
		return p.sales.AnswerDrawing(c.UserContext(), id, round, sales.Verdict(t.v.Get("verdict")), t.v.Get("words"), sales.Choice{Name: t.v.Get("name")}, by(c))
	})
}

// deliver notes that pieces were handed over.
func (p *Pages) deliver(c *fiber.Ctx) error {
	return p.orderAct(c, "deliver", func(t *typing, id string) error {
		d := sales.Delivery{Day: t.must("day"), Pieces: t.count("pieces"), Way: sales.DeliveryWay(t.v.Get("way")), Whom: t.v.Get("whom"), Note: t.v.Get("note"), Wearers: wearersTyped(t.v)}
		edit := t.count("edit")
		if err := t.problems.Err(); err != nil {
			return err
		}
		_, err := p.sales.Deliver(c.UserContext(), id, edit, d, by(c))
		return err
	})
}

// paper sends one of an order's documents.
func (p *Pages) paper(c *fiber.Ctx) error {
	no, _ := strconv.Atoi(strings.TrimSuffix(c.Params("no"), ".pdf")) // 0 is none
	doc, err := p.sales.Paper(c.UserContext(), c.Params("id"), sales.PaperKind(c.Params("kind")), no)
	if err != nil {
		return err
	}
	return sendDocument(c, doc)
}

// orderLife is what happened to an order after it was accepted, as its page shows it.
type orderLife struct {
	sales.Life
	Included int // rounds of drawings
	Warranty int // days
}

func (p *Pages) orderLife(ctx context.Context, id string) (orderLife, error) {
	life, err := p.sales.Life(ctx, id)
	if err != nil {
		return orderLife{}, err
	}
	w, err := p.sales.Workshop(ctx)
	return orderLife{life, w.Rounds, w.WarrantyDays}, err
}

// Ways are how pieces may leave, as a list to choose from.
func (d orderPage) Ways() entry {
	e := d.Text("deliver", "way", "How", string(sales.DeliveryWays()[0]))
	for _, w := range sales.DeliveryWays() {
		e.Options = append(e.Options, option{string(w), sales.Sentence(string(w))})
	}
	return e
}

// Waiting is the change that has no answer yet.
func (l orderLife) Waiting() *sales.ChangeNote {
	if n := len(l.Changes); n > 0 && l.Changes[n-1].State == sales.Offered {
		return &l.Changes[n-1]
	}
	return nil
}

// Shown is the round that has no answer yet.
func (l orderLife) Shown() *sales.Approval {
	if n := len(l.Rounds); n > 0 && l.Rounds[n-1].Verdict == "" {
		return &l.Rounds[n-1]
	}
	return nil
}

// Redrawn is the last round where another is to be shown.
func (l orderLife) Redrawn() *sales.Approval {
	if n := len(l.Rounds); n > 0 && (l.Rounds[n-1].Verdict == sales.Redraw || l.Rounds[n-1].Verdict == sales.Overtaken) {
		return &l.Rounds[n-1]
	}
	return nil
}

// paperName is what a document of an order is called on pages.
func paperName(p sales.OrderPaper) string {
	switch p.Kind {
	case sales.ConfirmationPaper:
		return "Order confirmation"
	case sales.ChangePaper:
		return fmt.Sprint("Change note ", p.No)
	case sales.CarePaper:
		return "Care sheet"
	}
	return "Account of the cancellation"
}
