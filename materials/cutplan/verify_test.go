package cutplan

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"foamwright/materials/geom"
)

// proofJob has every kind of rule to break: spacing, margin, turns, a limit, a seat, kept offcuts.
func proofJob() Job {
	return Job{
		Spacing: 4, Margin: 6, Keep: UsualKeep(), CreditShare: 500,
		Sheets: []Sheet{{Label: "mat", Width: 600, Height: 600, Weight: 10}, {Label: "offcut", Width: 300, Height: 300, Weight: 1, Limit: 1, Offcut: true}},
		Pieces: []Piece{
			{Label: "block", Shape: rectangle(100, 80), Count: 6, Turns: []float64{0, 90}},
			{Label: "boss", Shape: geom.Shape{Outer: oval(90, 90, 24)}, Count: 2},
			{Label: "panel", Shape: rectangle(300, 600), Count: 2, On: &Seat{Pose: Pose{At: geom.Point{X: 300}}}},
		},
	}
}

// find gives the index of a placement.
func find(p *Plan, piece, copy int) int {
	return slices.IndexFunc(p.Placements, func(a Placement) bool { return a.Piece == piece && a.Copy == copy })
}

// Every way to break a plan is noticed, and by its name.
func TestVerifyNoticesEveryBreach(t *testing.T) {
	job := proofJob()
	plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 5000, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	if err := Verify(job, plan); err != nil {
		t.Fatal(err)
	}
	if len(plan.Offcuts) == 0 {
		t.Fatal("the plan keeps no offcut to spoil")
	}
	at := func(p *Plan, piece, copy int) *Placement { return &p.Placements[find(p, piece, copy)] }
	for _, c := range []struct {
		name  string
		spoil func(p *Plan)
		says  string
	}{
		{"a copy left out", func(p *Plan) { p.Placements = slices.Delete(p.Placements, 1, 2) }, "is not placed"},
		{"a copy twice", func(p *Plan) { at(p, 0, 1).Copy = 0 }, "placed twice"},
		{"a copy too many", func(p *Plan) { at(p, 0, 1).Copy = 6 }, "not in the job"},
		{"a piece unknown", func(p *Plan) { at(p, 0, 1).Piece = 9 }, "not in the job"},
		{"a sheet not opened", func(p *Plan) { at(p, 0, 1).Sheet = 99 }, "not opened"},
		{"a kind of sheet unknown", func(p *Plan) { p.Sheets[0].Sheet = 2 }, "not in the job"},
		{"the limit passed", func(p *Plan) { p.Sheets = append(p.Sheets, Opened{1}, Opened{1}) }, "there are 1"},
		{"one on another", func(p *Plan) { a, b := at(p, 0, 0), at(p, 0, 1); b.Sheet, b.Pose = a.Sheet, a.Pose }, "overlap"},
		{"a sliver of overlap", func(p *Plan) { a, b := at(p, 0, 0), at(p, 0, 1); b.Sheet, b.Pose = a.Sheet, beside(a.Pose, -0.001) }, "overlap"},
		{"too near", func(p *Plan) { a, b := at(p, 0, 0), at(p, 0, 1); b.Sheet, b.Pose = a.Sheet, beside(a.Pose, 3.99) }, "apart, the spacing is 4"},
		{"over the edge", func(p *Plan) { at(p, 0, 0).At.X = -150 }, "outside"},
		{"in the margin", func(p *Plan) { at(p, 0, 0).Pose = Pose{At: geom.Point{X: 5.99, Y: 6}} }, "the margin is 6"},
		{"turned against the grain", func(p *Plan) { at(p, 0, 0).Turn = 45 }, "not allowed"},
		{"turned over", func(p *Plan) { at(p, 0, 0).Mirrored = true }, "turned over"},
		{"nowhere", func(p *Plan) { at(p, 1, 0).At.X = math.NaN() }, "nowhere"},
		{"a panel off its seat", func(p *Plan) { at(p, 2, 0).At.X = 299 }, "not at its seat"},
		{"a panel turned on its seat", func(p *Plan) { at(p, 2, 0).Turn = 180 }, "not at its seat"},
		{"two panels on one mat", func(p *Plan) { at(p, 2, 1).Sheet = at(p, 2, 0).Sheet }, "shares its sheet"},
		{"an offcut of no sheet", func(p *Plan) { p.Offcuts[0].Sheet = -1 }, "not opened"},
		{"an offcut beyond its sheet", func(p *Plan) { p.Offcuts[0] = offcut(p.Offcuts[0].Sheet, 400, 400, 400, 400) }, "outside"},
		{"an offcut under a piece", func(p *Plan) { p.Offcuts[0] = offcut(at(p, 2, 0).Sheet, 250, 0, 350, 600) }, "overlap"},
		{"an offcut too near a piece", func(p *Plan) {
			p.Sheets = append(p.Sheets, Opened{0})
			*at(p, 0, 0) = Placement{Sheet: len(p.Sheets) - 1, Pose: Pose{At: geom.Point{X: 10, Y: 10}}}
			p.Offcuts = append(p.Offcuts, offcut(len(p.Sheets)-1, 112, 0, 400, 600))
		}, "offcut"},
		{"an offcut too small", func(p *Plan) { p.Offcuts[0] = offcut(p.Offcuts[0].Sheet, 0, 0, 10, 10) }, "not worth keeping"},
		{"an offcut without a shape", func(p *Plan) { p.Offcuts[0].Shape = geom.Shape{} }, "no corners"},
		{"an offcut with a wrong area", func(p *Plan) { p.Offcuts[0].Area++ }, "the plan says"},
		{"an offcut kept twice", func(p *Plan) { p.Offcuts = append(p.Offcuts, p.Offcuts[0]) }, "overlap"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := Plan{Sheets: slices.Clone(plan.Sheets), Placements: slices.Clone(plan.Placements), Offcuts: slices.Clone(plan.Offcuts)}
			c.spoil(&p)
			if err := Verify(job, p); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want …%s…", err, c.says)
			}
		})
	}
}

// beside is a pose with a block's width and a gap more along the block.
func beside(p Pose, gap float64) Pose {
	p.At = p.Matrix().Apply(geom.Point{X: 100 + gap})
	return p
}

func offcut(sheet int, x, y, w, h float64) Offcut {
	return Offcut{Sheet: sheet, Area: w * h, Shape: Pose{At: geom.Point{X: x, Y: y}}.Apply(rectangle(w, h))}
}
