package sales

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
)

// How many options a quote has at most, and how long a name may be.
const mostOptions, longestOption = 8, 80

// SaveDraftWith is SaveDraft together with the options. They need not be makeable while the spec is not; what can
// never be offered is refused. Options without a key are given one.
func (s *Service) SaveDraftWith(ctx context.Context, id string, edit int, customerID, title string, form orderform.Form, options []Option) (Quote, error) {
	return s.saveDraft(ctx, id, edit, func(q *Quote) error {
		q.CustomerID, q.Title, q.Form, q.Options = customerID, title, form, keyed(options)
		var l fault.List
		checkOptions(&l, q.Options)
		return l.Err()
	})
}

// SaveOptions keeps the options of a draft. Where its spec can be made, an option that cannot, or that changes nothing,
// is refused with what is wrong with it; those that were there before stay whatever became of them.
func (s *Service) SaveOptions(ctx context.Context, id string, edit int, options []Option) (Quote, error) {
	q, err := s.Quote(ctx, id)
	if err != nil {
		return q, err
	}
	var l fault.List
	options = keyed(options)
	checkOptions(&l, options)
	var fresh []Option
	var at []int
	for i, o := range options {
		if !slices.ContainsFunc(q.Options, func(was Option) bool { return sameChanges(was, o) }) {
			fresh, at = append(fresh, o), append(at, i)
		}
	}
	if l.Empty() && len(fresh) > 0 {
		_, weighed, err := s.Weigh(ctx, q.CustomerID, q.Form, fresh)
		if err != nil && fault.KindOf(err) != fault.Invalid {
			return q, err
		}
		for i, w := range weighed {
			for _, p := range w.Wrong {
				l.Add(fmt.Sprintf("options.%d", at[i]), w.Name, "“"+w.Name+"” cannot be offered. "+inOption(p))
			}
		}
	}
	if err := l.Err(); err != nil {
		return q, err
	}
	return s.saveDraft(ctx, id, edit, func(q *Quote) error {
		q.Options = options
		return nil
	})
}

func sameChanges(a, b Option) bool {
	if len(a.Changes) != len(b.Changes) {
		return false
	}
	for path, typed := range a.Changes {
		if other, ok := b.Changes[path]; !ok || other != typed {
			return false
		}
	}
	return true
}

// keyed gives every option a key of its own, the first letter that is free, and tidies its name.
func keyed(options []Option) []Option {
	all := slices.Clone(options)
	used := map[string]bool{}
	for i := range all {
		if k := all[i].Key; len(k) != 1 || k < "a" || k > "z" || used[k] {
			all[i].Key = ""
		}
		used[all[i].Key] = true
		all[i].Name = strings.TrimSpace(all[i].Name)
	}
	next := byte('a')
	for i := range all {
		for ; all[i].Key == "" && next <= 'z'; next++ {
			if !used[string(next)] {
				all[i].Key = string(next)
			}
		}
	}
	return all
}

// fixed are the entries no option may write: the lines of a quote are for one number of one thing.
func fixed(path string) (remedy string) {
	switch path {
	case "quantity":
		return "An option is for as many pieces as the quote. Make another quote for another number."
	case "kind":
		return "An option stays what it is, a shield, a prop or a repair. Make another quote for another thing."
	case "name":
		return "A name alone is no option. Change another entry with it, or write it as the title."
	}
	return ""
}

// checkOptions adds what can never be offered.
func checkOptions(l *fault.List, options []Option) {
	if n := len(options); n > mostOptions {
		l.Add("options", fmt.Sprint(n), fmt.Sprintf("These are too many to choose from. Keep at most %d.", mostOptions))
		return
	}
	seen := map[string]bool{}
	for i, o := range options {
		field := fmt.Sprintf("options.%d", i)
		switch {
		case o.Name == "":
			l.Add(field+".name", "", "Write what the customer reads beside the box, for example “without gems”.")
		case len([]rune(o.Name)) > longestOption || strings.ContainsAny(o.Name, "\n\r\t"):
			l.Add(field+".name", o.Name, fmt.Sprintf("Write the name on one line, in at most %d letters.", longestOption))
		case seen[strings.ToLower(o.Name)]:
			l.Add(field+".name", o.Name, "Another option is called so. Choose another name.")
		}
		seen[strings.ToLower(o.Name)] = true
		if len(o.Changes) == 0 {
			l.Add(field, o.Name, "Say what is made otherwise: an option changes at least one entry of the spec.")
		}
		for path, typed := range o.Changes {
			if remedy := fixed(path); remedy != "" {
				l.Add(field, typed, remedy)
			}
		}
		if _, err := (orderform.Form{}).With(o.Changes); err != nil && fault.KindOf(err) == fault.Invalid {
			for _, p := range fault.ProblemsOf(err) {
				l.Add(field, o.Name, inOption(p))
			}
		}
	}
}
