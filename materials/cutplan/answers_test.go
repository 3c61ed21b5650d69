package cutplan

import (
	"context"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// What a maker may well ask by mistake is answered in words that say what to change; what only looks like a mistake is
// planned.
func TestClearAnswers(t *testing.T) {
	offcut := Sheet{Label: "offcut 7", Width: 300, Height: 200, Weight: 200, Limit: 1, Offcut: true}
	small := Sheet{Label: "sliver", Width: 30, Height: 200, Weight: 1, Limit: 1, Offcut: true}
	for _, c := range []struct {
		name   string
		job    Job
		answer string // empty where there is a plan
		sheets int
	}{
		{"an empty job", Job{Sheets: mat(550, 550)}, "There is nothing to lay out. Add a piece.", 0},
		{"no sheet", Job{Pieces: piece(rectangle(10, 10), 1)}, "There is no sheet to cut from. Add a sheet of this foam.", 0},
		{"a piece too large for every sheet", Job{Sheets: append(mat(550, 550), offcut), Margin: 5, Pieces: piece(rectangle(720, 300), 1)},
			"“piece” measures 720 × 300 mm and fits no sheet; the largest, “mat”, leaves 540 × 540 mm inside its margin. Cut the piece into panels, allow it to turn, or add a larger sheet.", 0},
		{"a piece that no turn fits into a round offcut", Job{Sheets: []Sheet{{Label: "round", Shape: geom.Shape{Outer: oval(500, 500, 80)}}}, Pieces: piece(rectangle(450, 450), 1)},
			"“piece” measures 450 × 450 mm and fits no sheet: “round” is as wide and as high, but not everywhere. Cut the piece into panels, allow it to turn, or add a larger sheet.", 0},
		{"a sheet smaller than its margin", Job{Sheets: append(mat(550, 550), small), Margin: 15, Pieces: piece(rectangle(100, 100), 1)},
			"“sliver” is no wider than its two margins of 15 mm. Use a larger sheet or a smaller margin.", 0},
		{"a sheet for which there is no width", Job{Sheets: mat(0, 550), Pieces: piece(rectangle(100, 100), 1)}, "The width of a sheet is a number of mm above 0, up to 100 m.", 0},
		{"a spacing below zero", Job{Sheets: mat(550, 550), Spacing: -3, Pieces: piece(rectangle(100, 100), 1)}, "The spacing is a number of mm from 0 up to 100 m.", 0},
		{"more pieces than sheets at hand", Job{Sheets: []Sheet{offcut}, Pieces: piece(rectangle(290, 190), 2)},
			"The sheets at hand are used up and “piece”, copy 2 of 2, is still to be placed. Add sheets or make fewer.", 0},
		{"no spacing at all", Job{Sheets: mat(500, 500), Pieces: piece(rectangle(250, 250), 4)}, "", 1},
		{"the same offcut twice is two of them", Job{Sheets: []Sheet{offcut, offcut}, Pieces: piece(rectangle(290, 190), 2)}, "", 2},
		{"and no third", Job{Sheets: []Sheet{offcut, offcut}, Pieces: piece(rectangle(290, 190), 3)},
			"The sheets at hand are used up and “piece”, copy 3 of 3, is still to be placed. Add sheets or make fewer.", 0},
		{"the same piece twice is two of them", Job{Sheets: mat(500, 250), Pieces: append(piece(rectangle(250, 250), 1), piece(rectangle(250, 250), 1)...)}, "", 1},
	} {
		plan, err := New().Plan(context.Background(), c.job, Budget{Evaluations: 2000, Seed: 1})
		if c.answer != "" {
			if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Remedy != c.answer {
				t.Errorf("%s: %+v, want %q", c.name, p, c.answer)
			}
			continue
		}
		if err != nil || len(plan.Sheets) != c.sheets {
			t.Errorf("%s: %d sheets, %v", c.name, len(plan.Sheets), err)
		} else if err := Verify(c.job, plan); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
