package cutplan

import (
	"context"
	"slices"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Offcuts of any outline are cut from: round ones, some with holes, drawn anywhere and either way round. Sizes by
// Pythagoras.
func TestOddSheets(t *testing.T) {
	disc := geom.Shape{Outer: oval(300, 300, 360)}
	collar := geom.Shape{Outer: oval(500, 500, 120), Holes: []geom.Ring{oval(300, 300, 120)}}
	ell := geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 700, Y: 0}, {X: 700, Y: 200}, {X: 220, Y: 200}, {X: 220, Y: 450}, {X: 0, Y: 450}}}
	for _, c := range []struct {
		name            string
		sheet           geom.Shape
		spacing, margin float64
		pieces          []Piece
		fits            bool
	}{
		{"a square of 212 mm just fits a disc of 300", disc, 0, 0, piece(rectangle(212, 212), 1), true},
		{"a square of 213 mm does not", disc, 0, 0, piece(rectangle(213, 213), 1), false},
		{"nor does one of 212 with a margin of 1 mm", disc, 0, 1, piece(rectangle(212, 212), 1), false},
		{"one of 210 does", disc, 0, 1, piece(rectangle(210, 210), 1), true},
		{"a gem lies off the hole of a collar", collar, 3, 0, piece(geom.Shape{Outer: oval(95, 95, 60)}, 1), true},
		{"eight of them lie round it", collar, 3, 0, piece(geom.Shape{Outer: oval(90, 90, 60)}, 8), true},
		{"one wider than the collar does not", collar, 3, 0, piece(geom.Shape{Outer: oval(105, 105, 60)}, 1), false},
		{"a rim of its shape, less the margin", collar, 3, 5, []Piece{{Label: "rim", Count: 1, Shape: geom.Shape{Outer: oval(489, 489, 120), Holes: []geom.Ring{oval(311, 311, 120)}}}}, true},
		{"a bar along each leg of an ell", ell, 3, 5, []Piece{{Label: "long", Shape: rectangle(690, 180), Count: 1}, {Label: "short", Shape: rectangle(200, 240), Count: 1}}, true},
	} {
		for way, drawn := range map[string]geom.Shape{"as drawn": c.sheet, "elsewhere": Pose{At: geom.Point{X: -2000, Y: 731.4}}.Apply(c.sheet), "turned over": Pose{Mirrored: true}.Apply(c.sheet), "the other way round": reversed(c.sheet)} {
			job := Job{Spacing: c.spacing, Margin: c.margin, Pieces: c.pieces, Sheets: []Sheet{{Label: "offcut", Shape: drawn, Weight: 1, Limit: 1, Offcut: true}}}
			plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 30_000, Seed: 1})
			if c.fits && err != nil || !c.fits && fault.KindOf(err) != fault.Invalid {
				t.Errorf("%s, %s: %v", c.name, way, err)
			}
			if err == nil {
				if err := Verify(job, plan); err != nil {
					t.Errorf("%s, %s: %v", c.name, way, err)
				}
			}
		}
	}
}

func reversed(s geom.Shape) geom.Shape {
	out := geom.Shape{Outer: slices.Clone(s.Outer)}
	slices.Reverse(out.Outer)
	for _, h := range s.Holes {
		h = slices.Clone(h)
		slices.Reverse(h)
		out.Holes = append(out.Holes, h)
	}
	return out
}

// What is left of an odd offcut is kept as far as one straight cut frees it: of a boot its foot.
func TestRemnantOfABoot(t *testing.T) {
	boot := geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 300}, {X: 700, Y: 300}, {X: 700, Y: 500}, {X: 0, Y: 500}}}
	job := Job{Spacing: 10, Keep: UsualKeep(), CreditShare: 500, Sheets: []Sheet{{Label: "boot", Shape: boot, Weight: 1000, Limit: 1, Offcut: true}}, Pieces: piece(rectangle(180, 280), 1, 0)}
	if plan := lay(t, job, 5000); len(plan.Offcuts) != 1 || plan.Offcuts[0].Area != 700*200 {
		t.Errorf("kept %+v", plan.Offcuts)
	}
}
