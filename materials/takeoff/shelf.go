package takeoff

import (
	"context"

	"github.com/shopspring/decimal"

	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Supply is what the shelf has of one foam for a job: whole sheets, and offcuts.
type Supply struct {
	Sheets  int
	Offcuts []Offcut
}

// Offcut is a piece of foam that an earlier plan left.
type Offcut struct {
	Label string
	Shape geom.Shape      // mm
	Worth decimal.Decimal // of a whole new sheet, 0.2
}

// mostOffcuts are offered to one plan, the first of the supply: more would take longer than they save.
const mostOffcuts = 60

// FromShelf lays a foam's job on what the shelf has of it: first on offcuts, whose worth weighs less than that of
// new foam, then on whole sheets. In the job that comes back every offcut is a sheet of its own; from tells by its
// sheets which of the supply it is, -1 for the whole ones. Where the shelf has too little the Shortage fault says how
// many whole sheets are missing. quantity is how many shields the job is for.
func (f FoamPlan) FromShelf(ctx context.Context, quantity int, have Supply, planner cutplan.Planner, b cutplan.Budget) (plan FoamPlan, from []int, err error) {
	if err := f.tooMany(quantity); err != nil {
		return f, nil, err
	}
	whole := f.Job.Sheets[0]
	f.Job.Sheets, from = []cutplan.Sheet{whole}, []int{-1}
	for i, o := range have.Offcuts {
		box := o.Shape.Outer.Bounds()
		if min(box.Width(), box.Height()) <= 2*f.Job.Margin || len(from) > mostOffcuts {
			continue
		}
		f.Job.Sheets = append(f.Job.Sheets, cutplan.Sheet{
			Label: o.Label, Shape: o.Shape, Width: box.Width(), Height: box.Height(), Limit: 1, Offcut: true,
			Weight: min(max(o.Worth.Mul(decimal.NewFromInt(opened)).Round(0).IntPart(), 1), opened),
		})
		from = append(from, i)
	}
	if have.Sheets > 0 {
		f.Job.Sheets[0].Limit = have.Sheets
		p, err := planner.Plan(ctx, f.Job, b)
		if err == nil {
			f.settle(p)
			return f, from, nil
		}
		if k := fault.KindOf(err); k != fault.Shortage && k != fault.Invalid {
			return f, nil, f.unplanned(err)
		}
	}
	// As many whole sheets as it takes, each so dear that no more are opened than must be.
	f.Job.Sheets[0].Limit, f.Job.Sheets[0].Weight = 0, dear
	p, err := planner.Plan(ctx, f.Job, b)
	if err != nil {
		return f, nil, f.unplanned(err)
	}
	f.Job.Sheets[0].Limit, f.Job.Sheets[0].Weight = have.Sheets, whole.Weight
	f.settle(p)
	if missing := f.Sheets - have.Sheets; missing > 0 {
		return f, nil, fault.New(fault.Shortage, "%s: this order may open %s and needs %d, offcuts counted in. Missing: %d. Buy them, or set some free.", f.Foam.Name, sheets(have.Sheets), f.Sheets, missing)
	}
	return f, from, nil
}

// dear is the weight of a whole sheet that is not there.
const dear = 1000 * opened

func sheets(n int) string {
	switch n {
	case 0:
		return "no whole sheet"
	case 1:
		return "1 whole sheet"
	}
	return decimal.NewFromInt(int64(n)).String() + " whole sheets"
}
