package sales

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// ByParcel is the way of a delivery that has a parcel.
const ByParcel DeliveryWay = "parcel"

// ParcelState is how a parcel stands.
type ParcelState string

// The states of a parcel: it is sent, and one of the others comes of it.
const (
	ParcelSent     ParcelState = "sent"
	ParcelArrived  ParcelState = "arrived"
	ParcelDamaged  ParcelState = "damaged"
	ParcelReturned ParcelState = "returned"
)

// ParcelStates are all there are.
func ParcelStates() []ParcelState {
	return []ParcelState{ParcelSent, ParcelArrived, ParcelDamaged, ParcelReturned}
}

// Parcel is what a delivery left the workshop in.
type Parcel struct {
	Order    string
	Nth      int // of the delivery
	Carrier  string
	Tracking string
	Insured  money.Amount // value; the zero Amount for none
	Sent     time.Time
	State    ParcelState
	Since    time.Time // it stands so
	Note     string
	By       string
}

// ParcelTx is parcels within one transaction.
type ParcelTx interface {
	Parcels(ctx context.Context, order string) ([]Parcel, error) // by delivery
	KeepParcel(ctx context.Context, p Parcel) error              // new or changed
}

// KeepParcel writes down how a delivery by parcel goes. insured is its insured value in the order's currency, 0 for none.
func (s *Service) KeepParcel(ctx context.Context, p Parcel, insured decimal.Decimal, by string) error {
	_, err := s.order(ctx, p.Order, func(tx Tx, o *Order) error {
		handed, err := tx.Deliveries(ctx, o.ID)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(handed, func(d Delivery) bool { return d.Nth == p.Nth })
		if i < 0 {
			return fault.New(fault.NotFound, "There is no such delivery of order %s.", o.Number)
		}
		if handed[i].Way != ByParcel {
			return fault.New(fault.State, "These pieces were %s: only what went by parcel has one.", handed[i].Way)
		}
		if p.Sent.IsZero() {
			p.Sent = handed[i].Day
		}
		if p.Since.IsZero() {
			p.Since = p.Sent
			if p.State != ParcelSent {
				p.Since = s.now()
			}
		}
		var l fault.List
		if !insured.IsZero() {
			if p.Insured, err = money.New(insured, o.Deposit.Currency()); err != nil {
				_ = l.Take("insured", err) // always a fault
			}
			if insured.IsNegative() || insured.GreaterThan(decimal.NewFromInt(mostPaid)) {
				l.Add("insured", insured.String(), fmt.Sprintf("Write the insured value, from 0 to %d.", mostPaid))
			}
		}
		if p.Sent.Before(stock.Day(o.Accepted)) {
			l.Add("sent", iso(p.Sent), "That is before it was ordered. Write the day it was sent.")
		}
		p.By = by
		p.check(&l, s.now())
		if err := l.Err(); err != nil {
			return err
		}
		return tx.KeepParcel(ctx, p)
	})
	return err
}

func (p *Parcel) check(l *fault.List, now time.Time) {
	p.Carrier, p.Tracking, p.Note = strings.TrimSpace(p.Carrier), strings.TrimSpace(p.Tracking), strings.TrimSpace(p.Note)
	if p.Carrier == "" {
		l.Add("carrier", "", "Write who carries it.")
	}
	oneLine(l, "carrier", p.Carrier)
	oneLine(l, "tracking", p.Tracking)
	long(l, "carrier", p.Carrier, 80)
	long(l, "tracking", p.Tracking, 80)
	long(l, "note", p.Note, 400)
	if !slices.Contains(ParcelStates(), p.State) {
		l.Add("state", string(p.State), "Choose sent, arrived, damaged or returned.")
	}
	if (p.State == ParcelDamaged || p.State == ParcelReturned) && p.Note == "" {
		l.Add("note", "", fmt.Sprintf("Say in a few words why it is %s: the carrier will ask.", p.State))
	}
	if stock.Day(p.Sent).After(stock.Day(now)) {
		l.Add("sent", iso(p.Sent), "That day has not come yet. Write the day it was sent.")
	}
	if stock.Day(p.Since).After(stock.Day(now)) || stock.Day(p.Since).Before(stock.Day(p.Sent)) {
		l.Add("since", iso(p.Since), "Write a day from the one it was sent on until today.")
	}
}

// Parcels are those of an order.
func (s *Service) Parcels(ctx context.Context, order string) ([]Parcel, error) {
	return read(ctx, s, func(tx Tx) ([]Parcel, error) { return tx.Parcels(ctx, order) })
}

// Told is how a parcel stands, as its customer is told.
func (p Parcel) Told(t words.Tongue) string {
	who := p.Carrier
	if p.Tracking != "" {
		who = t.Say("%s, number %s", p.Carrier, p.Tracking)
	}
	switch p.State {
	case ParcelArrived:
		return t.Say("Parcel with %s: arrived on %s.", who, t.Date(p.Since))
	case ParcelDamaged:
		return t.Say("Parcel with %s: arrived damaged, as we were told on %s.", who, t.Date(p.Since))
	case ParcelReturned:
		return t.Say("Parcel with %s: came back to us on %s.", who, t.Date(p.Since))
	}
	return t.Say("Parcel with %s: sent on %s.", who, t.Date(p.Sent))
}
