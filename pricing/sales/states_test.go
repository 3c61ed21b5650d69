package sales_test

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strconv"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// family is all versions of one quote while a test leads them through their states.
type family struct {
	*books
	t       *rapid.T
	first   string // ID
	numbers map[sales.Number]bool
}

func (f *family) versions() []sales.Quote {
	f.t.Helper()
	q, err := f.Quote(f.t.Context(), f.first)
	if fault.KindOf(err) == fault.NotFound {
		return nil
	}
	f.ok(err)
	all, err := f.Versions(f.t.Context(), q)
	f.ok(err)
	return all
}

func (f *family) ok(err error) {
	f.t.Helper()
	if err != nil {
		f.t.Fatal(err)
	}
}

// acts are everything that can be done to a version, by name.
func (f *family) acts() map[string]func(q sales.Quote) error {
	ctx := f.t.Context()
	choose := func(keys ...string) func(q sales.Quote) error {
		return func(q sales.Quote) error {
			taken, err := f.Accept(ctx, q.ID, sales.Choice{Options: keys, Name: "Mara"}, "Wren")
			if err != nil {
				return err
			}
			want, err := q.With(keys)
			if err == nil && !taken.Order.Totals().Gross.Equal(want.Gross) {
				return fmt.Errorf("an order of %s, the choice comes to %s", taken.Order.Totals().Gross, want.Gross)
			}
			return err
		}
	}
	return map[string]func(q sales.Quote) error{
		"accept": choose(), "accept with a": choose("a"), "accept with both": choose("a", "b"),
		"decline": func(q sales.Quote) error {
			_, err := f.Decline(ctx, q.ID, sales.Choice{Note: "too dear"}, "Wren")
			return err
		},
		"revise": func(q sales.Quote) error {
			_, err := f.Revise(ctx, q.ID)
			return err
		},
		"save": func(q sales.Quote) error {
			_, err := f.SaveOptions(ctx, q.ID, q.Edit, q.Options)
			return err
		},
		"issue": func(q sales.Quote) error {
			e, err := f.Estimate(ctx, q.CustomerID, q.Form)
			if err != nil {
				return err
			}
			_, err = f.Issue(ctx, q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, "Wren")
			return err
		},
		"discard": func(q sales.Quote) error { return f.Discard(ctx, q.ID) },
	}
}

// may tells what an act does in a state: "" for done, or the kind of fault that it must be refused with.
func may(act string, q sales.Quote, won, over bool) fault.Kind {
	const done = fault.Internal
	state := q.State
	switch act {
	case "accept", "accept with a", "accept with both":
		if state == sales.Won || state == sales.Issued && !over {
			return done // of what was accepted already only with the same choice
		}
	case "decline":
		if state == sales.Issued || state == sales.Declined {
			return done
		}
	case "revise":
		if state == sales.Draft || !won {
			return done
		}
	case "save", "discard":
		if state == sales.Draft {
			return done
		}
	case "issue":
		if state != sales.Draft || !won {
			return done
		}
	}
	return fault.State
}

// Whatever is done to a quote, one act after another or two at once: what may be done is, what may not is refused and
// says so; of one number one version at most stands, one is written, one became an order; what was issued stays as it
// was; and the numbers of a year have no gap.
func TestQuotesGoThroughTheirStates(t *testing.T) {
	checks(t, 14, 1000)
	b := openBooks(t, nil)
	form := small(t)
	options := []sales.Option{{Name: "three layers", Changes: map[string]string{"core.layers": "3"}}, {Name: "studs", Changes: map[string]string{"studs": "6"}}}
	numbers, documents, kept := map[sales.Number]bool{}, map[string]string{}, 0
	rapid.Check(t, func(rt *rapid.T) {
		q, err := b.NewQuote(rt.Context(), b.customer.ID, "Target", form)
		if err != nil {
			rt.Fatal(err)
		}
		if q, err = b.SaveOptions(rt.Context(), q.ID, q.Edit, options); err != nil {
			rt.Fatal(err)
		}
		f := &family{b, rt, q.ID, numbers}
		names := []string{"accept", "accept with a", "accept with both", "decline", "revise", "save", "issue", "issue", "issue", "discard", "wait"}
		for range rapid.IntRange(2, 9).Draw(rt, "acts") {
			all := f.versions()
			if len(all) == 0 {
				return // thrown away
			}
			q := all[rapid.IntRange(0, len(all)-1).Draw(rt, "version")]
			if rapid.Bool().Draw(rt, "the last") {
				q = all[len(all)-1]
			}
			act := rapid.SampledFrom(names).Draw(rt, "act")
			won := slices.ContainsFunc(all, func(v sales.Quote) bool { return v.State == sales.Won })
			switch {
			case act == "wait":
				*b.now = b.now.AddDate(0, 0, 31)
			case rapid.IntRange(0, 2).Draw(rt, "alone") > 0:
				err := f.acts()[act](q)
				want := may(act, q, won, q.State == sales.Issued && !q.Stands(*b.now))
				if got := fault.KindOf(err); err != nil && (got != want && !(q.State == sales.Won && got == fault.Conflict)) || err == nil && want != fault.Internal {
					rt.Fatalf("%s of version %d, %s: %v", act, q.Version, q.State, err)
				}
			default:
				f.race(all, act, q)
			}
			f.check(documents)
		}
		all := f.versions()
		if len(all) == 0 {
			return
		}
		kept++ // and has a number, by the acts that were drawn or now
		if len(all) == 1 && all[0].State == sales.Draft {
			f.ok(f.acts()["issue"](all[0]))
			f.check(documents)
		}
	})
	last := map[int]int{}
	for n := range numbers {
		last[n.Year] = max(last[n.Year], n.No)
	}
	for year, most := range last {
		for no := 1; no <= most; no++ {
			if !numbers[sales.Number{Year: year, No: no}] {
				t.Errorf("%d of %d was never given", no, year)
			}
		}
	}
	if len(numbers) != kept {
		t.Errorf("%d quotes that were kept have %d numbers", kept, len(numbers))
	}
}

