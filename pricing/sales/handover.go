package sales

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// Handing is one order on the hand-over list of an event.
type Handing struct {
	Order   Order
	Pieces  int    // ordered
	Left    int    // not handed over yet
	Hand    string // the grip is for, where there is no group; empty for no grip
	Wearers []Wearer
	Open    money.Amount // of its price
}

// Ready tells that it can be handed over: it is made, or at the bench and due at the event.
func (h Handing) Ready() bool {
	return (h.Order.State == Booked || h.Order.State == Done) && h.Left > 0
}

// Handover is the hand-over list of an event.
type Handover struct {
	Event Event
	Lines []Handing
}

// Open is what is still to be paid in all; all orders of a workshop are in one currency.
func (h Handover) Open() (sum money.Amount) {
	for _, l := range h.Lines {
		sum = sum.Add(l.Open)
	}
	return sum
}

// Left is how many pieces are still to be handed over.
func (h Handover) Left() (n int) {
	for _, l := range h.Lines {
		n += l.Left
	}
	return n
}

// Handover is who gets what at an event, and what is still to be paid.
func (s *Service) Handover(ctx context.Context, event string) (Handover, error) {
	return read(ctx, s, func(tx Tx) (Handover, error) { return handover(ctx, tx, event) })
}

func handover(ctx context.Context, tx Tx, event string) (h Handover, err error) {
	if h.Event, err = tx.Event(ctx, event); err != nil {
		return h, err
	}
	orders, err := tx.OrdersFor(ctx, event)
	if err != nil {
		return h, err
	}
	for _, o := range orders {
		l, err := handing(ctx, tx, o.ID)
		if err != nil {
			return h, err
		}
		h.Lines = append(h.Lines, l)
	}
	return h, nil
}

func handing(ctx context.Context, tx Tx, id string) (h Handing, err error) {
	if h.Order, err = tx.Order(ctx, id); err != nil {
		return h, err
	}
	q, err := tx.Quote(ctx, h.Order.QuoteID)
	if err != nil {
		return h, err
	}
	q = h.Order.as(q)
	handed, err := tx.Deliveries(ctx, id)
	if err != nil {
		return h, err
	}
	h.Pieces = q.pieces()
	h.Left = h.Pieces - handedOver(handed)
	if spec, err := q.Form.Spec(); err == nil && spec.Grip.Kind != "none" {
		h.Hand = spec.Grip.Hand
	}
	g, err := tx.Group(ctx, q.ID)
	if err != nil {
		return h, err
	}
	h.Wearers = g.Waiting()
	d, err := dues(ctx, tx, h.Order)
	h.Open = d.Open()
	return h, err
}

// Ticked is an order that was ticked on the list, as it was seen.
type Ticked struct {
	Order string
	Edit  int
}

// HandOver notes that all that is left of the ticked orders was handed over at an event, all of them or none.
func (s *Service) HandOver(ctx context.Context, event string, ticked []Ticked, day time.Time, by string) error {
	if len(ticked) == 0 {
		return problem("", "", "Tick who got theirs.")
	}
	ticked = slices.SortedFunc(slices.Values(ticked), func(a, b Ticked) int { return strings.Compare(a.Order, b.Order) }) // two at once lock in one order
	return s.store.Act(ctx, func(tx Tx) error {
		e, err := tx.Event(ctx, event)
		if err != nil {
			return err
		}
		for _, t := range ticked {
			o, err := tx.LockOrder(ctx, t.Order)
			if err != nil {
				return err
			}
			if err := s.handOver(ctx, tx, &o, e, t.Edit, day, by); err != nil {
				return naming(o, err)
			}
		}
		return nil
	})
}

func (s *Service) handOver(ctx context.Context, tx Tx, o *Order, e Event, edit int, day time.Time, by string) error {
	if its, err := eventOf(ctx, tx, o.QuoteID); err != nil {
		return err
	} else if its == nil || its.ID != e.ID {
		return fault.New(fault.State, "It is not for %s.", e.Name)
	}
	h, err := handing(ctx, tx, o.ID)
	if err != nil {
		return err
	}
	d := Delivery{Day: day, Pieces: h.Left, Way: AtEvent, Whom: o.Customer, Note: e.Name}
	if err := s.deliver(ctx, tx, o, edit, d, by); err != nil {
		return err
	}
	o.Edit++
	return tx.SaveOrder(ctx, *o)
}

// naming says of which order a fault is.
func naming(o Order, err error) error {
	var f *fault.Fault
	if !errors.As(err, &f) {
		return err
	}
	var said []string
	for _, p := range fault.ProblemsOf(err) {
		said = append(said, p.Remedy)
	}
	return fault.New(f.Kind, "Order %s for %s: %s Nothing was noted.", o.Number, o.Customer, strings.Join(said, " "))
}

// HandoverList prints the list, with a box for each order.
func (s *Service) HandoverList(ctx context.Context, event string) (Document, error) {
	return read(ctx, s, func(tx Tx) (Document, error) {
		h, err := handover(ctx, tx, event)
		if err != nil {
			return Document{}, err
		}
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return Document{}, err
		}
		l := h.letter(Letter{Head: w.Head, Date: stock.Day(Wall(s.now()))})
		return s.letter(ctx, l)
	})
}

// letter is the list in the workshop's own language: it does not leave it.
func (h Handover) letter(l Letter) Letter {
	e := h.Event
	l.Name, l.File, l.Title = "Hand-over list", "hand-over-"+iso(e.First), e.Name
	l.Facts = []LetterFact{{"Begins", words.Date(e.First)}}
	if e.Last.After(e.First) {
		l.Facts = append(l.Facts, LetterFact{"Ends", words.Date(e.Last)})
	}
	if e.Place != "" {
		l.Facts = append(l.Facts, LetterFact{"Place", e.Place})
	}
	part := LetterPart{Name: "Who gets what"}
	for _, h := range h.Lines {
		title := h.Order.Title
		if title == "" {
			title = "order " + h.Order.Number.String()
		}
		part.Rows = append(part.Rows, LetterRow{Box: h.Left > 0, What: h.Order.Customer + ": " + title, How: h.How(), Amount: words.Money(h.Open)})
		for _, w := range h.Wearers {
			part.Rows = append(part.Rows, LetterRow{Box: true, Inner: true, What: w.Says(words.Tongue{})})
		}
	}
	if len(h.Lines) == 0 {
		part.Words = []string{"Nothing was ordered for it."}
	} else {
		part.Rows = append(part.Rows, LetterRow{What: "Still to be paid", How: pieces(h.Left()), Amount: words.Price(h.Open()), Total: true})
	}
	l.Parts = []LetterPart{part}
	return l
}

// How is how many, for which hand, and what is in the way.
func (h Handing) How() string {
	if h.Left == 0 {
		return "has it"
	}
	say := pieces(h.Left)
	switch {
	case len(h.Wearers) > 0 || h.Hand == "":
	default:
		say += ", " + h.Hand + " hand"
	}
	if h.Order.State == Accepted {
		say += ", deposit open"
	}
	return say
}

func pieces(n int) string {
	if n == 1 {
		return "1 piece"
	}
	return fmt.Sprint(n, " pieces")
}
