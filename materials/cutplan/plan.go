package cutplan

import (
	"context"

	"foamwright/materials/geom"
)

// Planner makes a plan for a job. The job is checked first; a job that cannot be planned gives a fault
// that names the piece or sheet and what to change. When ctx ends before the budget does, the best plan
// so far (perhaps empty) comes back together with ctx's error: it depends on the clock, so no price may
// rest on it.
type Planner interface {
	Plan(ctx context.Context, job Job, b Budget) (Plan, error)
}

// Opened is one sheet put on the bench.
type Opened struct {
	Sheet int // index into Job.Sheets
}

// Placement is one copy of a piece on an opened sheet.
type Placement struct {
	Piece int // index into Job.Pieces
	Copy  int // from 0
	Sheet int // index into Plan.Sheets
	Pose
}

// Offcut is a remnant that the keep rule keeps.
type Offcut struct {
	Sheet int        // index into Plan.Sheets
	Shape geom.Shape // in the sheet's coordinates
	Area  float64    // mm²
}

// Plan is sheets opened, the place of every piece copy, and the remnants to keep.
type Plan struct {
	Sheets      []Opened
	Placements  []Placement
	Offcuts     []Offcut
	Evaluations int // positions looked at
}

// Score is what a plan is judged by: lower Cost first, then more Left, then more Around.
type Score struct {
	Cost   int64   // millionths of a weight: sheets opened less the credit of kept offcuts
	Left   float64 // mm²: the largest remnant over the full width or height of the last sheet opened
	Around float64 // mm²: of the last sheet outside the box of what lies on it, such as an L along two edges
}

// Better tells whether s beats o.
func (s Score) Better(o Score) bool {
	return s.Cost < o.Cost || s.Cost == o.Cost && (s.Left > o.Left || s.Left == o.Left && s.Around > o.Around)
}

// Score judges a plan of this job, which must be one that Verify passes.
func (j Job) Score(p Plan) Score {
	boxes := make([][]geom.Rect, len(p.Sheets))
	for _, at := range p.Placements {
		boxes[at.Sheet] = append(boxes[at.Sheet], at.box(j.Pieces[at.Piece].Shape.Outer))
	}
	grounds := j.grounds(false)
	_, left := j.remnants(grounds, p.Sheets, boxes)
	return Score{Cost: j.cost(grounds, p.Sheets, p.Offcuts), Left: left, Around: j.around(grounds, p.Sheets, boxes)}
}
