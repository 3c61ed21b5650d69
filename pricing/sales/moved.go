package sales

import (
	"context"
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// Sum is one line of the price as it was issued: a group of materials or a line of the build-up.
type Sum struct {
	Key, Label string
	Amount     decimal.Decimal
}

// Moved is what a later version changed, and what that did to the price: worked out when it was issued and then read
// back. Prices and spec are told apart by an estimate of the old spec with the new figures in between.
type Moved struct {
	Version  int                 // it is held against
	Was, Now decimal.Decimal     // what the customer pays, tax included
	Entries  []MovedEntry        // of the spec
	Said     map[string][]string // the same for the customer, a sentence each, by the code of the tongue
	Lines    []MovedLine         // that moved; none where the version before did not keep its sums
	// Prices is what materials, rates and steps did, Spec the rest; neither where Untold says why they cannot be told apart.
	Prices, Spec decimal.Decimal
	Untold       string
}

// MovedEntry is an entry of the spec in words, with what was written there and what is now.
type MovedEntry struct{ What, Was, Now string }

// MovedLine is a line of the price before and now, and what prices and spec did to it.
type MovedLine struct {
	Key, Label             string
	Was, Prices, Spec, Now decimal.Decimal
}

// Told is what a customer reads of it in a tongue: what changed in the spec, and what the price is more or less.
func (m Moved) Told(t words.Tongue, c money.Currency) []string {
	all := slices.Clone(m.Said[t.Code()])
	by := money.Round(m.By(), c)
	switch by.Sign() {
	case 0:
		return append(all, t.Say("The price is what it was."))
	case 1:
		return append(all, t.Say("The price is %s more than before.", t.Price(by)))
	}
	return append(all, t.Say("The price is %s less than before.", t.Price(by.Neg())))
}

// By is what the price moved by.
func (m Moved) By() decimal.Decimal { return m.Now.Sub(m.Was) }

// sums are the lines of an estimate's price: materials by group, then the build-up.
func sums(e pricing.Estimate) []Sum {
	var all []Sum
	for _, share := range e.Shares() {
		all = append(all, Sum{"group " + string(share.Group), Sentence(string(share.Group)), share.Cost.Decimal()})
	}
	for _, l := range e.Price.Lines {
		all = append(all, Sum{l.Key, l.Label, l.Amount.Decimal()})
	}
	return all
}

// movedSince is moved against the last version that was issued; nil for the first.
func movedSince(ctx context.Context, tx Tx, q Quote, sheet Sheet) (*Moved, error) {
	if q.Number.No == 0 {
		return nil, nil
	}
	versions, err := tx.Versions(ctx, q.Number)
	if err != nil {
		return nil, err
	}
	for _, before := range slices.Backward(versions) {
		if before.State != Draft {
			return moved(ctx, before, q, sheet.Estimate, sheet.figures())
		}
	}
	return nil, nil
}

// moved holds a version that is issued against the one before. The old spec with the new figures stands in between; it
// is estimated for the customer of the new version, so how tax is charged counts as a price.
func moved(ctx context.Context, before Quote, q Quote, now pricing.Estimate, snap pricing.Snapshot) (*Moved, error) {
	m := &Moved{
		Said: map[string][]string{}, Version: before.Version, Was: before.Gross.Decimal(), Now: now.Price.Gross.Decimal(),
		Entries: Differences(words.Tongue{}, snap.Catalogue, before.Form, q.Form),
	}
	for _, t := range words.Tongues() {
		for _, d := range Differences(t, snap.Catalogue, before.Form, q.Form) {
			m.Said[t.Code()] = append(m.Said[t.Code()], d.In(t))
		}
	}
	if before.Gross.Currency() != now.Price.Gross.Currency() {
		m.Untold = "The two are in different currencies."
		return m, nil
	}
	between := now
	if changes(before.Form, q.Form) {
		spec, err := before.Form.Spec()
		if err == nil {
			between, err = pricing.Make(ctx, spec, snap, pricing.Issue)
		}
		if kind := fault.KindOf(err); err != nil && kind != fault.Invalid && kind != fault.State {
			return nil, err
		}
		if err != nil {
			m.Untold = "What the version before said cannot be made with today's figures: " + inOption(fault.ProblemsOf(err)[0])
			return m, nil
		}
	}
	mid := between.Price.Gross.Decimal()
	m.Prices, m.Spec = mid.Sub(m.Was), m.Now.Sub(mid)
	if len(before.Printed.Sums) > 0 {
		m.Lines = movedLines(before.Printed.Sums, sums(between), sums(now))
	}
	return m, nil
}

// movedLines are the lines that moved, in the order they are printed now, those that are gone at their old place's end.
func movedLines(was, between, now []Sum) []MovedLine {
	amount := func(list []Sum, key string) decimal.Decimal {
		for _, s := range list {
			if s.Key == key {
				return s.Amount
			}
		}
		return decimal.Zero
	}
	var all []MovedLine
	seen := map[string]bool{}
	for _, list := range [][]Sum{now, between, was} {
		for _, s := range list {
			a, b, c := amount(was, s.Key), amount(between, s.Key), amount(now, s.Key)
			if !seen[s.Key] && (!a.Equal(b) || !b.Equal(c)) {
				all = append(all, MovedLine{s.Key, s.Label, a, b.Sub(a), c.Sub(b), c})
			}
			seen[s.Key] = true
		}
	}
	return all
}
