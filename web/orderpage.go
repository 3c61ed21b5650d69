package web

import (
	"slices"
	"strings"
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
	if !o.Paid.IsZero() {
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

// Text is an entry as it was typed; usual stands there until then. Each form's entries have ids of their own.
func (d orderPage) Text(form, name, label, usual string) entry {
	e := entry{Name: name, Label: label, Value: usual, ID: "f-" + form + "-" + strings.NewReplacer(".", "-", " ", "_").Replace(name)}
	if form == d.Form {
		e.Value, e.Problem = d.v.Get(name), d.problems[name]
	}
	return e
}

// Whole is what is wrong with a form as a whole.
func (d orderPage) Whole(form string) string {
	if form != d.Form {
		return ""
	}
	return d.problems[""]
}

// Today is the usual day.
func (d orderPage) Today() string { return iso(today()) }
