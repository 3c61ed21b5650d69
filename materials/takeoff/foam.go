package takeoff

import (
	"context"
	"fmt"
	"strconv"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

// FoamPlan is what an order takes of one foam: the plan it is cut from, sheets opened and offcuts kept.
type FoamPlan struct {
	Foam   materials.Foam
	Job    cutplan.Job
	Plan   cutplan.Plan
	Sheets int              // whole ones that are opened
	Net    measure.Quantity // finished parts, m²
	Kept   measure.Quantity // offcuts worth keeping, m²
	Sheet  measure.Quantity // one sheet, m²
}

// opened is what one sheet weighs in a plan's score: one kind of sheet a foam, so any number does.
const opened = 1000

// PlanFoam lays the parts of a number of equal shields on catalogue sheets, foam by foam in the order the parts
// need them; the foams share the budget. keptShare is what a kept offcut is worth of new (0.5), which the plan
// weighs against sheets opened.
func PlanFoam(ctx context.Context, s shield.Shield, c materials.Catalogue, u Usage, keptShare decimal.Decimal, planner cutplan.Planner, b cutplan.Budget) ([]FoamPlan, error) {
	plans, err := Foams(s, c, u, keptShare)
	if err != nil {
		return nil, err
	}
	b.Evaluations /= max(len(plans), 1)
	for i := range plans {
		f := &plans[i]
		if err := f.tooMany(s.Spec.Quantity); err != nil {
			return nil, err
		}
		plan, err := planner.Plan(ctx, f.Job, b)
		if err != nil {
			return nil, f.unplanned(err)
		}
		f.settle(plan)
	}
	return plans, nil
}

// Foams are the foams that a number of equal shields is cut from, each with its job on catalogue sheets and the
// area of its parts, in the order the parts need them. Nothing is planned yet.
func Foams(s shield.Shield, c materials.Catalogue, u Usage, keptShare decimal.Decimal) ([]FoamPlan, error) {
	var plans []FoamPlan
	at := map[string]int{}
	net := map[string]float64{}
	for _, part := range s.Parts {
		i, ok := at[part.Foam]
		if !ok {
			foam, known := c.Foam(part.Foam)
			if !known {
				return nil, fault.New(fault.Invalid, "The catalogue has no foam %q.", part.Foam)
			}
			i = len(plans)
			at[part.Foam] = i
			plans = append(plans, FoamPlan{Foam: foam, Job: job(foam, u, keptShare)})
		}
		piece := cutplan.Piece{Label: part.Label, Shape: part.Shape, Count: part.Count * s.Spec.Quantity, Turns: part.Turns, Mirror: part.Mirror}
		if part.Seat {
			piece.On = &cutplan.Seat{}
		}
		plans[i].Job.Pieces = append(plans[i].Job.Pieces, piece)
		net[part.Foam] += part.Net * float64(part.Count*s.Spec.Quantity)
	}
	for i := range plans {
		f := &plans[i]
		f.Net = measure.Of(net[f.Foam.Code]/1e6, measure.SquareMetre)
		f.Sheet = measure.Of(f.Foam.Width.MM()*f.Foam.Height.MM()/1e6, measure.SquareMetre)
	}
	return plans, nil
}

// settle takes a plan and what follows from it.
func (f *FoamPlan) settle(plan cutplan.Plan) {
	f.Plan, f.Sheets = plan, 0
	for _, o := range plan.Sheets {
		if !f.Job.Sheets[o.Sheet].Offcut {
			f.Sheets++
		}
	}
	kept := 0.0
	for _, o := range plan.Offcuts {
		kept += o.Area
	}
	f.Kept = measure.Of(kept/1e6, measure.SquareMetre)
}

// tooMany refuses more pieces than a plan has time for, and says how many shields it would have time for.
func (f FoamPlan) tooMany(quantity int) error {
	copies := 0
	for _, p := range f.Job.Pieces {
		copies += p.Count
	}
	var l fault.List
	switch each := copies / quantity; {
	case each > cutplan.MaxCopies || len(f.Job.Pieces) > cutplan.MaxPieces:
		l.Add("", "", fmt.Sprintf("One takes %d pieces of %s, %d of them different; at most %d and %d can be laid out. Make it of fewer parts.", each, f.Foam.Name, len(f.Job.Pieces), cutplan.MaxCopies, cutplan.MaxPieces))
	case copies > cutplan.MaxCopies:
		l.Add("quantity", strconv.Itoa(quantity), fmt.Sprintf("That takes %d pieces of %s; at most %d can be laid out at once. Quote at most %d at a time.", copies, f.Foam.Name, cutplan.MaxCopies, cutplan.MaxCopies/each))
	}
	return l.Err()
}

// unplanned names the foam in what the plan refused; where in the job it was is the plan's own affair.
func (f FoamPlan) unplanned(err error) error {
	if fault.KindOf(err) != fault.Invalid {
		return fmt.Errorf("cut plan of %s: %w", f.Foam.Code, err)
	}
	var l fault.List
	for _, p := range fault.ProblemsOf(err) {
		l.Add("", "", f.Foam.Name+": "+p.Remedy)
	}
	return l.Err()
}

func job(f materials.Foam, u Usage, keptShare decimal.Decimal) cutplan.Job {
	sheet := cutplan.Sheet{Label: f.Name, Width: f.Width.MM(), Height: f.Height.MM(), Weight: opened}
	return cutplan.Job{
		Sheets: []cutplan.Sheet{sheet}, Spacing: u.KnifeGap.MM(), Margin: u.SheetMargin.MM(),
		Keep: cutplan.UsualKeep(), CreditShare: int(keptShare.Shift(3).IntPart()),
	}
}
