package sales_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// chosen are options of the kite that go together, but for the last two, of which one can be had.
func chosen() []sales.Option {
	return []sales.Option{
		{Name: "without gems", Changes: map[string]string{"gems": ""}},
		{Name: "rim of 60 mm", Changes: map[string]string{"rim.width": "60 mm"}},
		{Name: "two layers", Changes: map[string]string{"core.layers": "2"}},
		{Name: "primer, no latex", Changes: map[string]string{"coat.system": "primer", "coat.coats": "2"}},
		{Name: "three coats", Changes: map[string]string{"coat.coats": "3"}},
	}
}

// regimes are the ways that prices are made.
func regimes() map[string]func(*workshop.Workshop) {
	return map[string]func(*workshop.Workshop){
		"tax added":      nil,
		"tax inside":     func(w *workshop.Workshop) { w.Figures.Tax.GrossPrices = true },
		"not registered": func(w *workshop.Workshop) { w.Figures.Tax.Registered = false },
		"odd cents, tax by the line": func(w *workshop.Workshop) {
			w.Figures.Rates.Step, w.Figures.Tax.PerLine, w.Figures.Tax.Mode = decimal.Zero, true, money.HalfDown
		},
	}
}

// What an option adds is the difference of two whole estimates with the figures of the day; what a choice of them costs
// is their sum, with the tax of the sum; and an order of them is made to all of them at once.
func TestOptionsAreDifferencesOfWholeEstimates(t *testing.T) {
	t.Parallel()
	for name, regime := range regimes() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := openBooks(t, regime)
			form := design(t, "heron-kite", map[string]string{"quantity": "2"})
			q := b.issue(b.draft(form, chosen()...))
			base := b.estimate(form)
			empty, err := b.Fit(t.Context(), base)
			fatal(t, err)
			g := q.Printed.Terms.Regime
			printed := func(e pricing.Estimate) money.Amount {
				if g.GrossPrices && g.Registered {
					return e.Price.Gross
				}
				return e.Price.Net
			}
			if len(q.Printed.Options) != 5 {
				t.Fatalf("%d options", len(q.Printed.Options))
			}
			for _, o := range q.Printed.Options {
				with, err := form.With(o.Changes)
				fatal(t, err)
				e := b.estimate(with)
				if want := printed(e).Sub(printed(base)); !want.Decimal().Equal(o.Amount) {
					t.Errorf("%s adds %s, two estimates differ by %s", o.Name, o.Amount, want)
				}
				fit, err := b.Fit(t.Context(), e)
				fatal(t, err)
				if days := int(stock.Day(fit.Empty.Ready).Sub(stock.Day(empty.Empty.Ready)).Hours() / 24); days != o.Days || (days == 0) != o.Ready.IsZero() {
					t.Errorf("%s moves it by %d days, not %d", o.Name, days, o.Days)
				}
			}
			for set := range 1 << 5 {
				var keys []string
				lines := []tax.Line{{Amount: printed(base), Rate: q.Printed.Terms.Rate}}
				for i, o := range q.Printed.Options {
					if set>>i&1 == 1 {
						keys = append(keys, o.Key)
						lines = append(lines, tax.Line{Amount: money.Round(o.Amount, "EUR"), Rate: q.Printed.Terms.Rate})
					}
				}
				got, err := q.With(keys)
				if set>>3 == 3 {
					if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "cannot be had together") {
						t.Errorf("%v: %v", keys, err)
					}
					continue
				}
				fatal(t, err)
				if want := g.Totals("EUR", lines); got.Net.String() != want.Net.String() || got.Gross.String() != want.Gross.String() || !got.Net.Add(got.Tax).Equal(got.Gross) {
					t.Errorf("%v cost %s + %s = %s, want %s, %s", keys, got.Net, got.Tax, got.Gross, want.Net, want.Gross)
				}
			}
			keys := []string{"a", "b", "c", "d"}
			want, err := q.With(keys)
			fatal(t, err)
			taken, err := b.Accept(t.Context(), q.ID, sales.Choice{Options: keys, Name: "Mara Quist"}, "Wren")
			fatal(t, err)
			if got := taken.Order.Totals(); !got.Gross.Equal(want.Gross) || len(taken.Order.Lines) != 5 {
				t.Errorf("the order comes to %s by %d lines, not %s", got.Gross, len(taken.Order.Lines), want.Gross)
			}
			all := map[string]string{"gems": "", "rim.width": "60 mm", "core.layers": "2", "coat.system": "primer", "coat.coats": "2"}
			with, err := form.With(all)
			fatal(t, err)
			made := b.estimate(with)
			takes := map[string]decimal.Decimal{}
			for _, c := range made.Materials {
				takes[c.Item] = takes[c.Item].Add(c.Quantity.Value)
			}
			for _, k := range taken.Quote.Printed.Takes {
				if !k.Quantity.Equal(takes[k.Item]) {
					t.Errorf("the order takes %s of %s, the whole of what was chosen %s", k.Quantity, k.Item, takes[k.Item])
				}
				delete(takes, k.Item)
			}
			for _, p := range taken.Promises {
				if p.Item == "latex" {
					t.Error("latex is set aside for a shield without it")
				}
			}
			if len(takes) > 0 || !strings.Contains(strings.Join(taken.Quote.Printed.Made, " "), "no latex") {
				t.Errorf("not taken: %v; %v", takes, taken.Quote.Printed.Made)
			}
		})
	}
}

