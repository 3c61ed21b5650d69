package web

import (
	"cmp"
	"net/url"
	"slices"
	"strconv"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
)

// registerShow mounts what goes on around orders.
func (p *Pages) registerShow(r fiber.Router) {
	owner := p.guard.Require("owner")
	r.Get("/quotes/:id/wearers", owner, p.wearers)
	r.Post("/quotes/:id/wearers", owner, p.keepWearers)
	r.Post("/orders/:id/parcels/:nth", owner, p.keepParcel)
	p.registerPhotos(r)
	p.registerRepairs(r)
	p.registerStandard(r)
}

// orderShow is what goes on around an order: its event, who wears the pieces, parcels, photos and repairs.
type orderShow struct {
	Event   *sales.Event
	Events  []option
	Group   sales.Group
	Warning string // that wearers and pieces do not agree
	Parcels map[int]sales.Parcel
	Photos  photoBox
	Repairs []sales.Repair
}

func (p *Pages) orderShow(c *fiber.Ctx, t sales.Taken) (s orderShow, err error) {
	ctx := c.UserContext()
	if s.Event, err = p.sales.EventOf(ctx, t.Quote.ID); err != nil {
		return s, err
	}
	if s.Events, err = p.eventOptions(c); err != nil {
		return s, err
	}
	if s.Group, err = p.sales.Group(ctx, t.Quote.ID); err != nil {
		return s, err
	}
	s.Warning = s.Group.Warns(t.Order.Pieces(t.Quote))
	parcels, err := p.sales.Parcels(ctx, t.Order.ID)
	if err != nil {
		return s, err
	}
	s.Parcels = map[int]sales.Parcel{}
	for _, one := range parcels {
		s.Parcels[one.Nth] = one
	}
	if s.Photos, err = p.photosOf(c, sales.PhotoOfOrder, t.Order.ID); err != nil {
		return s, err
	}
	s.Repairs, err = p.sales.Repairs(ctx, sales.RepairFound{Order: t.Order.ID})
	return s, err
}

// Pieces is how many are made.
func (d orderPage) Pieces() int { return d.Order.Pieces(d.Quote) }

// EventID is the event's, for the list to choose from; one that is over stays on it.
func (s orderShow) EventID() string {
	if s.Event == nil {
		return ""
	}
	return s.Event.ID
}

// EventChoice is the list of events, with the order's own.
func (d orderPage) EventChoice() entry {
	e := d.Text("event", "event", "For which event", d.Show.EventID())
	e.Options, e.Hint = d.Show.Events, "none"
	if own := d.Show.Event; own != nil && named(e.Options, own.ID) == own.ID {
		e.Options = append([]option{{own.ID, own.Name}}, e.Options...)
	}
	return e
}

// ParcelForm is the name of a parcel's form.
func (orderPage) ParcelForm(nth int) string { return "parcel-" + strconv.Itoa(nth) }

// ParcelStates are how a parcel may stand.
func (d orderPage) ParcelStates(nth int, is sales.ParcelState) entry {
	is = cmp.Or(is, sales.ParcelSent)
	e := d.Text(d.ParcelForm(nth), "state", "It", string(is))
	for _, s := range sales.ParcelStates() {
		e.Options = append(e.Options, option{string(s), map[sales.ParcelState]string{sales.ParcelSent: "is on its way", sales.ParcelArrived: "arrived", sales.ParcelDamaged: "arrived damaged", sales.ParcelReturned: "came back"}[s]})
	}
	return e
}

// Parcel is that of a delivery, with what is usual while there is none.
func (d orderPage) Parcel(of sales.Delivery) sales.Parcel {
	if p, ok := d.Show.Parcels[of.Nth]; ok {
		return p
	}
	return sales.Parcel{Sent: of.Day}
}

// keepParcel writes down how a parcel goes.
func (p *Pages) keepParcel(c *fiber.Ctx) error {
	return p.orderAct(c, "parcel-"+c.Params("nth"), func(t *typing, id string) error {
		nth, _ := c.ParamsInt("nth")
		insured := t.optional("insured")
		parcel := sales.Parcel{Order: id, Nth: nth, Carrier: t.v.Get("carrier"), Tracking: t.v.Get("tracking"), Sent: t.day("sent"), State: sales.ParcelState(t.v.Get("state")), Since: t.day("since"), Note: t.v.Get("note")}
		if err := t.problems.Err(); err != nil {
			return err
		}
		return p.sales.KeepParcel(c.UserContext(), parcel, insured, by(c))
	})
}

// wearersTyped are the wearers that were ticked as having theirs.
func wearersTyped(v url.Values) (all []int) {
	for _, s := range v["wearers"] {
		if no, err := strconv.Atoi(s); err == nil {
			all = append(all, no)
		}
	}
	return all
}

// Sends tells that something went by parcel.
func (d orderPage) Sends() bool {
	return slices.ContainsFunc(d.Life.Deliveries, func(one sales.Delivery) bool { return one.Way == sales.ByParcel })
}

// Insured is a parcel's insured value as it is typed.
func (orderPage) Insured(p sales.Parcel) string {
	if p.Insured.Currency() == "" {
		return ""
	}
	return p.Insured.String()
}

// GotIt tells that a wearer was ticked.
func (d orderPage) GotIt(no int) bool {
	return d.Form == "deliver" && slices.Contains(wearersTyped(d.v), no)
}

// Wrong is what is wrong with an entry of the form that was refused.
func (d orderPage) Wrong(name string) string { return d.problems[name] }
