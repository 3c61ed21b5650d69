package web

import (
	"slices"
	"time"

	"foamwright/pricing/sales"
)

// Steps are where an order can stand, in order, each with its day.
func (d orderPage) Steps() []orderStep {
	o := d.Order
	steps := []orderStep{
		{"Accepted", o.Accepted, true},
		{"Deposit due", o.DepositDue, false},
		{"Bench from", o.Starts, o.State == sales.Done},
		{"Made", o.Ended, o.State == sales.Done},
	}
	if !o.Paid.IsZero() && (d.Money == nil || d.Money.DepositLost().Sign() == 0) {
		steps[1] = orderStep{"Deposit came", o.Paid, true}
	}
	if o.State == sales.Cancelled {
		return append(steps[:1], orderStep{"Cancelled", o.Ended, true})
	}
	return steps
}

// Gone is what was wrong with a form that stands on the page no more, since the order is not as it was.
func (d orderPage) Gone() string {
	o, there := d.Order, d.Owner && d.Order.Open()
	switch d.Form {
	case "pay":
		there = there && o.State == sales.Accepted
	case "finish":
		there = there && o.State == sales.Booked
	case "deliver":
		there = d.Owner && o.State != sales.Accepted && o.State != sales.Cancelled && d.Life.Left > 0
	case "start", "cancel", "drawing", "change":
	default:
		return ""
	}
	if there {
		return ""
	}
	return d.Whole(d.Form)
}

type orderStep struct {
	Name string
	Day  time.Time
	Done bool
}

// Late tells that a deposit is past its day: what was held for the order is free again.
func (d orderPage) Late() bool {
	return d.Order.State == sales.Accepted && d.Order.DepositDue.Before(today())
}

// Missing tells that something is short.
func (d orderPage) Missing() bool {
	return slices.ContainsFunc(d.Takes, func(t taking) bool { return t.Short.IsPositive() })
}
