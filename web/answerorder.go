package web

import (
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

// registerAnswered mounts what an order's customer can do on their page besides: each below answerPath+"/:secret/",
// through onLink, which has found the link, the order (visit.Order, nil while there is none) and the visitor's language.
func (p *Pages) registerAnswered(r fiber.Router) {
	r.Get(answerPath+"/:secret/invoices/:kind/:number", p.onLink(p.answerInvoice))
	r.Post(answerPath+"/:secret/change/:no", p.onLink(p.answerLinkedChange))
	r.Post(answerPath+"/:secret/drawing/:no", p.onLink(p.answerLinkedDrawing))
	r.Get(answerPath+"/:secret/photos/:id.jpg", p.onLink(p.answerPhoto))
	r.Get(answerPath+"/:secret/papers/:kind/:no", p.onLink(p.answerPaper))
}

// answerOrder is what the page shows of an order besides the order itself. What others add has a field here, read in
// answered and shown by the template "answer-more".
type answerOrder struct {
	sales.LinkedOrder
	Sums    tax.Totals
	Balance money.Amount
	Bills   []answerBill
	Credits []sales.Invoice
	Open    money.Amount // still to come of the whole order
	Paid    money.Amount
	Lost    money.Amount // of a deposit that had come
	Papers  []sales.OrderPaper
	Show    answerShow
}

// answered reads it.
func (p *Pages) answered(c *fiber.Ctx, v visit) (o answerOrder, err error) {
	if o.LinkedOrder, err = p.sales.LinkedOrder(c.UserContext(), v.Order.ID, v.Tongue); err != nil {
		return o, err
	}
	o.Sums = v.Order.Totals()
	o.Balance = o.Sums.Gross.Sub(v.Order.Deposit)
	dues, err := p.sales.Dues(c.UserContext(), v.Order.ID)
	if err != nil {
		return o, err
	}
	o.money(dues, v)
	life, err := p.sales.Life(c.UserContext(), v.Order.ID)
	o.Papers = life.Papers
	if err == nil {
		o.Show, err = p.answerShow(c, v)
	}
	return o, err
}

// Steps are where the order stands, as its customer is told.
func (d answerView) Steps() []orderStep {
	o, t := d.Order, d.Tongue
	steps := []orderStep{{t.Say("Ordered"), o.Accepted, true}}
	if o.State == sales.Cancelled {
		return append(steps, orderStep{t.Say("Cancelled"), o.Ended, true})
	}
	if o.Paid.IsZero() {
		steps = append(steps, orderStep{t.Say("Deposit, due"), o.DepositDue, false}, orderStep{t.Say("On the bench from about"), o.Starts, false})
	} else {
		deposit := orderStep{t.Say("Deposit received"), o.Paid, true}
		if d.Ordered.Lost.Sign() > 0 {
			deposit = orderStep{t.Say("Deposit, due"), o.DepositDue, false}
		}
		steps = append(steps, deposit, orderStep{t.Say("On the bench from"), o.Starts, o.State == sales.Done || !d.Now.Before(o.Starts)})
	}
	made := time.Time{}
	if o.State == sales.Done {
		made = o.Ended
	} else if !d.Ready.IsZero() {
		return append(steps, orderStep{t.Say("Planned to be ready"), d.Ready, false})
	}
	return append(steps, orderStep{t.Say("Made"), made, o.State == sales.Done})
}

// Options are the names of what was chosen, and of what was changed later.
func (d answerView) Options() (names []string) {
	for _, l := range d.Order.Lines {
		if l.Kind == sales.OptionLine || l.Kind == sales.ChangeLine {
			names = append(names, l.In(d.Tongue))
		}
	}
	return names
}

// Unsure tells that whether somebody is allergic is still open.
func (d answerView) Unsure() bool {
	return d.Answer != nil && d.Answer.Latex == sales.LatexNotSure && d.Order.Open()
}
