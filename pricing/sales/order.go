package sales

import (
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/pricing"
	"foamwright/pricing/money"
)

// OrderState is where an order stands.
type OrderState string

// The states of an order: accepted while the deposit is awaited, booked once it is paid.
const (
	Accepted  OrderState = "accepted"
	Booked    OrderState = "booked"
	Done      OrderState = "done"
	Cancelled OrderState = "cancelled"
)

// Order is an accepted quote: that version of it, as it was issued.
type Order struct {
	ID         string
	Number     Number
	QuoteID    string
	Quote      Number // and version, for lists
	Version    int
	CustomerID string
	Customer   string // name, for lists
	Title      string
	State      OrderState
	Accepted   time.Time
	DepositDue time.Time // a day; material is held until it is over
	Paid       time.Time // the deposit; zero until then
	Starts     time.Time // first day at the bench
	Ended      time.Time // done or cancelled
	Reason     string    // it was cancelled for
	Terms      Terms
	Deposit    money.Amount // that books the bench
	Lines      []OrderLine  // what it comes to; of one order, not in lists
	Agreed     *Agreed      // of one order; nil where it is made as its quote says
	Edit       int
}

// Open tells that it is still to be made.
func (o Order) Open() bool { return o.State == Accepted || o.State == Booked }

// Taking is one material that an issued quote reckons with, for the whole order.
type Taking struct {
	Item, Name string
	Quantity   decimal.Decimal
	Unit       measure.Unit
	Cost       decimal.Decimal // net, in the currency of the quote; 0 where it was issued before this was kept
}

// takings are the materials of an estimate by item, in the order of the slip.
func takings(e pricing.Estimate) []Taking {
	var all []Taking
	at := map[string]int{}
	for _, c := range e.Materials {
		i, ok := at[c.Item]
		if !ok {
			i = len(all)
			at[c.Item] = i
			all = append(all, Taking{Item: c.Item, Name: name(c, e), Unit: c.Quantity.Unit})
		}
		all[i].Quantity, all[i].Cost = all[i].Quantity.Add(c.Quantity.Value), all[i].Cost.Add(c.Cost.Decimal())
	}
	return all
}

// name is what a material is called on the shelf; a foam's line on the slip says more.
func name(c pricing.Charge, e pricing.Estimate) string {
	for _, f := range e.Foam {
		if f.Foam.Code == c.Item {
			return f.Foam.Name
		}
	}
	return c.Name
}
