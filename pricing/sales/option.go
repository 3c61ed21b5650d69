package sales

import (
	"maps"
	"slices"
	"strings"
	"time"

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
	Amount   decimal.Decimal
	Ready    time.Time // earliest on an empty bench with it alone; zero where it moves nothing
	Days     int       // that this is later than without it; below zero sooner
	Verdict  string    // how it stands to the size rule with it; empty where that stays as it was
	Cautions []string  // that go with it and not with the quote alone
	Not      []string  // keys of options that write other entries and still cannot be made together with it
}

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

// OptionGroups are the options in the order they were printed, those of which any two clash together as one of.
// Whatever else clashes is told beside each option (Excludes).
func (p Printed) OptionGroups() []OptionGroup {
	var groups []OptionGroup
	for _, o := range p.Options {
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

// Excludes are the options outside its own group that an option cannot be had together with.
func (p Printed) Excludes(key string) (others []PrintedOption) {
	for _, g := range p.OptionGroups() {
		for _, o := range g.Options {
			if o.Key != key {
				continue
			}
			for _, other := range p.Options {
				inside := slices.ContainsFunc(g.Options, func(in PrintedOption) bool { return in.Key == other.Key })
				if !inside && o.clashes(other) {
					others = append(others, other)
				}
			}
		}
	}
	return others
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
