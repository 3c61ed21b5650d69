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
