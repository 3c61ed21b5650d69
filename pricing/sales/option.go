package sales

import (
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
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
	Amount   decimal.Decimal
	Ready    time.Time // earliest on an empty bench with it alone; zero where it moves nothing
	Days     int       // that this is later than without it; below zero sooner
	Verdict  string    // how it stands to the size rule with it; empty where that stays as it was
	Cautions []string  // that go with it and not with the quote alone
	Not      []string  // keys of options that write other entries and still cannot be made together with it
}

// Excludes tells that only one of two options can be had.
func (p PrintedOption) Excludes(other PrintedOption) bool { return p.clashes(other) }

// clashes tells that only one of two options can be had: they write the same entry, or cannot be made together.
func (p PrintedOption) clashes(other PrintedOption) bool {
	return p.Option.clashes(other.Option) || slices.Contains(p.Not, other.Key) || slices.Contains(other.Not, p.Key)
}

// clashes tells that two options write the same entry.
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

// OptionGroup is options as a customer chooses from them: any of them or, with OneOf, at most one.
type OptionGroup struct {
	OneOf   bool
	Options []PrintedOption
}

// OptionGroups are options in the order they were printed, those of which any two clash together as one of. Whatever
// else clashes is told beside each option.
func OptionGroups(options []PrintedOption) []OptionGroup {
	var groups []OptionGroup
	for _, o := range options {
		i := slices.IndexFunc(groups, func(g OptionGroup) bool {
			return !slices.ContainsFunc(g.Options, func(other PrintedOption) bool { return !other.clashes(o) })
		})
		if i < 0 {
			groups, i = append(groups, OptionGroup{}), len(groups)
		}
		groups[i].Options = append(groups[i].Options, o)
		groups[i].OneOf = len(groups[i].Options) > 1
	}
	return groups
}

// OptionNotes are what goes with choosing an option, a sentence each, in a tongue: the day it moves, the size rule,
// cautions, and which others outside its group it cannot be had with. by is the day that was asked for, if any.
func OptionNotes(t words.Tongue, options []PrintedOption, o PrintedOption, by time.Time) []string {
	var notes []string
	switch {
	case o.Days > 0:
		notes = append(notes, t.Say("%d days later with it: ready by %s on an empty bench.", o.Days, t.Date(o.Ready)))
	case o.Days < 0:
		notes = append(notes, t.Say("%d days sooner with it: ready by %s on an empty bench.", -o.Days, t.Date(o.Ready)))
	}
	if !by.IsZero() && o.Days > 0 && o.Ready.After(by.AddDate(0, 0, 1)) {
		notes = append(notes, t.Say("That is after the %s you asked for.", t.Date(by)))
	}
	if o.Verdict != "" {
		notes = append(notes, o.Verdict)
	}
	notes = append(notes, o.Cautions...)
	var names []string
	for _, g := range OptionGroups(options) {
		if slices.ContainsFunc(g.Options, func(in PrintedOption) bool { return in.Key == o.Key }) {
			continue
		}
		for _, other := range g.Options {
			if o.clashes(other) {
				names = append(names, "“"+other.Name+"”")
			}
		}
	}
	if len(names) > 0 {
		notes = append(notes, t.Say("Not together with %s.", strings.Join(names, ", ")))
	}
	return notes
}

// Extra is what an option adds, with its sign: "+24.00", "−12.50"; in words where it costs nothing.
func Extra(t words.Tongue, o PrintedOption, c money.Currency) string {
	a := money.Round(o.Amount, c)
	switch a.Sign() {
	case 0:
		return t.Say("no extra charge")
	case 1:
		return "+" + t.Money(a)
	}
	return t.Money(a)
}

// ExtraIs says how the amounts of options are meant under a regime: with tax inside, or before it.
func ExtraIs(t words.Tongue, g tax.Regime) string {
	switch {
	case !g.Registered:
		return t.Say("Amounts are for all pieces together.")
	case g.GrossPrices:
		return t.Say("Amounts are for all pieces together, tax included.")
	}
	return t.Say("Amounts are for all pieces together, before tax.")
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
			if o.clashes(other) {
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

// with is a form with options written into it, all at once: a row that one takes away must not move the rows that
// another writes.
func with(f orderform.Form, options []PrintedOption) (orderform.Form, error) {
	changes := map[string]string{}
	for _, o := range options {
		maps.Copy(changes, o.Changes)
	}
	return f.With(changes)
}
