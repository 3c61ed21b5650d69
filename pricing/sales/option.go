package sales

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
)

// Option is something the customer may have besides, or instead: some entries of the spec written anew.
type Option struct {
	Key     string            // short and lasting within the quote: "a"
	Name    string            // as printed, "three red gems"
	Changes map[string]string // as orderform.Form.With takes them
}

// PrintedOption is an option as it was issued. Amount is what it adds to the price, the difference of two full
// estimates: net, or with tax where prices are made with tax inside; below zero when it saves.
type PrintedOption struct {
	Option
	Amount decimal.Decimal
}

// clashes tells that two options write the same entry: only one of them can be had.
func (o Option) clashes(other Option) bool {
	within := func(a, b string) bool { return a == b || strings.HasPrefix(b, a+".") }
	for a := range o.Changes {
		for b := range other.Changes {
			if within(a, b) || within(b, a) {
				return true
			}
		}
	}
	return false
}

// chosen are the options of some keys, in the order they were printed. Faults name a key that is not there and two
// that cannot be had together.
func (p Printed) chosen(keys []string) ([]PrintedOption, error) {
	var l fault.List
	var all []PrintedOption
	for _, o := range p.Options {
		if !slices.Contains(keys, o.Key) {
			continue
		}
		for _, other := range all {
			if o.clashes(other.Option) {
				l.Add("options", o.Name, "This cannot be had together with "+other.Name+". Choose one of them.")
			}
		}
		all = append(all, o)
	}
	for _, k := range keys {
		if !slices.ContainsFunc(p.Options, func(o PrintedOption) bool { return o.Key == k }) {
			l.Add("options", k, "There is no such option on this quote. Open it again and choose from it.")
		}
	}
	return all, l.Err()
}

// with is a form with options written into it.
func with(f orderform.Form, options []PrintedOption) (orderform.Form, error) {
	for _, o := range options {
		var err error
		if f, err = f.With(o.Changes); err != nil {
			return f, err
		}
	}
	return f, nil
}
