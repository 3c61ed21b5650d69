package sales_test

import (
	"context"
	"fmt"
	"hash/fnv"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// euros is an estimate of which only the price matters.
func euros(n int64) (e pricing.Estimate) {
	e.Price.Gross = money.Round(decimal.NewFromInt(n), "EUR")
	return e
}

// Against brute force over all sets without clashes, with prices that do not add up and sets that cannot be made: the
// fewest changes, among them the closest under the budget, and the least of all where nothing fits.
func TestFittingIsThatOfBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 6).Draw(t, "options")
		salt, budget := rapid.Uint32().Draw(t, "salt"), rapid.Int64Range(300, 1100).Draw(t, "budget")
		var options []sales.Option
		for i := range n {
			// Some write the same entry and clash.
			path := fmt.Sprintf("entry-%d", rapid.IntRange(0, 6).Draw(t, "path"))
			options = append(options, sales.Option{Key: fmt.Sprint(i), Name: fmt.Sprint("option ", i), Changes: map[string]string{path: ""}})
		}
		paths := []string{"studs", "clear_coats", "weathering", "core.layers", "coat.coats", "rim.width", "grip.strap"}
		base := orderform.Form{}
		for i, o := range options {
			for p := range o.Changes {
				options[i].Changes = map[string]string{paths[p[len(p)-1]-'0']: fmt.Sprint(i + 2)}
			}
		}
		price := func(f orderform.Form) (pricing.Estimate, error) {
			fields := f.Fields()
			gross := int64(1000)
			h := fnv.New32a()
			for _, path := range slices.Sorted(maps.Keys(fields)) {
				one := fnv.New32a()
				fmt.Fprint(one, path, fields[path], salt)
				gross += int64(one.Sum32()%300) - 220
				fmt.Fprint(h, path, fields[path])
			}
			fmt.Fprint(h, salt)
			gross += int64(h.Sum32() % 90) // nothing adds up
			if len(fields) > 0 && h.Sum32()%11 == 0 {
				return euros(0), fault.New(fault.Invalid, "cannot be made")
			}
			return euros(gross), nil
		}
		start, _ := price(base)
		got, err := sales.Fitting(context.Background(), start, base, options, euros(budget).Price.Gross, func(_ context.Context, f orderform.Form) (pricing.Estimate, error) { return price(f) })
		if err != nil {
			t.Fatal(err)
		}
		size, best, least := -1, int64(-1), start.Price.Gross.Decimal().IntPart()
		for set := range 1 << n {
			changes, clash, count := map[string]string{}, false, 0
			for i, o := range options {
				if set>>i&1 == 0 {
					continue
				}
				count++
				for p, v := range o.Changes {
					_, taken := changes[p]
					clash = clash || taken
					changes[p] = v
				}
			}
			f, err := base.With(changes)
			if err != nil {
				t.Fatal(err)
			}
			e, err := price(f)
			if clash || err != nil {
				continue
			}
			g := e.Price.Gross.Decimal().IntPart()
			least = min(least, g)
			if g <= budget && (size < 0 || count < size || count == size && g > best) {
				size, best = count, g
			}
		}
		if !got.All {
			t.Fatalf("a small search was not complete: %+v", got.Tried)
		}
		switch {
		case size < 0 && len(got.Fits) > 0, size >= 0 && len(got.Fits) == 0:
			t.Fatalf("found %d sets, brute force one of %d changes at %d", len(got.Fits), size, best)
		case size < 0 && got.Least.Gross().Decimal().IntPart() != least:
			t.Fatalf("the least is %s, brute force %d", got.Least.Gross(), least)
		case size >= 0 && (len(got.Fits[0].Options) != size || got.Fits[0].Gross().Decimal().IntPart() != best):
			t.Fatalf("%s by %d changes, brute force %d by %d", got.Fits[0].Gross(), len(got.Fits[0].Options), best, size)
		}
	})
}

