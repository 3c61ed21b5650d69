// Package labour turns what a take-off measured into minutes at the bench.
//
// minutes = people × (set-up by scope + units × minutes a unit × factors), before the allowance for rest and
// delay. Units: minutes with two places, hours with two. The table of steps is the workshop's own data; the
// seed is common practice with no published source, and logged jobs correct it. Limits: no money, no dates.
package labour

import (
	"cmp"
	_ "embed" // the seed table
	"encoding/json"
	"fmt"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/takeoff"
)

// Scope says how often a step is set up.
type Scope string

// The scopes: once for the order line, once for up to six items, once for each item.
const (
	PerJob   Scope = "job"
	PerBatch Scope = "batch"
	PerItem  Scope = "item"
)

// Spread is a low, a likely and a high figure.
type Spread struct{ Low, Likely, High decimal.Decimal }

// Mean is the expected figure of a spread, (low + 4 likely + high) ÷ 6, to four places.
func (s Spread) Mean() decimal.Decimal {
	return s.Low.Add(s.Likely.Mul(decimal.NewFromInt(4))).Add(s.High).DivRound(decimal.NewFromInt(6), 4)
}

// Variance is its variance, ((high − low) ÷ 6)², to four places.
func (s Spread) Variance() decimal.Decimal {
	sixth := s.High.Sub(s.Low).DivRound(decimal.NewFromInt(6), 8)
	return sixth.Mul(sixth).Round(4)
}

// Step is one row of the workshop's table.
type Step struct {
	Code, Name, Group string
	Driver            takeoff.Driver // what its work is counted by
	Scope             Scope
	Setup             Spread            // minutes
	Unit              Spread            // minutes a unit of the driver
	Factors           []takeoff.Driver  // ratios from the take-off that multiply the unit work
	People            takeoff.Driver    // how many people at once; empty is one, or the crew
	Crew              int               // so many people at once, whatever the piece; 0 where People says it
	Wait              Spread            // hours that have to pass afterwards
	WaitOf            takeoff.Driver    // hours of the take-off that stand in for the likely wait where it has them
	Sets              materials.Setting // what the wait goes by, where the take-off does not say
	Repeats           takeoff.Driver    // how often work and wait alternate (coats); empty is once
	After             []string          // codes of the steps it comes after
	Cautions          []string
	Uses              string // what it wears or takes beside the material of its lines, in words
	Resource, Note    string
	Grade             string // of labour; empty for the shop rate
	Hidden            bool   // kept, and not counted
}

//go:embed steps.json
var seed []byte

// row is a step as the seed file writes it.
type row struct {
	Code     string             `json:"code"`
	Name     string             `json:"name"`
	Group    string             `json:"group"`
	Driver   takeoff.Driver     `json:"driver"`
	Scope    Scope              `json:"scope"`
	Setup    [3]decimal.Decimal `json:"setup_min"`
	Unit     [3]decimal.Decimal `json:"unit_min"`
	Factors  []takeoff.Driver   `json:"factors"`
	People   takeoff.Driver     `json:"people"`
	Wait     [3]decimal.Decimal `json:"wait_h"`
	WaitOf   takeoff.Driver     `json:"wait_of"`
	Sets     materials.Setting  `json:"sets"` // empty for what goes by itself
	Repeats  takeoff.Driver     `json:"repeats"`
	After    []string           `json:"after"`
	Cautions []string           `json:"cautions"`
	Resource string             `json:"resource"`
	Uses     string             `json:"uses"`
	Note     string             `json:"note"`
}

// Seed is the table a new workshop starts with, in the order of making.
func Seed() ([]Step, error) {
	var rows []row
	if err := json.Unmarshal(seed, &rows); err != nil {
		return nil, fmt.Errorf("the seed table of steps: %w", err)
	}
	steps := make([]Step, len(rows))
	for i, r := range rows {
		steps[i] = Step{
			Code: r.Code, Name: r.Name, Group: r.Group, Driver: r.Driver, Scope: r.Scope,
			Setup: spread(r.Setup), Unit: spread(r.Unit), Factors: r.Factors, People: r.People,
			Wait: spread(r.Wait), WaitOf: r.WaitOf, Sets: cmp.Or(r.Sets, materials.ByItself), Repeats: r.Repeats, After: r.After, Cautions: r.Cautions, Uses: r.Uses, Resource: r.Resource, Note: r.Note,
		}
	}
	return steps, nil
}

func spread(v [3]decimal.Decimal) Spread { return Spread{v[0], v[1], v[2]} }

// UnmarshalJSON reads a step as it is kept, and as earlier programs kept it, which knew only whether a wait goes by
// the air.
func (s *Step) UnmarshalJSON(data []byte) error {
	type plain Step
	kept := struct {
		*plain
		Dries bool
	}{plain: (*plain)(s)}
	err := json.Unmarshal(data, &kept)
	if s.Sets == "" && kept.Dries {
		s.Sets = materials.ByAir
	}
	return err
}