// race does two acts at once: each is done, or refused in words.
func (f *family) race(all []sales.Quote, act string, q sales.Quote) {
	other := rapid.SampledFrom([]string{"accept", "accept with both", "decline", "revise", "save", "issue", "discard"}).Draw(f.t, "other")
	with := all[rapid.IntRange(0, len(all)-1).Draw(f.t, "other version")]
	errs := make([]error, 2)
	var both sync.WaitGroup
	acts := f.acts()
	both.Go(func() { errs[0] = acts[act](q) })
	both.Go(func() { errs[1] = acts[other](with) })
	both.Wait()
	for i, err := range errs {
		switch kind := fault.KindOf(err); {
		case err == nil, kind == fault.State, kind == fault.Conflict, kind == fault.NotFound && (act == "discard" || other == "discard"):
		default:
			f.t.Fatalf("%s and %s at once, the %d.: %v", act, other, i+1, err)
		}
	}
	if act == other && q.ID == with.ID && act == "save" && q.State == sales.Draft && (errs[0] == nil) == (errs[1] == nil) {
		f.t.Fatalf("both saved, or neither: %v", errs)
	}
	accepts := func(s string) bool { return s == "accept" || s == "accept with a" || s == "accept with both" }
	if accepts(act) && accepts(other) && act != other && errs[0] == nil && errs[1] == nil {
		f.t.Fatalf("%s and %s were both done", act, other)
	}
}

// check holds what lies in the books against what must never be.
func (f *family) check(documents map[string]string) {
	all := f.versions()
	states := map[sales.State]int{}
	orders := 0
	for i, v := range all {
		states[v.State]++
		if v.State == sales.Draft {
			continue
		}
		f.numbers[v.Number] = true
		if v.Version != i+1 || v.Number != all[0].Number {
			f.t.Fatalf("version %d of %s at place %d", v.Version, v.Number, i+1)
		}
		is := fmt.Sprint(v.Document, v.Gross, v.ValidUntil.UTC(), v.Printed.Options)
		if was, known := documents[v.ID]; known && was != is {
			f.t.Fatalf("what was issued moved from %s to %s", was, is)
		}
		documents[v.ID] = is
		a, found, err := f.Answer(f.t.Context(), v.ID)
		f.ok(err)
		if found && a.Outcome == sales.Yes {
			orders++
		}
		if answered := v.State == sales.Won || v.State == sales.Declined; answered != found && v.State != sales.Replaced {
			f.t.Fatalf("%s with an answer: %v", v.State, found)
		}
	}
	if states[sales.Issued]+states[sales.Won] > 1 || states[sales.Draft] > 1 || orders != states[sales.Won] {
		f.t.Fatalf("%v, %d orders", states, orders)
	}
}

// checks sets how many families rapid leads through: n, or many more under FOAMWRIGHT_TORTURE=1.
func checks(t *testing.T, n, torture int) {
	t.Helper()
	if os.Getenv("FOAMWRIGHT_TORTURE") == "1" {
		n = torture
	}
	f := flag.Lookup("rapid.checks")
	was := f.Value.String()
	fatal(t, flag.Set("rapid.checks", strconv.Itoa(n)))
	t.Cleanup(func() { _ = flag.Set("rapid.checks", was) })
}
