package pricing

import (
	"fmt"
	"sync"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/pricing/labour"
)

// band is what is usual; common practice, no source. What lies outside is pointed out, never changed.
type band struct{ low, high string }

func (b band) holds(v decimal.Decimal) bool {
	return v.GreaterThanOrEqual(decimal.RequireFromString(b.low)) && v.LessThanOrEqual(decimal.RequireFromString(b.high))
}

// usualSpread is what a coat on one face takes in l/m².
func usualSpread(use materials.Use) (band, bool) {
	switch use {
	case materials.UseAdhesive:
		return band{"0.10", "0.30"}, true
	case materials.UseLatex:
		return band{"0.10", "0.20"}, true
	case materials.UsePrimer:
		return band{"0.08", "0.18"}, true
	case materials.UseColour, materials.UseMetallic:
		return band{"0.06", "0.32"}, true
	case materials.UseClear:
		return band{"0.06", "0.14"}, true
	}
	return band{}, false
}

// doubts are the figures this estimate rests on that lie outside common practice: a slip in the catalogue or in
// the table of steps shows here and not in the customer's price.
func (e *Estimate) doubts(snap Snapshot) []string {
	var doubts []string
	used := map[string]bool{}
	for _, c := range e.Materials {
		used[c.Item] = true
	}
	for _, l := range snap.Catalogue.Liquids {
		usual, known := usualSpread(l.Use)
		if used[l.Code] && known && !usual.holds(l.Spread) {
			doubts = append(doubts, fmt.Sprintf("%s spreads %s l/m² a coat; usual is %s to %s.", l.Name, l.Spread, usual.low, usual.high))
		}
		if loss := (band{"0", "0.35"}); used[l.Code] && !loss.holds(l.Loss) {
			doubts = append(doubts, fmt.Sprintf("%s loses %s in brush and tin; usual is up to %s.", l.Name, percent(l.Loss), percent(decimal.RequireFromString(loss.high))))
		}
	}
	doubts = append(doubts, e.slowSteps()...)
	// In every worked case of the trade labour is 68 to 83 % of the cost.
	if share := e.Price.Labour.Decimal().DivRound(decimal.Max(e.Price.Direct.Decimal(), decimal.New(1, -2)), 2); e.Shield.Made() && !(band{"0.50", "0.92"}).holds(share) {
		doubts = append(doubts, fmt.Sprintf("Labour is %s of the direct cost; usual is 68 to 83 %%. Look at the hours and the prices of materials.", percent(share)))
	}
	return doubts
}

// slowSteps are the steps whose time lies outside the range that the table began with.
func (e *Estimate) slowSteps() []string {
	usual := usualTimes()
	var slow []string
	for _, l := range e.Work.Lines {
		u, ok := usual[l.Step.Code]
		if likely := l.Step.Unit.Likely; ok && (likely.LessThan(u.Low) || likely.GreaterThan(u.High)) {
			slow = append(slow, fmt.Sprintf("%s takes %s min a unit here; usual is %s to %s.", l.Step.Name, likely, u.Low, u.High))
		}
	}
	return slow
}

// usualTimes are those of the table that is part of the program, by step. Its own test reads it.
var usualTimes = sync.OnceValue(func() map[string]labour.Spread {
	usual := map[string]labour.Spread{}
	seed, err := labour.Seed()
	if err != nil {
		return usual
	}
	for _, s := range seed {
		usual[s.Code] = s.Unit
	}
	return usual
})
