package sales

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/words"
)

// Delivery is how pieces of an order left the workshop.
type Delivery struct {
	Order  string
	Nth    int
	Day    time.Time
	Pieces int
	Way    DeliveryWay
	Whom   string // it was handed to
	Note   string
	At     time.Time
	By     string
	// Wearers of a group who got theirs with it, by number; where all that is left goes, all who wait.
	Wearers []int
}

// DeliveryWay is how pieces get to their owner.
type DeliveryWay string

// AtEvent is the way of what is handed over at an event.
const AtEvent DeliveryWay = "at an event"

// DeliveryWays are all there are.
func DeliveryWays() []DeliveryWay { return []DeliveryWay{"collected", "parcel", "at an event"} }

// Deliver notes that pieces of an order were handed over; the care sheet is printed with the first of them. What is
// at the bench still may be handed over in parts; never more than were ordered.
func (s *Service) Deliver(ctx context.Context, id string, edit int, d Delivery, by string) (Taken, error) {
	return s.order(ctx, id, func(tx Tx, o *Order) error { return s.deliver(ctx, tx, o, edit, d, by) })
}

// deliver is Deliver of a locked order.
func (s *Service) deliver(ctx context.Context, tx Tx, o *Order, edit int, d Delivery, by string) error {
	if o.State != Booked && o.State != Done {
		if o.State == Accepted {
			return booked(*o)
		}
		return ended(*o)
	}
	if o.Edit != edit {
		return fault.New(fault.Conflict, "Order %s has changed since this page was opened, perhaps by a second press. Look at what was handed over, then note the rest.", o.Number)
	}
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return err
	}
	before, err := tx.Deliveries(ctx, o.ID)
	if err != nil {
		return err
	}
	left := o.as(q).pieces() - handedOver(before)
	d.Whom, d.Note = strings.TrimSpace(d.Whom), strings.TrimSpace(d.Note)
	if err := d.check(left, o.Accepted, s.now()); err != nil {
		return err
	}
	group, err := tx.Group(ctx, q.ID)
	if err != nil {
		return err
	}
	if d.Wearers, err = group.got(d, left); err != nil {
		return err
	}
	d.Order, d.Nth, d.At, d.By = o.ID, len(before)+1, s.now(), by
	if err := tx.AddDelivery(ctx, d); err != nil {
		return err
	}
	if err := tx.GotTheirs(ctx, q.ID, d); err != nil || d.Nth > 1 {
		return err
	}
	return s.care(ctx, tx, *o, o.as(q), d, left == d.Pieces, by)
}

func (d Delivery) check(left int, accepted, now time.Time) error {
	var l fault.List
	switch {
	case left == 0:
		l.Add("pieces", strconv.Itoa(d.Pieces), "Every piece of this order was handed over already.")
	case d.Pieces < 1 || d.Pieces > left:
		l.Add("pieces", strconv.Itoa(d.Pieces), fmt.Sprintf("Write how many, from 1 to %d: so many are left.", left))
	}
	if stock.Day(d.Day).After(stock.Day(now)) {
		l.Add("day", d.Day.Format(time.DateOnly), "That day has not come yet. Write the day it was handed over.")
	}
	if stock.Day(d.Day).Before(stock.Day(accepted)) {
		l.Add("day", d.Day.Format(time.DateOnly), "That is before it was ordered. Write the day it was handed over.")
	}
	known := false
	for _, w := range DeliveryWays() {
		known = known || w == d.Way
	}
	if !known {
		l.Add("way", string(d.Way), "Choose collected, parcel or at an event.")
	}
	long(&l, "whom", d.Whom, 200)
	long(&l, "note", d.Note, 400)
	return l.Err()
}

// handedOver is how many pieces are gone.
func handedOver(all []Delivery) (n int) {
	for _, d := range all {
		n += d.Pieces
	}
	return n
}

// care prints the care sheet of an order, with its first delivery, and keeps it.
func (s *Service) care(ctx context.Context, tx Tx, o Order, q Quote, d Delivery, all bool, by string) error {
	l, err := s.head(ctx, tx, o)
	if err != nil {
		return err
	}
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return err
	}
	doc, err := s.print(ctx, tx, careSheet(l, o, q, w.WarrantyDays, d, all))
	if err != nil {
		return err
	}
	return tx.AddPaper(ctx, OrderPaper{Order: o.ID, Kind: CarePaper, No: 1, Document: doc.Hash, At: s.now(), By: by})
}

// careSheet is how to keep a piece: by what it is coated with. Common practice, no source; data sheets win.
func careSheet(l Letter, o Order, q Quote, warranty int, d Delivery, all bool) Letter {
	t := l.Tongue
	l.Name, l.File = t.Say("Care sheet"), o.file("care")
	l.Facts = []LetterFact{{t.Say("Order"), o.Number.In(t)}}
	switch {
	case warranty > 0 && all:
		l.Facts = append(l.Facts, LetterFact{t.Say("Mended free until"), t.Date(d.Day.AddDate(0, 0, warranty))})
	case warranty > 0: // it runs from the day the last piece is handed over
		l.Facts = append(l.Facts, LetterFact{t.Say("Mended free"), t.Say("%d days from the last hand-over", warranty)})
	}
	system := ""
	if spec, err := q.Form.Spec(); err == nil {
		system = spec.Coat.System
	}
	l.Parts = []LetterPart{
		{Name: t.Say("Every time"), Words: careAlways(t, system)},
		{Name: t.Say("Between games"), Words: careStored(t, system)},
		{Name: t.Say("Mending"), Words: careMending(t, system)},
		{Name: t.Say("Please note"), Words: careCautions(t, system)},
	}
	return l
}

func careAlways(t words.Tongue, system string) []string {
	all := []string{
		t.Say("Before a game look at edges, strap and grip: what is torn, hard or sharp does not go into play. The event's own check decides."),
		t.Say("After a game wipe it with a damp cloth and let it dry at room temperature, standing free."),
	}
	if system == "latex" {
		all = append(all, t.Say("Rub dry latex with a little silicone oil or talcum powder now and then, so that it does not stick. No oil or grease of minerals: they dissolve latex."))
	}
	return all
}

func careStored(t words.Tongue, system string) []string {
	all := []string{
		t.Say("Keep it cool, dry and dark, lying flat on its back or hanging by its edge: nothing leans on it."),
		t.Say("Never in a hot car, beside a heater or in the sun: foam creeps and glue lets go from about 50 °C on."),
	}
	if system == "latex" {
		all = append(all, t.Say("Sunlight and heat age latex: it turns brittle or sticky. Keep latex surfaces apart, with paper or cloth between them."))
	}
	return all
}

func careMending(t words.Tongue, system string) []string {
	all := []string{t.Say("A small tear: stop using it, keep it clean, and send us a picture. Do not glue it with superglue: it dries hard.")}
	if system == "latex" {
		all = append(all, t.Say("A crack in the latex can be closed with a thin coat of latex, once it is clean and dry."))
	}
	return all
}

func careCautions(t words.Tongue, system string) []string {
	all := []string{t.Say("Built to the rule as stated to us; the event's own check decides. A prop of foam is no protection and no toy.")}
	if system == "latex" {
		all = append(all, t.Say("It has natural rubber latex on it, which some people are allergic to. Tell those who handle it or are touched by it."))
	}
	return all
}
