package sales

import (
	"context"
	"fmt"
	"slices"

	"foamwright/materials/fault"
	"foamwright/pricing"
	"foamwright/pricing/money"
)

// MostVariants is how many stand beside the base.
const MostVariants = 5

// Variant is a draft with some changes, estimated in full: one column beside others.
type Variant struct {
	Set
	Changes []MovedEntry
	Amount  money.Amount // what the customer pays more than for the base; below zero less
	Fit     Fit          // as the bench is booked now
	Wrong   []fault.Problem
}

// Variants estimates a draft and sets of its options and suggestions, by their keys, with today's figures. The first is
// the draft itself. Nothing is stored. A set that cannot be made says why in its place.
func (s *Service) Variants(ctx context.Context, q Quote, sets [][]string) ([]Variant, error) {
	var l fault.List
	if len(sets) > MostVariants {
		l.Add("with", fmt.Sprint(len(sets)), fmt.Sprintf("Choose at most %d to stand beside it.", MostVariants))
		return nil, l.Err()
	}
	spec, snap, err := s.asked(ctx, q.CustomerID, q.Form)
	if err != nil {
		return nil, err
	}
	candidates, err := s.Candidates(ctx, q)
	if err != nil {
		return nil, err
	}
	base, err := pricing.Make(ctx, spec, snap, pricing.Live)
	if err != nil {
		return nil, err
	}
	all := []Variant{{Set: Set{Form: q.Form, Estimate: &base}}}
	for _, keys := range sets {
		v := Variant{}
		if v.Options, err = picked(candidates, keys); err != nil {
			return nil, err
		}
		o := merge(v.Options)
		w := Weighed{Option: o}
		e, err := w.estimate(ctx, q.Form, snap, pricing.Live)
		v.Form, v.Changes = w.Form, ChangesIn(snap.Catalogue, q.Form, o.Changes)
		switch {
		case err == nil:
			v.Estimate, v.Amount = &e, e.Price.Gross.Sub(base.Price.Gross)
		case fault.KindOf(err) == fault.Invalid:
			v.Wrong = fault.ProblemsOf(err)
		default:
			return nil, err
		}
		all = append(all, v)
	}
	for i := range all {
		if all[i].Estimate != nil {
			if all[i].Fit, err = s.Fit(ctx, *all[i].Estimate); err != nil {
				return nil, err
			}
		}
	}
	return all, nil
}

// picked are candidates by their keys. Faults name a key that is not there, and two that clash.
func picked(candidates []Suggestion, keys []string) ([]Option, error) {
	var l fault.List
	var all []Option
	for _, k := range keys {
		i := slices.IndexFunc(candidates, func(c Suggestion) bool { return c.Key == k })
		if i < 0 {
			l.Add("with", k, "There is no such option or suggestion for the draft as it is now. Choose from the list.")
			continue
		}
		o := candidates[i].Option
		for _, other := range all {
			if o.clashes(other) {
				l.Add("with", k, fmt.Sprintf("“%s” and “%s” write the same entry. Choose one of them.", o.Name, other.Name))
			}
		}
		all = append(all, o)
	}
	return all, l.Err()
}

// merge makes one option of several that do not clash.
func merge(options []Option) Option {
	if len(options) == 1 {
		return options[0]
	}
	set, one := Set{Options: options}, Option{Changes: map[string]string{}}
	one.Name = set.Name()
	if r := []rune(one.Name); len(r) > longestOption {
		one.Name = string(r[:longestOption-1]) + "…"
	}
	for _, o := range options {
		for path, typed := range o.Changes {
			one.Changes[path] = typed
		}
	}
	return one
}

// TakeVariant writes options and suggestions, by their keys, into a draft: it is the variant then, and what was written is
// no option of it any more.
func (s *Service) TakeVariant(ctx context.Context, id string, edit int, keys []string) (Quote, error) {
	q, options, err := s.pickedOf(ctx, id, keys)
	if err != nil {
		return q, err
	}
	form, err := q.Form.With(merge(options).Changes)
	if err != nil {
		return q, err
	}
	left := slices.DeleteFunc(slices.Clone(q.Options), func(o Option) bool { return slices.Contains(keys, o.Key) })
	return s.SaveDraftWith(ctx, id, edit, q.CustomerID, q.Title, form, left)
}

// Offer makes options of suggestions, by their keys, each of its own or all of them as one. What is an option already
// stays one.
func (s *Service) Offer(ctx context.Context, id string, edit int, keys []string, asOne bool) (Quote, error) {
	q, options, err := s.pickedOf(ctx, id, keys)
	if err != nil {
		return q, err
	}
	if asOne && len(options) > 0 {
		options = []Option{merge(options)}
	}
	all := slices.Clone(q.Options)
	for _, o := range options {
		if !slices.ContainsFunc(all, func(is Option) bool { return sameChanges(is, o) }) {
			o.Key = ""
			all = append(all, o)
		}
	}
	return s.SaveOptions(ctx, id, edit, all)
}

func (s *Service) pickedOf(ctx context.Context, id string, keys []string) (Quote, []Option, error) {
	q, err := s.Quote(ctx, id)
	if err != nil {
		return q, nil, err
	}
	if q.State != Draft {
		return q, nil, frozen(q)
	}
	candidates, err := s.Candidates(ctx, q)
	if err != nil {
		return q, nil, err
	}
	if len(keys) == 0 {
		return q, nil, problem("with", "", "Choose at least one change.")
	}
	options, err := picked(candidates, keys)
	return q, options, err
}