// Options that take away different rows of a list are both had: the rows one takes away do not move the other's.
func TestOptionsOfRowsGoTogether(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	form := design(t, "heron-kite", map[string]string{"grooves.0.length": "2 m", "grooves.1.length": "1 m"})
	q := b.issue(b.draft(form, sales.Option{Name: "no fine lines", Changes: map[string]string{"grooves.0": ""}}, sales.Option{Name: "no outline", Changes: map[string]string{"grooves.1": ""}}))
	taken, err := b.Accept(t.Context(), q.ID, sales.Choice{Options: []string{"a", "b"}}, "Wren")
	fatal(t, err)
	if n := len(taken.Quote.Form.Grooves); n != 0 {
		t.Errorf("%d grooves are left", n)
	}
}

func TestOptionsThatCannotBeOffered(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	q := b.draft(design(t, "heron-kite", nil))
	one := func(changes ...string) []sales.Option {
		o := sales.Option{Name: "other", Changes: map[string]string{}}
		for i := 0; i < len(changes); i += 2 {
			o.Changes[changes[i]] = changes[i+1]
		}
		return []sales.Option{o}
	}
	nine := make([]sales.Option, 9)
	for i := range nine {
		nine[i] = sales.Option{Name: fmt.Sprint("layers ", i), Changes: map[string]string{"studs": fmt.Sprint(i + 1)}}
	}
	for name, c := range map[string]struct {
		options      []sales.Option
		field, value string
		remedy       string
	}{
		"cannot be made":        {one("core.former_radius", "5 mm"), "options.0", "other", "cannot be offered. Curve:"},
		"cannot be read":        {one("core.layers", "many"), "options.0", "other", "Layers: Write a whole number"},
		"no such entry":         {one("core.wobble", "3"), "options.0", "other", "no such entry"},
		"changes nothing":       {one("core.layers", "3"), "options.0", "other", "changes nothing"},
		"says the same":         {one("outline.width", "560 mm"), "options.0", "other", "changes nothing"},
		"another number":        {one("quantity", "4"), "options.0", "4", "Make another quote"},
		"another kind":          {one("kind", "prop"), "options.0", "prop", "Make another quote"},
		"nothing at all":        {one(), "options.0", "other", "at least one entry"},
		"too many":              {nine, "options", "9", "at most 8"},
		"without a name":        {[]sales.Option{{Changes: map[string]string{"gems": ""}}}, "options.0.name", "", "beside the box"},
		"a name that is a page": {[]sales.Option{{Name: strings.Repeat("x", 81), Changes: map[string]string{"gems": ""}}}, "options.0.name", strings.Repeat("x", 59) + "…", "at most 80"},
		"the same name twice":   {append(one("gems", ""), one("studs", "3")...), "options.1.name", "other", "Another option"},
	} {
		_, err := b.SaveOptions(t.Context(), q.ID, q.Edit, c.options)
		problems := fault.ProblemsOf(err)
		if fault.KindOf(err) != fault.Invalid || len(problems) == 0 || problems[0].Field != c.field || problems[0].Value != c.value || !strings.Contains(err.Error(), c.remedy) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if now, err := b.Quote(t.Context(), q.ID); err != nil || now.Edit != q.Edit || len(now.Options) > 0 {
		t.Errorf("%d options were kept, %v", len(now.Options), err)
	}
	// What became wrong after it was kept is found when it is issued, all of it, and then nothing is issued.
	q, err := b.SaveOptions(t.Context(), q.ID, q.Edit, append(one("gems", ""), sales.Option{Name: "thin", Changes: map[string]string{"core.layers": "2"}}))
	fatal(t, err)
	form, err := q.Form.With(map[string]string{"gems": "", "core.layers": "2"})
	fatal(t, err)
	q, err = b.SaveDraft(t.Context(), q.ID, q.Edit, q.CustomerID, q.Title, form)
	fatal(t, err)
	if len(q.Options) != 2 || q.Options[1].Key != "b" {
		t.Fatalf("keeping the spec lost its options: %+v", q.Options)
	}
	if _, err = b.Issue(t.Context(), q.ID, b.shown(q), "Wren"); fault.KindOf(err) != fault.Invalid || len(fault.ProblemsOf(err)) != 2 {
		t.Error(err)
	}
	if _, err = b.SaveOptions(t.Context(), q.ID, q.Edit-1, nil); fault.KindOf(err) != fault.Conflict {
		t.Error(err)
	}
}

// Two that write different entries and cannot be made together exclude each other on the printed quote.
func TestWhatCannotBeMadeTogetherIsTold(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	q := b.issue(b.draft(small(t), sales.Option{Name: "curved", Changes: map[string]string{"core.former_radius": "250 mm"}},
		sales.Option{Name: "bent by hand", Changes: map[string]string{"core.depth": "40 mm"}}, sales.Option{Name: "studs", Changes: map[string]string{"studs": "8"}}))
	if _, err := q.With([]string{"a", "b"}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("both were had: %v", err)
	}
	groups := sales.OptionGroups(q.Printed.Options)
	if len(groups) != 2 || !groups[0].OneOf || len(groups[0].Options) != 2 || groups[1].OneOf {
		t.Errorf("%+v", groups)
	}
}

// Every suggestion for every design of the demo changes something, can be made, and has a key and a name of its own.
func TestSuggestionsCanBeMade(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	w, err := b.Workshop(t.Context())
	fatal(t, err)
	for _, name := range []string{"heron-kite", "ferry-buckler", "tidewall-heater", "lantern-tower"} { // of the demo, the ones most unlike each other
		form := design(t, name, nil)
		list := sales.Suggestions(form, w.Figures.Catalogue, words.Speak("de"))
		if len(list) < 5 {
			t.Errorf("%s: only %d", name, len(list))
		}
		seen := map[string]bool{}
		var options []sales.Option
		for _, s := range list {
			if seen[s.Key] || seen[s.Name] || seen[s.Says] || s.Says == s.Name {
				t.Errorf("%s: %+v is there twice, or is not in the customer's tongue", name, s)
			}
			seen[s.Key], seen[s.Name], seen[s.Says] = true, true, true
			options = append(options, s.Option)
			if len(sales.ChangesIn(w.Figures.Catalogue, form, s.Changes)) == 0 {
				t.Errorf("%s: %s has no words for what it changes", name, s.Says)
			}
		}
		_, weighed, err := b.Weigh(t.Context(), b.customer.ID, form, options)
		fatal(t, err)
		for _, o := range weighed {
			if o.Estimate == nil {
				t.Errorf("%s, %s: %v", name, o.Name, o.Wrong)
			}
		}
	}
	var got []string
	for _, s := range sales.Suggestions(design(t, "heron-kite", nil), w.Figures.Catalogue, words.Tongue{}) {
		got = append(got, s.Says)
	}
	want := []string{"one layer of foam fewer", "without gems", "without the raised piece “heron”", "without the rim", "flexible primer instead of latex", "one coat fewer",
		"without clear coats", "planks without wood grain", "plain back", "carving by knife instead of the rotary tool", "without weathering",
		"held by straps instead of a bar", "flat instead of curved", "a carved emblem", "one layer of foam more", "collected instead of shipped"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
