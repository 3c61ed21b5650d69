package web

import (
	"html/template"
	"strconv"

	"foamwright/pricing/sales"
)

// answerPart is an entry of one of the forms about an order.
type answerPart struct {
	Page              answerView
	Form, Name, Label string
}

// Face is the order's picture where it is not made as it was quoted.
func (d answerView) Face() template.HTML {
	return template.HTML(d.Ordered.Picture) // made by package drawing
}

// Alike tells how many there will be, where it is more than one.
func (d answerView) Alike() string {
	n := d.Quote.Pieces()
	if d.Order != nil {
		n = d.Order.Pieces(d.Quote)
	}
	if n < 2 {
		return ""
	}
	return d.Tongue.Say("%d pieces, all alike. Each of them:", n)
}

// Waiting is the change that waits for the customer's answer; nil where none does.
func (d answerView) Waiting() *sales.LinkedChange {
	if all := d.Ordered.Changes; d.Order != nil && d.Order.Open() && len(all) > 0 && all[len(all)-1].State == sales.Offered {
		return &all[len(all)-1]
	}
	return nil
}

// Shown is the drawing that waits for the customer's answer; nil where none does.
func (d answerView) Shown() *sales.Approval {
	if all := d.Ordered.Rounds; d.Order != nil && d.Order.Open() && len(all) > 0 && all[len(all)-1].Verdict == "" {
		return &all[len(all)-1]
	}
	return nil
}

// Drawing is a round's picture.
func (d answerView) Drawing(a *sales.Approval) template.HTML {
	return template.HTML(a.Picture) // made by package drawing
}

// More is an amount of the change with its sign.
func (d answerView) More(c *sales.LinkedChange) string {
	if c.Amount.Sign() > 0 {
		return "+" + d.Tongue.Money(c.Amount)
	}
	return d.Tongue.Money(c.Amount)
}

// Untaxed tells that the amount of a change is without tax, which comes on top.
func (d answerView) Untaxed() bool {
	r := d.Order.Terms.Regime
	return r.Registered && !r.GrossPrices && d.Order.Terms.Rate.Reason == ""
}

// Making is where the work stands, in a sentence.
func (d answerView) Making() string {
	t, o, l := d.Tongue, d.Order, d.Ordered
	switch {
	case o.State == sales.Cancelled, o.State == sales.Accepted:
		return ""
	case l.Left == 0 && len(l.Deliveries) > 0:
		return t.Say("Everything has been handed over.")
	case len(l.Deliveries) > 0:
		return t.Say("A part has been handed over; still to come: %s.", strconv.Itoa(l.Left))
	case o.State == sales.Done:
		return t.Say("It is made and waits for the hand-over.")
	case d.Shown() != nil:
		return t.Say("Nothing is cut before you have said that the drawing is right.")
	case l.Begun:
		return t.Say("It is being made.")
	}
	return t.Say("The work on it has not begun yet.")
}

// Handed is a delivery in words.
func (d answerView) Handed(g sales.Delivery) string {
	t := d.Tongue
	how := t.Say("collected")
	switch g.Way {
	case "parcel":
		how = t.Say("sent as a parcel")
	case "at an event":
		how = t.Say("handed over at an event")
	}
	return t.Say("%s: %s × %s", t.Date(g.Day), strconv.Itoa(g.Pieces), how)
}

// SaidOf is what became of a change.
func (d answerView) SaidOf(c sales.LinkedChange) string {
	t := d.Tongue
	switch c.State {
	case sales.Consented:
		return t.Say("accepted by %s on %s", c.Name, t.Date(c.Answered))
	case sales.Refused:
		return t.Say("declined by %s on %s", c.Name, t.Date(c.Answered))
	case sales.Withdrawn:
		return t.Say("taken back by the workshop on %s", t.Date(c.Answered))
	}
	return t.Say("no answer yet")
}

// Judged is what became of a drawing.
func (d answerView) Judged(a sales.Approval) string {
	t := d.Tongue
	switch a.Verdict {
	case sales.Approved:
		return t.Say("approved by %s on %s", a.Name, t.Date(a.Answered))
	case sales.Redraw:
		return t.Say("to be changed, said %s on %s", a.Name, t.Date(a.Answered))
	case sales.Overtaken:
		return t.Say("overtaken by a change on %s", t.Date(a.Answered))
	}
	return t.Say("no answer yet")
}
