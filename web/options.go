package web

import (
	"context"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// optionsPart is the options of a draft on its page.
type optionsPart struct {
	Rows        []optionRow
	Suggestions []sales.Suggestion // that are not offered yet
	Entries     []sales.Changeable
	Name        entry // of a new one
	Entry       string
	Value       entry
	Add         []string // ticked
	Open        bool
	Message     string
	Stands      sales.Stands // how long the quote would stand
	Wrong       string       // why no option can be priced
}

// optionRow is one option with what it does.
type optionRow struct {
	I       int
	Name    entry
	Changes []sales.MovedEntry
	Amount  string // with its sign
	Moves   string // in days, hours and kilograms
	Wrong   string // why it cannot be offered
}

// optionRows are the options of a draft as typed, priced against a form.
func (p *Pages) options(ctx context.Context, d *quotePage, form orderform.Form, v url.Values) error {
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	part := &d.Offered
	q := d.Quote
	q.Form, q.Options = form, namedOptions(q.Options, v)
	part.Name = entry{Name: "options.name", Label: "Name, as the customer reads it", Value: v.Get("options.name"), Problem: d.Problems["options.name"], ID: "options-name", Hint: "without gems"}
	part.Value = entry{Name: "options.value", Label: "is instead", Value: v.Get("options.value"), Problem: d.Problems["options.value"], ID: "options-value"}
	part.Entry, part.Add = v.Get("options.entry"), v["options.add"]
	part.Message = d.Problems["options"]
	part.Open = strings.HasPrefix(v.Get("do"), "options") && len(d.Problems) > 0
	part.Entries = sales.Changeables(form, w.Figures.Catalogue)
	candidates, err := p.sales.Candidates(ctx, q)
	if err != nil {
		return err
	}
	part.Suggestions = candidates[len(q.Options):]
	base, weighed, err := p.sales.Weigh(ctx, d.Customer, form, q.Options)
	if err != nil {
		if fault.KindOf(err) != fault.Invalid {
			return err
		}
		part.Wrong, weighed = "The spec itself needs another look before options can be priced.", make([]sales.Weighed, len(q.Options))
	} else if part.Stands, err = p.sales.StandsFor(ctx, base); err != nil {
		return err
	}
	for i, o := range q.Options {
		row := optionRow{I: i, Changes: sales.ChangesIn(w.Figures.Catalogue, form, o.Changes)}
		field := fmt.Sprintf("options.%d", i)
		row.Name = entry{Name: field + ".name", Label: "Name", Value: o.Name, Problem: d.Problems[field+".name"], ID: fmt.Sprintf("options-%d", i)}
		row.Wrong = d.Problems[field]
		if e := weighed[i].Estimate; e != nil {
			row.Amount = extra(weighed[i].Amount)
			row.Moves = moves(base.Work.Hours.Sub(e.Work.Hours).Neg().StringFixed(1)+" h", weighed[i].Days)
		} else if row.Wrong == "" {
			var all []string
			for _, wrong := range weighed[i].Wrong {
				all = append(all, wrong.Remedy)
			}
			row.Wrong = strings.Join(all, " ")
		}
		part.Rows = append(part.Rows, row)
	}
	return nil
}

// Full tells that there can be no more.
func (o optionsPart) Full() bool { return len(o.Rows) >= 8 }

// Ticked tells whether a suggestion is.
func (o optionsPart) Ticked(key string) bool { return slices.Contains(o.Add, key) }

// extra is an amount with its sign.
func extra(a money.Amount) string {
	if a.Sign() > 0 {
		return "+" + words.Money(a)
	}
	return words.Money(a)
}

// moves says what hours and days an option adds.
func moves(hours string, days int) string {
	if !strings.HasPrefix(hours, "-") {
		hours = "+" + hours
	}
	said := strings.Replace(hours, "-", "−", 1)
	switch {
	case days > 0:
		said += ", " + number(days, "day") + " later"
	case days < 0:
		said += ", " + number(-days, "day") + " sooner"
	}
	return said
}

// namedOptions are the options with the names that were typed.
func namedOptions(options []sales.Option, v url.Values) []sales.Option {
	all := slices.Clone(options)
	for i := range all {
		if field := fmt.Sprintf("options.%d.name", i); v.Has(field) {
			all[i].Name = v.Get(field)
		}
	}
	return all
}

// actOnOptions does what a button of the options says, after the draft was kept: add, or drop with its place.
func (p *Pages) actOnOptions(c *fiber.Ctx, q sales.Quote, v url.Values) error {
	ctx := c.UserContext()
	act, place, _ := strings.Cut(strings.TrimPrefix(v.Get("do"), "options "), " ")
	if act == "drop" {
		i, err := strconv.Atoi(place)
		if err != nil || i < 0 || i >= len(q.Options) {
			return fault.New(fault.Conflict, "This option is not there any more. Look at the list again.")
		}
		_, err = p.sales.SaveOptions(ctx, q.ID, q.Edit, slices.Delete(slices.Clone(q.Options), i, i+1))
		return err
	}
	candidates, err := p.sales.Candidates(ctx, q)
	if err != nil {
		return err
	}
	all := slices.Clone(q.Options)
	for _, one := range candidates[len(q.Options):] {
		if slices.Contains(v["options.add"], one.Key) {
			all = append(all, sales.Option{Name: one.Name, Changes: one.Changes})
		}
	}
	if path := v.Get("options.entry"); path != "" {
		o := sales.Option{Name: strings.TrimSpace(v.Get("options.name")), Changes: map[string]string{path: strings.TrimSpace(v.Get("options.value"))}}
		all = append(all, p.namedByItself(ctx, q, o))
	}
	if len(all) == len(q.Options) {
		var l fault.List
		l.Add("options", "", "Tick a change, or choose an entry and write what it is instead.")
		return l.Err()
	}
	_, err = p.sales.SaveOptions(ctx, q.ID, q.Edit, all)
	return blamed(err, len(q.Options), len(all))
}

// offerTyped keeps the spec as it was typed as an option against the one that is kept.
func (p *Pages) offerTyped(c *fiber.Ctx, q sales.Quote, edit int, f orderform.Form, v url.Values) error {
	all := namedOptions(q.Options, v)
	o := sales.Option{Name: strings.TrimSpace(v.Get("options.name")), Changes: q.Form.Differs(f)}
	all = append(all, p.namedByItself(c.UserContext(), q, o))
	if len(o.Changes) == 0 {
		var l fault.List
		l.Add("options", "", "What is typed above is what is kept: change some entries first, then offer the change.")
		return l.Err()
	}
	_, err := p.sales.SaveOptions(c.UserContext(), q.ID, edit, all)
	return blamed(err, len(q.Options), len(all))
}

// namedByItself gives an option without a name one of what it changes, in the customer's tongue.
func (p *Pages) namedByItself(ctx context.Context, q sales.Quote, o sales.Option) sales.Option {
	w, err := p.sales.Workshop(ctx)
	if o.Name != "" || err != nil {
		return o
	}
	t := words.Tongue{}
	if c, err := p.sales.Customer(ctx, q.CustomerID); err == nil {
		t = words.Speak(c.Language)
	}
	to, err := q.Form.With(o.Changes)
	if err != nil {
		return o
	}
	var said []string
	for _, m := range sales.Differences(t, w.Figures.Catalogue, q.Form, to) {
		said = append(said, strings.TrimSuffix(m.In(t), "."))
	}
	name := []rune(strings.Join(said, "; "))
	if o.Name = string(name); len(name) > 80 {
		o.Name = string(name[:79]) + "…"
	}
	return o
}

// blamed puts what is wrong with an option that is not on the page yet to the place it is made at.
func blamed(err error, shown, all int) error {
	if fault.KindOf(err) != fault.Invalid {
		return err
	}
	var l fault.List
	for _, p := range fault.ProblemsOf(err) {
		for i := shown; i < all; i++ {
			switch field := fmt.Sprintf("options.%d", i); p.Field {
			case field:
				p.Field = "options"
			case field + ".name":
				p.Field = "options.name"
			}
		}
		l.Add(p.Field, p.Value, p.Remedy)
	}
	return l.Err()
}
