package sales

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// Weighed is an option with the estimate of the whole with it.
type Weighed struct {
	Option
	Form     orderform.Form // with it
	Estimate *pricing.Estimate
	Amount   money.Amount    // what it adds, as PrintedOption.Amount
	Ready    time.Time       // earliest on an empty bench; zero where there is no estimate
	Days     int             // that this is later than without it; below zero sooner
	Wrong    []fault.Problem // why it is nothing to offer; empty where it is
}

// Weigh estimates a written spec and each option of it with today's figures for a customer. Nothing is stored. The
// fault is about the spec itself; what is wrong with an option stands beside it.
func (s *Service) Weigh(ctx context.Context, customerID string, form orderform.Form, options []Option) (pricing.Estimate, []Weighed, error) {
	spec, snap, err := s.asked(ctx, customerID, form)
	if err != nil {
		return pricing.Estimate{}, nil, err
	}
	base, err := pricing.Make(ctx, spec, snap, pricing.Live)
	if err != nil {
		return base, nil, err
	}
	w, err := s.Workshop(ctx)
	if err != nil {
		return base, nil, err
	}
	all, err := weigh(ctx, base, form, options, snap, pricing.Live)
	dated(w, base, all, snap.Now)
	return base, all, err
}

// dated says of each option when it can be ready, as quotes print it: on an empty bench of this workshop.
func dated(w workshop.Workshop, base pricing.Estimate, all []Weighed, at time.Time) {
	was := emptied(w, base, at)
	for i := range all {
		if e := all[i].Estimate; e != nil {
			all[i].Ready = emptied(w, *e, at)
			all[i].Days = int(stock.Day(all[i].Ready).Sub(stock.Day(was)).Hours() / 24)
		}
	}
}

// weigh estimates each option with the figures and the effort of the base.
func weigh(ctx context.Context, base pricing.Estimate, form orderform.Form, options []Option, snap pricing.Snapshot, effort pricing.Effort) ([]Weighed, error) {
	all := make([]Weighed, len(options))
	for i, o := range options {
		w := &all[i]
		w.Option = o
		e, err := w.estimate(ctx, form, snap, effort)
		switch {
		case err == nil:
			w.Estimate, w.Amount = &e, adds(base, e)
		case fault.KindOf(err) == fault.Invalid:
			w.Wrong = fault.ProblemsOf(err)
		default:
			return nil, err
		}
	}
	return all, nil
}

func (w *Weighed) estimate(ctx context.Context, form orderform.Form, snap pricing.Snapshot, effort pricing.Effort) (e pricing.Estimate, err error) {
	if w.Form, err = form.With(w.Changes); err != nil {
		return e, err
	}
	if !changes(form, w.Form) {
		var l fault.List
		l.Add("", "", "This changes nothing: the spec says the same already. Change an entry, or take the option away.")
		return e, l.Err()
	}
	spec, err := w.Form.Spec()
	if err != nil {
		return e, err
	}
	return pricing.Make(ctx, spec, snap, effort)
}

// changes tells that two forms are not the same spec, however they are written.
func changes(f, with orderform.Form) bool {
	a, errA := f.Spec()
	b, errB := with.Spec()
	if errA == nil && errB == nil {
		return !reflect.DeepEqual(a, b)
	}
	return !reflect.DeepEqual(f.Fields(), with.Fields())
}

// adds is what one estimate costs more than another as prices are printed: net, or with tax where it is inside.
func adds(base, with pricing.Estimate) money.Amount {
	if base.Regime.Registered && base.Regime.GrossPrices {
		return with.Price.Gross.Sub(base.Price.Gross)
	}
	return with.Price.Net.Sub(base.Price.Net)
}

// printOptions weighs the options of a draft that is issued, all that is wrong with them at once.
func printOptions(ctx context.Context, q Quote, sheet Sheet) ([]PrintedOption, error) {
	base, snap, t := sheet.Estimate, sheet.figures(), sheet.Tongue()
	var l fault.List
	checkOptions(&l, q.Options)
	weighed, err := weigh(ctx, base, q.Form, q.Options, snap, pricing.Issue)
	if err != nil {
		return nil, err
	}
	dated(sheet.Workshop, base, weighed, sheet.Date)
	var all []PrintedOption
	for i, w := range weighed {
		for _, p := range w.Wrong {
			l.Add(fmt.Sprintf("options.%d", i), w.Name, "“"+w.Name+"” cannot be offered. "+inOption(p))
		}
		if w.Estimate == nil {
			continue
		}
		o := PrintedOption{Option: w.Option, Amount: w.Amount.Decimal()}
		if o.Days = w.Days; o.Days != 0 {
			o.Ready = w.Ready
		}
		if w.Estimate.Verdict.Answer != base.Verdict.Answer {
			o.Verdict = Judged(t, w.Estimate.Verdict)
		}
		known := Cautions(t, base)
		for _, c := range Cautions(t, *w.Estimate) {
			if !slices.Contains(known, c) {
				o.Cautions = append(o.Cautions, c)
			}
		}
		all = append(all, o)
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	return all, together(q.Form, all, snap)
}

// together notes which two options write other entries and still cannot be made in one piece. Three that can be had
// by twos and not at once are refused when they are chosen.
func together(f orderform.Form, options []PrintedOption, snap pricing.Snapshot) error {
	for i := range options {
		for k := range options[:i] {
			a, b := &options[k], &options[i]
			if a.Option.clashes(b.Option) {
				continue
			}
			both, err := with(f, []PrintedOption{*a, *b})
			if err == nil {
				spec, unread := both.Spec()
				if err = unread; err == nil {
					_, err = pricing.Tasks(spec, snap)
				}
			}
			if err != nil && fault.KindOf(err) == fault.Internal {
				return err
			}
			if err != nil {
				a.Not, b.Not = append(a.Not, b.Key), append(b.Not, a.Key)
			}
		}
	}
	return nil
}

// inOption is a problem in a sentence, with the entry it is about.
func inOption(p fault.Problem) string {
	if p.Field == "" {
		return p.Remedy
	}
	return Sentence(EntryName(words.Tongue{}, p.Field)) + ": " + p.Remedy
}
