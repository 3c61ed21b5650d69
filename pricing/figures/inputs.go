package figures

import (
	"slices"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/labour"
)

// shifted is a snapshot with one input a tenth up.
type shifted struct {
	name string
	snap pricing.Snapshot
}

func up(d decimal.Decimal) decimal.Decimal { return d.Mul(one.Add(tenth)) }

// inputs are the snapshots with one input a tenth up each; what the design does not take is left out.
func inputs(e pricing.Estimate, spec shield.Spec, snap pricing.Snapshot) (all []shifted) {
	seen := map[string]bool{}
	for _, c := range e.Materials {
		if c.Item == "" || seen[c.Item] || c.Cost.Sign() == 0 {
			continue
		}
		seen[c.Item] = true
		next := snap
		next.Prices = slices.Clone(snap.Prices)
		for i, p := range next.Prices {
			if p.Item == c.Item {
				next.Prices[i].Amount = up(p.Amount)
			}
		}
		all = append(all, shifted{"Price of " + itemName(snap, c), next})
	}
	for _, g := range e.Work.Grades {
		next, name := snap, "Shop rate"
		if g.Grade == "" {
			next.Rates.Hour = up(snap.Rates.Hour)
		} else {
			name = "Rate of " + g.Grade
			next.Rates.Grades = slices.Clone(snap.Rates.Grades)
			for i, r := range next.Rates.Grades {
				if r.Name == g.Grade {
					next.Rates.Grades[i].Hour = up(r.Hour)
				}
			}
		}
		all = append(all, shifted{name, next})
	}
	for _, group := range labour.Groups(snap.Steps) {
		if !slices.ContainsFunc(e.Work.Lines, func(l labour.Line) bool { return l.Step.Group == group && l.Minutes.IsPositive() }) {
			continue
		}
		next := snap
		next.Steps = slices.Clone(snap.Steps)
		for i, step := range next.Steps {
			if step.Group == group {
				next.Steps[i].Setup, next.Steps[i].Unit = slower(step.Setup), slower(step.Unit)
			}
		}
		all = append(all, shifted{"Minutes of " + lower(labour.GroupName(group)), next})
	}
	handling, foreseen, rest := snap, snap, snap
	handling.Rates.Handling = up(snap.Rates.Handling)
	rest.Rates.Allowance = up(snap.Rates.Allowance)
	if spec.FirstTime {
		foreseen.Rates.ContingencyFirst = up(snap.Rates.ContingencyFirst)
	} else {
		foreseen.Rates.Contingency = up(snap.Rates.Contingency)
	}
	return append(all, shifted{"Share for rest and delay", rest}, shifted{"Share for handling", handling}, shifted{"Share for the unforeseen", foreseen})
}

func slower(s labour.Spread) labour.Spread {
	return labour.Spread{Low: up(s.Low), Likely: up(s.Likely), High: up(s.High)}
}

// itemName is what an item is called on the shelf; a line of the slip says more of a foam.
func itemName(snap pricing.Snapshot, c pricing.Charge) string {
	if f, ok := snap.Catalogue.Foam(c.Item); ok {
		return f.Name
	}
	return c.Name
}

// lower is words within a sentence.
func lower(words string) string {
	r, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToLower(r)) + words[size:]
}