// A search that is too large ends at its bound, says so, and still does not deny what it found on the way.
func TestFittingIsBounded(t *testing.T) {
	var options []sales.Option
	paths := []string{"studs", "clear_coats", "weathering", "core.layers", "coat.coats", "rim.width", "grip.strap", "complexity", "back.finish", "back.tool", "grip.kind", "grip.hand", "edge.foam",
		"core.set", "core.joint", "coat.system", "filler", "rule", "caveat", "delivery.ship"}
	for i, p := range paths {
		options = append(options, sales.Option{Key: fmt.Sprint(i), Name: p, Changes: map[string]string{p: "1"}})
	}
	estimates := 0
	saves := func(_ context.Context, f orderform.Form) (pricing.Estimate, error) {
		estimates++
		return euros(1000 - 10*int64(len(f.Fields()))), nil
	}
	for budget, fits := range map[int64]int{820: 18, 800: 20, 700: -1, 975: 3, 1000: 0} {
		estimates = 0
		got, err := sales.Fitting(context.Background(), euros(1000), orderform.Form{}, options, euros(budget).Price.Gross, saves)
		if err != nil || estimates != got.Tried || got.Tried > 120 {
			t.Fatalf("%d: %d tried, %d estimates, %v", budget, got.Tried, estimates, err)
		}
		switch {
		case fits < 0:
			if len(got.Fits) > 0 || got.All || got.Least.Gross().String() != "800.00" || len(got.Least.Options) != 20 {
				t.Errorf("%d: the least is %s, all %v", budget, got.Least.Gross(), got.All)
			}
		case len(got.Fits) == 0 || got.Fits[0].Gross().Decimal().IntPart() > budget:
			t.Errorf("%d: nothing was found", budget)
		case fits <= 3 && len(got.Fits[0].Options) != fits:
			t.Errorf("%d: %d changes, want %d", budget, len(got.Fits[0].Options), fits)
		}
	}
	ctx, end := context.WithCancel(context.Background())
	end()
	if _, err := sales.Fitting(ctx, euros(1000), orderform.Form{}, options, euros(700).Price.Gross, func(context.Context, orderform.Form) (pricing.Estimate, error) {
		return euros(0), fault.New(fault.Unavailable, "too long")
	}); err != nil && fault.KindOf(err) != fault.Unavailable {
		t.Error(err)
	}
}

// On real estimates: what is found costs what it says when it is the draft, and no single change does where it takes two.
func TestWhatFitsABudget(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	q := b.draft(design(t, "heron-kite", nil), sales.Option{Name: "without gems and rim", Changes: map[string]string{"gems": "", "rim": ""}})
	candidates, err := b.Candidates(t.Context(), q)
	fatal(t, err)
	var names []string
	var options []sales.Option
	for _, c := range candidates {
		names, options = append(names, c.Key), append(options, c.Option)
	}
	for _, sum := range []string{"700", "10"} {
		budget := money.Round(decimal.RequireFromString(sum), "EUR")
		within, err := b.Fitting(t.Context(), q, budget.Decimal()) // goes as far as a busy machine lets it
		fatal(t, err)
		got, err := sales.Fitting(t.Context(), within.Base, q.Form, options, budget, func(ctx context.Context, f orderform.Form) (pricing.Estimate, error) {
			return b.Estimate(ctx, q.CustomerID, f)
		})
		fatal(t, err)
		if sum == "10" {
			if len(got.Fits) > 0 || got.Least.Gross().Cmp(got.Base.Price.Gross) >= 0 || len(got.Least.Options) < 5 {
				t.Errorf("for 10: %d sets, least %s by %s", len(got.Fits), got.Least.Gross(), got.Least.Name())
			}
			continue
		}
		if len(got.Fits) == 0 {
			t.Errorf("nothing for %s; the least is %s", sum, got.Least.Gross())
			continue
		}
		for _, set := range got.Fits {
			e, err := b.Estimate(t.Context(), q.CustomerID, set.Form)
			fatal(t, err)
			if !e.Price.Gross.Equal(set.Gross()) || set.Gross().Cmp(budget) > 0 {
				t.Errorf("for %s: %s says %s and costs %s", sum, set.Name(), set.Gross(), e.Price.Gross)
			}
		}
		t.Logf("for %s: %s, %s; %d tried, all %v", sum, got.Fits[0].Name(), got.Fits[0].Gross(), got.Tried, got.All)
	}
	if names[0] != "a" || !strings.Contains(strings.Join(names, " "), "no-gems") {
		t.Error(names)
	}
}
