package web

import (
	"fmt"
	"net/url"

	"foamwright/pricing"
	"foamwright/pricing/money"
)

// rushRow is a surcharge for a near date, as entries.
type rushRow struct{ Within, Share entry }

// rushRows are those there are, and room for one more.
func rushRows(typed url.Values, problems map[string]string, n int) (all []rushRow) {
	for i := range n + 1 {
		one := func(name, label string) entry {
			field := fmt.Sprintf("rates.rush.%d.%s", i, name)
			return entry{Name: field, Label: label, Value: typed.Get(field), Problem: problems[field], ID: id(field)}
		}
		all = append(all, rushRow{one("within", "Within days"), one("share", "costs more, %")})
	}
	return all
}

// rushTyped is how rushes stand in the form.
func rushTyped(all []pricing.Rush) url.Values {
	typed := url.Values{}
	for i, r := range all {
		typed.Set(fmt.Sprintf("rates.rush.%d.within", i), fmt.Sprint(r.Within))
		typed.Set(fmt.Sprintf("rates.rush.%d.share", i), r.Share.Shift(2).String())
	}
	return typed
}

// price reads currency and rushes; a form without these entries leaves them as they are.
func (r *settings) price(rates *pricing.Rates) {
	if typed := r.v.Get("rates.currency"); r.v.Has("rates.currency") {
		r.page.Code = typed
		c, err := money.ParseCurrency(typed)
		_ = r.problems.Take("rates.currency", err) // always a fault
		if err == nil {
			rates.Currency = c
		}
	}
	if !r.v.Has("rates.rush.0.within") {
		return
	}
	t := typing{v: r.v}
	r.page.rushes = rows(r.v, "rates.rush", "within", "share")
	r.page.typed = r.v
	rates.Rush = nil
	for i := range r.page.rushes {
		at := fmt.Sprintf("rates.rush.%d.", i)
		rates.Rush = append(rates.Rush, pricing.Rush{Within: t.count(at + "within"), Share: t.number(at + "share").Shift(-2)})
	}
	_ = r.problems.Take("", t.problems.Err()) // it is always a fault
}
