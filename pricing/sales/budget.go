package sales

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/money"
)

// How far a search for a budget goes: so many estimates, so long. A search of fewer sets than that is complete.
const (
	mostTried = 120
	fewTries  = 8       // of a size, while nothing fits yet
	mostSets  = 5_000   // of one size that are put in order
	mostSteps = 200_000 // in listing them
	longest   = 6 * time.Second
	mostFound = 3
)

// Set is some options without clashes, with the estimate of the whole with all of them.
type Set struct {
	Options  []Option
	Form     orderform.Form
	Estimate *pricing.Estimate
}

// Keys are those of its options.
func (s Set) Keys() []string {
	keys := make([]string, len(s.Options))
	for i, o := range s.Options {
		keys[i] = o.Key
	}
	return keys
}

// Name is what it changes, in the options' words.
func (s Set) Name() string {
	names := make([]string, len(s.Options))
	for i, o := range s.Options {
		names[i] = o.Name
	}
	return strings.Join(names, ", ")
}

// Gross is what the customer would pay.
func (s Set) Gross() money.Amount { return s.Estimate.Price.Gross }

// Within is what fits a budget.
type Within struct {
	Budget money.Amount
	Base   pricing.Estimate
	Fits   []Set // of the fewest changes that do, the closest under the budget first; without options where the spec fits
	Least  Set   // the cheapest of all that was tried
	Tried  int   // estimates beside the spec's own
	Wrong  int   // of them, what cannot be made
	All    bool  // every set of as many changes as were needed was tried; otherwise the search came to its bound
}

// Candidates are what may be changed of a draft: its options, and the suggestions that are not among them. Their keys
// are different.
func (s *Service) Candidates(ctx context.Context, q Quote) ([]Suggestion, error) {
	w, err := s.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	c, err := s.Customer(ctx, q.CustomerID)
	if err != nil {
		return nil, err
	}
	all := make([]Suggestion, 0, len(q.Options))
	for _, o := range q.Options {
		all = append(all, Suggestion{o, o.Name})
	}
	for _, one := range Suggestions(q.Form, w.Figures.Catalogue, c.tongue()) {
		if !slices.ContainsFunc(q.Options, func(o Option) bool { return sameChanges(o, one.Option) }) {
			all = append(all, one)
		}
	}
	return all, nil
}

// Fitting looks for the options and suggestions that bring a draft within a budget, tax included: full estimates of
// sets without clashes, the fewest changes first. Nothing is stored.
func (s *Service) Fitting(ctx context.Context, q Quote, sum decimal.Decimal) (Within, error) {
	spec, snap, err := s.asked(ctx, q.CustomerID, q.Form)
	if err != nil {
		return Within{}, err
	}
	candidates, err := s.Candidates(ctx, q)
	if err != nil {
		return Within{}, err
	}
	budget := money.Round(sum, snap.Rates.Currency)
	base, err := pricing.Make(ctx, spec, snap, pricing.Live)
	if err != nil {
		return Within{}, err
	}
	options := make([]Option, len(candidates))
	for i, c := range candidates {
		options[i] = c.Option
	}
	inTime, cancel := context.WithTimeout(ctx, longest)
	defer cancel()
	return fitting(ctx, inTime, base, q.Form, options, budget, func(ctx context.Context, f orderform.Form) (pricing.Estimate, error) {
		spec, err := f.Spec()
		if err != nil {
			return pricing.Estimate{}, err
		}
		return pricing.Make(ctx, spec, snap, pricing.Live)
	})
}

// fitting searches with any estimator. Single changes are all tried. Then every size from two on gets a few tries of
// what looks as if it fits, until something does; then whatever is left of fewer and of as many changes, the likeliest
// first, until the bound, or until inTime ends.
func fitting(ctx, inTime context.Context, base pricing.Estimate, form orderform.Form, options []Option, budget money.Amount, estimate func(context.Context, orderform.Form) (pricing.Estimate, error)) (Within, error) {
	f := fitter{
		Within: Within{Budget: budget, Base: base, All: true, Least: Set{Form: form, Estimate: &base}}, form: form, options: options, estimate: estimate,
		single: make([]money.Amount, len(options)), tried: map[uint64]bool{}, size: len(options),
	}
	if base.Price.Gross.Cmp(budget) <= 0 {
		f.Fits = []Set{f.Least}
		return f.Within, nil
	}
	for i := range options {
		f.not = append(f.not, 0)
		for k := range options {
			if i != k && options[i].clashes(options[k]) {
				f.not[i] |= 1 << k
			}
		}
	}
	for pass, most := range []int{fewTries, mostTried} {
		for size := 1 + pass; size <= f.size && !f.over; size++ {
			if err := f.level(ctx, inTime, size, most); err != nil {
				return f.Within, err
			}
			if size == 1 && f.size > 1 {
				f.everything(inTime)
			}
		}
	}
	f.All = !f.over && !f.cut
	f.Fits = slices.DeleteFunc(f.Fits, func(s Set) bool { return len(s.Options) > f.size })
	slices.SortStableFunc(f.Fits, func(a, b Set) int { return b.Gross().Cmp(a.Gross()) })
	f.Fits = f.Fits[:min(len(f.Fits), mostFound)]
	return f.Within, nil
}

