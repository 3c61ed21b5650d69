package api

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/shopspring/decimal"
)

// Actual is an order as it was planned and as it was made. Minutes are those of all people together, planned ones with
// rest and delay.
type Actual struct {
	Planned   decimal.Decimal `json:"planned_minutes"`
	Worked    decimal.Decimal `json:"worked_minutes" doc:"the first time"`
	Rework    decimal.Decimal `json:"rework_minutes" doc:"done again"`
	Reasons   []string        `json:"reasons" doc:"the three largest differences, in words"`
	Groups    []ActualGroup   `json:"groups" doc:"in the order of making"`
	Materials []ActualUse     `json:"materials"`
	Cost      string          `json:"material_cost" doc:"taken, less what came back"`
}

// ActualGroup is one group of steps.
type ActualGroup struct {
	Group   string          `json:"group"`
	Name    string          `json:"name"`
	Planned decimal.Decimal `json:"planned_minutes"`
	Worked  decimal.Decimal `json:"worked_minutes"`
	Rework  decimal.Decimal `json:"rework_minutes"`
	Steps   []ActualStep    `json:"steps"`
}

// ActualStep is one step; most time is logged by group.
type ActualStep struct {
	Name    string          `json:"name"`
	Planned decimal.Decimal `json:"planned_minutes"`
	Worked  decimal.Decimal `json:"worked_minutes" doc:"logged on the step itself"`
}

// ActualUse is a material as it was reckoned and taken, in the item's stock unit.
type ActualUse struct {
	Item     string          `json:"item"`
	Name     string          `json:"name"`
	Reckoned decimal.Decimal `json:"reckoned"`
	Taken    decimal.Decimal `json:"taken"`
	Cost     string          `json:"cost" doc:"of what was taken"`
}

// Measure is what a finished piece measured; what is left out was not measured.
type Measure struct {
	Width  *decimal.Decimal `json:"width_mm,omitempty" doc:"straight across"`
	Depth  *decimal.Decimal `json:"depth_mm,omitempty"`
	Weight *decimal.Decimal `json:"weight_kg,omitempty" doc:"unpacked"`
	Note   string           `json:"note,omitempty"`
	By     string           `json:"by,omitempty"`
	At     *time.Time       `json:"at,omitempty"`
}

type measures struct {
	Reckoned Measure   `json:"reckoned" doc:"when it was quoted"`
	Measured []Measure `json:"measured" doc:"the newest first, which counts"`
}

func (f *face) actual() {
	operation(f, op("GET /orders/{id}/actual", "planned-and-worked", "An order as it was planned and as it was made").also(people.Bookkeeper),
		func(ctx context.Context, in *byID) (*answer[Actual], error) {
			a, err := f.Sales.Actual(ctx, in.ID)
			return &answer[Actual]{actualOf(a)}, err
		})
	operation(f, op("GET /orders/{id}/measure", "measured", "What the finished piece of an order measured").also(people.Helper, people.Bookkeeper).
		saying("It is corrected by measuring again; what was written before stays to be seen."), f.measured)
	taking(f, op("POST /orders/{id}/measure", "measure", "Write down what the finished piece of an order measured", conflict).also(people.Helper).
		saying("At least one figure; all that are known, for the newest entry stands alone."), f.measure)
}

type measureEntry struct {
	Width  string `json:"width_mm,omitempty" doc:"straight across; at most one place"`
	Depth  string `json:"depth_mm,omitempty" doc:"at most one place"`
	Weight string `json:"weight_kg,omitempty" doc:"unpacked; at most three places"`
	Note   string `json:"note,omitempty" maxLength:"400"`
}

func (f *face) measure(ctx context.Context, in *byID, e measureEntry) (*answer[measures], error) {
	var l fault.List
	figure := func(field, text string) decimal.Decimal {
		if text == "" {
			return decimal.Zero
		}
		return quantity(&l, field, text)
	}
	m := sales.Finished{Order: in.ID, Stands: shield.Stands{Width: figure("width_mm", e.Width), Depth: figure("depth_mm", e.Depth)}, Weight: figure("weight_kg", e.Weight), Note: e.Note, By: callOf(ctx).by}
	if err := l.Err(); err != nil {
		return nil, err
	}
	err := f.Sales.Measure(ctx, m)
	for field, entry := range map[string]string{"width": "width_mm", "depth": "depth_mm", "weight": "weight_kg"} {
		err = called(err, field, entry)
	}
	if err != nil {
		return nil, err
	}
	return f.measured(ctx, in)
}

func (f *face) measured(ctx context.Context, in *byID) (*answer[measures], error) {
	measured, reckoned, err := f.Sales.Measured(ctx, in.ID)
	return &answer[measures]{measures{measureOf(reckoned), each(measured, measureOf)}}, err
}

func actualOf(a sales.Actual) Actual {
	return Actual{
		Planned: a.Planned, Worked: a.Worked, Rework: a.Rework, Reasons: texts(a.Reasons), Cost: a.Cost.String(),
		Groups: each(a.Groups, func(g sales.GroupTime) ActualGroup {
			return ActualGroup{g.Group, g.Name, g.Planned, g.Worked, g.Rework, each(g.Steps, func(s sales.StepTime) ActualStep { return ActualStep{s.Name, s.Planned, s.Worked} })}
		}),
		Materials: each(a.Materials, func(m sales.MaterialUse) ActualUse {
			return ActualUse{m.Item, m.Name, m.Quantity, m.Taken, m.Cost.String()}
		}),
	}
}

func measureOf(m sales.Finished) Measure {
	known := func(d decimal.Decimal) *decimal.Decimal {
		if d.IsZero() {
			return nil
		}
		return &d
	}
	return Measure{Width: known(m.Stands.Width), Depth: known(m.Stands.Depth), Weight: known(m.Weight), Note: m.Note, By: m.By, At: moment(m.At)}
}
