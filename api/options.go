package api

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// QuoteOption is something the customer may have besides, or instead. What belongs to issuing is left out until then.
type QuoteOption struct {
	Key      string        `json:"key,omitempty" doc:"short and lasting within the quote; given to an option that has none"`
	Name     string        `json:"name" maxLength:"80" doc:"as printed"`
	Changes  []EntryChange `json:"changes" doc:"entries of the spec written anew"`
	Amount   string        `json:"amount,omitempty" doc:"what it adds to the price: net, or with tax where prices are made with tax inside; below zero when it saves"`
	Ready    string        `json:"ready,omitempty" doc:"earliest day with it alone, where it moves that"`
	Days     int           `json:"days,omitempty" doc:"that this is later; below zero sooner"`
	Excludes []string      `json:"excludes,omitempty" doc:"keys of options it cannot be had together with"`
}

// EntryChange is an entry of a spec written anew.
type EntryChange struct {
	Entry string `json:"entry" doc:"its path: core.layers, gems.0.count, or a whole group: gems"`
	Value string `json:"value,omitempty" doc:"as it is typed; empty takes the entry away with everything below it"`
}

// optionsOf are the options of a quote: of one that was issued as they were printed.
func optionsOf(q sales.Quote) []QuoteOption {
	var all []QuoteOption
	if q.State == sales.Draft {
		for _, o := range q.Options {
			all = append(all, optionOf(o))
		}
		return all
	}
	for _, o := range q.Printed.Options {
		out := optionOf(o.Option)
		out.Amount, out.Days = o.Amount.StringFixed(q.Gross.Currency().Digits()), o.Days
		if !o.Ready.IsZero() {
			out.Ready = dateOf(o.Ready)
		}
		for _, other := range q.Printed.Options {
			if other.Key != o.Key && o.Excludes(other) {
				out.Excludes = append(out.Excludes, other.Key)
			}
		}
		all = append(all, out)
	}
	return all
}

func optionOf(o sales.Option) QuoteOption {
	out := QuoteOption{Key: o.Key, Name: o.Name, Changes: []EntryChange{}}
	for _, path := range slices.Sorted(maps.Keys(o.Changes)) {
		out.Changes = append(out.Changes, EntryChange{path, o.Changes[path]})
	}
	return out
}

// optionsIn reads options. An entry that an option writes twice is refused.
func optionsIn(options []QuoteOption) ([]sales.Option, error) {
	var l fault.List
	all := make([]sales.Option, len(options))
	for i, o := range options {
		all[i] = sales.Option{Key: o.Key, Name: o.Name, Changes: map[string]string{}}
		for k, c := range o.Changes {
			if _, twice := all[i].Changes[c.Entry]; twice || c.Entry == "" {
				l.Add(fmt.Sprintf("options.%d.changes.%d.entry", i, k), c.Entry, "Name each entry once, by its path, for example core.layers.")
			}
			all[i].Changes[c.Entry] = c.Value
		}
	}
	return all, l.Err()
}

// Fitting is what brings a draft within a budget.
type Fitting struct {
	Budget   string   `json:"budget"`
	Currency string   `json:"currency"`
	Fits     []FitSet `json:"fits" doc:"of the fewest changes that do, the closest under the budget first; one without options where the draft fits as it is"`
	Least    FitSet   `json:"least" doc:"the cheapest of all that was tried"`
	Tried    int      `json:"tried" doc:"whole estimates beside the draft's own"`
	Complete bool     `json:"complete" doc:"every set of so few changes was tried; otherwise the search came to its bound"`
}

// FitSet is some options and suggestions with what the customer would pay.
type FitSet struct {
	Options []QuoteOption `json:"options"`
	Gross   string        `json:"gross"`
}

type suggestionList struct {
	Suggestions []QuoteOption `json:"suggestions"`
}

type budgeted struct {
	ID     string `path:"id" format:"uuid"`
	Budget string `query:"budget" doc:"what the customer wants to pay in all, tax included"`
}

type narrowedQuotes struct {
	Words    string `query:"words" doc:"found anywhere in a name, title or number"`
	Most     most   `query:"most"`
	Standing string `query:"standing" doc:"only those: draft, open, expired, accepted, declined or replaced"`
}

func setOf(s sales.Set) FitSet {
	out := FitSet{Options: []QuoteOption{}, Gross: s.Gross().String()}
	for _, o := range s.Options {
		out.Options = append(out.Options, optionOf(o))
	}
	return out
}

func (f *face) options() {
	operation(f, op("GET /quotes/{id}/suggestions", "suggest-options", "Changes that are often asked for", conflict).
		saying("Ready changes for the draft's spec that are no options of it yet: to offer, or to try."),
		func(ctx context.Context, in *byID) (*answer[suggestionList], error) {
			q, err := f.draft(ctx, in.ID)
			if err != nil {
				return nil, err
			}
			candidates, err := f.Sales.Candidates(ctx, q)
			if err != nil {
				return nil, err
			}
			out := suggestionList{[]QuoteOption{}}
			for _, s := range candidates[len(q.Options):] {
				out.Suggestions = append(out.Suggestions, optionOf(s.Option))
			}
			return &answer[suggestionList]{out}, nil
		})
	operation(f, op("GET /quotes/{id}/fitting", "fit-budget", "What fits a budget", conflict, invalid).
		saying("Looks for the options and suggestions that bring the draft within a budget, in whole estimates, the fewest changes first. It takes some seconds at most and says whether it was complete."), f.fitting)
}

// draft is a quote that is still written.
func (f *face) draft(ctx context.Context, id string) (sales.Quote, error) {
	q, err := f.Sales.Quote(ctx, id)
	if err == nil && q.State != sales.Draft {
		err = fault.New(fault.State, "Quote %s has been issued. Make a new version of it to change what it offers.", q.Number)
	}
	return q, err
}

func (f *face) fitting(ctx context.Context, in *budgeted) (*answer[Fitting], error) {
	q, err := f.draft(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	sum, err := decimal.NewFromString(in.Budget)
	if err != nil || len(in.Budget) > 16 || !sum.IsPositive() || !sum.Equal(sum.Round(2)) {
		var l fault.List
		l.Add("budget", in.Budget, "Write what the customer wants to pay in all, above 0 and to the cent, for example 300.")
		return nil, l.Err()
	}
	w, err := f.Sales.Fitting(ctx, q, sum)
	if err != nil {
		return nil, inSpec(err)
	}
	out := Fitting{Budget: w.Budget.String(), Currency: string(w.Budget.Currency()), Fits: []FitSet{}, Least: setOf(w.Least), Tried: w.Tried, Complete: w.All}
	for _, s := range w.Fits {
		out.Fits = append(out.Fits, setOf(s))
	}
	return &answer[Fitting]{out}, nil
}