type fitter struct {
	Within
	form     orderform.Form
	options  []Option
	not      []uint64       // which others each option clashes with
	single   []money.Amount // what each option alone adds; nothing where it cannot be made
	tried    map[uint64]bool
	size     int  // the fewest changes that fit so far; before, all there are
	over     bool // the bound was reached
	cut      bool // not every set was even put in order
	estimate func(context.Context, orderform.Form) (pricing.Estimate, error)
}

// level tries sets of a size: all of one change; of more as many as are given, of which the few of the first pass only
// go to what looks as if it fits.
func (f *fitter) level(ctx, inTime context.Context, size, most int) error {
	hopeful := most < mostTried
	if hopeful && size > 1 && f.hopeless(size) {
		return nil
	}
	for i, set := range f.sets(size) {
		if f.over || hopeful && size > 1 && (i >= most || f.guess(set).Cmp(f.Budget) > 0) {
			return nil
		}
		if err := f.try(inTime, set); err != nil && (ctx.Err() != nil || fault.KindOf(err) != fault.Unavailable) {
			return err
		}
	}
	return nil
}

// hopeless tells that not even what saves most looks as if so many changes did it.
func (f *fitter) hopeless(size int) bool {
	sorted := slices.SortedFunc(slices.Values(f.single), money.Amount.Cmp)
	return money.Sum(f.Budget.Currency(), append(sorted[:min(size, len(sorted))], f.Base.Price.Gross)...).Cmp(f.Budget) > 0
}

// try estimates one set, once.
func (f *fitter) try(ctx context.Context, set []int) error {
	var mask uint64
	for _, i := range set {
		mask |= 1 << i
	}
	if f.tried[mask] {
		return nil
	}
	if f.Tried >= mostTried || ctx.Err() != nil {
		f.over = true
		return nil
	}
	f.tried[mask] = true
	f.Tried++
	one := Set{}
	changes := make([]PrintedOption, len(set))
	for i, n := range set {
		one.Options, changes[i] = append(one.Options, f.options[n]), PrintedOption{Option: f.options[n]}
	}
	var e pricing.Estimate
	var err error
	if one.Form, err = with(f.form, changes); err == nil {
		e, err = f.estimate(ctx, one.Form)
	}
	switch {
	case err != nil && fault.KindOf(err) == fault.Invalid:
		f.Wrong++
		return nil
	case err != nil:
		return err
	}
	one.Estimate = &e
	gross := one.Gross()
	if len(set) == 1 {
		f.single[set[0]] = gross.Sub(f.Base.Price.Gross)
	}
	if gross.Cmp(f.Least.Gross()) < 0 {
		f.Least = one
	}
	if gross.Cmp(f.Budget) <= 0 {
		f.Fits, f.size = append(f.Fits, one), min(f.size, len(set))
	}
	return nil
}

// everything tries all that saves alone at once, the best of what clashes: without it the least would only be the least
// of few changes.
func (f *fitter) everything(ctx context.Context) {
	order := make([]int, 0, len(f.single))
	for i, more := range f.single {
		if more.Sign() < 0 {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return f.single[a].Cmp(f.single[b]) })
	var set []int
	for _, i := range order {
		if !slices.ContainsFunc(set, func(k int) bool { return f.options[i].clashes(f.options[k]) }) {
			set = append(set, i)
		}
	}
	if len(set) > 1 {
		slices.Sort(set)
		_ = f.try(ctx, set) // what is wrong with all of it at once says nothing of less
	}
}

// guess is what a set would come to if nothing in it saved twice: for the order of trying, never for a price.
func (f *fitter) guess(set []int) money.Amount {
	sum := f.Base.Price.Gross
	for _, i := range set {
		sum = sum.Add(f.single[i])
	}
	return sum
}

// sets are those of a size without clashes, the likeliest first: closest under
// the budget, then closest above.
func (f *fitter) sets(size int) [][]int {
	var all [][]int
	order := make([]int, len(f.options)) // what saves most first, for where not all are listed
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return f.single[a].Cmp(f.single[b]) })
	steps := 0
	var grow func(set []int, not uint64, from int)
	grow = func(set []int, not uint64, from int) {
		if len(set) == size {
			all = append(all, slices.Sorted(slices.Values(set)))
			return
		}
		for n := from; n <= len(order)-size+len(set) && len(all) < mostSets && steps < mostSteps; n++ {
			steps++
			if i := order[n]; not>>i&1 == 0 {
				grow(append(set, i), not|f.not[i], n+1)
			}
		}
	}
	grow(nil, 0, 0)
	f.cut = f.cut || len(all) == mostSets || steps == mostSteps
	if size == 1 {
		return all
	}
	type guessed struct {
		set  []int
		over money.Amount // the budget, as it looks
	}
	list := make([]guessed, len(all))
	for i, set := range all {
		list[i] = guessed{set, f.guess(set).Sub(f.Budget)}
	}
	slices.SortStableFunc(list, func(a, b guessed) int {
		switch fitsA, fitsB := a.over.Sign() <= 0, b.over.Sign() <= 0; {
		case fitsA && fitsB:
			return b.over.Cmp(a.over)
		case fitsA:
			return -1
		case fitsB:
			return 1
		}
		return a.over.Cmp(b.over)
	})
	for i, g := range list {
		all[i] = g.set
	}
	return all
}
