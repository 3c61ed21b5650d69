package cutplan

import (
	"context"
	"math"
	"testing"

	"foamwright/materials/geom"
)

// lay plans a job with a fixed budget and proves the plan.
func lay(t *testing.T, job Job, evaluations int) Plan {
	t.Helper()
	plan, err := New().Plan(context.Background(), job, Budget{Evaluations: evaluations, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if err := Verify(job, plan); err != nil {
		t.Fatal(err)
	}
	return plan
}

func mat(w, h float64) []Sheet { return []Sheet{{Label: "mat", Width: w, Height: h, Weight: 1000}} }

func piece(s geom.Shape, count int, turns ...float64) []Piece {
	return []Piece{{Label: "piece", Shape: s, Count: count, Turns: turns}}
}

// What a maker can count on the bench.
func TestSheetsOpened(t *testing.T) {
	rim := geom.Shape{Outer: oval(540, 540, 90), Holes: []geom.Ring{oval(440, 440, 90)}}
	slanted := Pose{Turn: 17}.Apply(rectangle(500, 500))
	for _, c := range []struct {
		name   string
		job    Job
		sheets int
	}{
		{"four quarters fill a mat to the edge", Job{Sheets: mat(500, 500), Pieces: piece(rectangle(250, 250), 4)}, 1},
		{"the spacing leaves room for one a mat", Job{Sheets: mat(500, 500), Spacing: 3, Pieces: piece(rectangle(250, 250), 4)}, 4},
		{"with the spacing's width more they fit again", Job{Sheets: mat(503, 503), Spacing: 3, Pieces: piece(rectangle(250, 250), 4)}, 1},
		{"the margin counts at both edges", Job{Sheets: mat(513, 513), Spacing: 3, Margin: 5, Pieces: piece(rectangle(250, 250), 4)}, 1},
		{"a hair too little margin", Job{Sheets: mat(512.9, 513), Spacing: 3, Margin: 5, Pieces: piece(rectangle(250, 250), 4)}, 2},
		{"ten edge strips side by side", Job{Sheets: mat(550, 550), Spacing: 3, Pieces: piece(rectangle(52, 550), 10)}, 1},
		{"strips across the grain turn only if allowed", Job{Sheets: mat(550, 300), Pieces: piece(rectangle(300, 55), 10, 0)}, 2},
		{"and fit when they may", Job{Sheets: mat(550, 300), Pieces: piece(rectangle(300, 55), 10, 0, 90)}, 1},
		{"small parts lie inside the rim", Job{Sheets: mat(550, 550), Spacing: 3, Pieces: []Piece{
			{Label: "rim", Shape: rim, Count: 1}, {Label: "block", Shape: rectangle(150, 90), Count: 5}}}, 1},
		{"a piece drawn aslant is turned straight", Job{Sheets: mat(505, 505), Pieces: piece(slanted, 1)}, 1},
		{"a long strip lies from corner to corner", Job{Sheets: mat(550, 550), Pieces: piece(rectangle(720, 40), 1)}, 1},
		{"two halves of a cut nestle", Job{Sheets: mat(600, 400), Pieces: piece(geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 400, Y: 0}, {X: 200, Y: 400}, {X: 0, Y: 400}}}, 2, 0, 180)}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			if plan := lay(t, c.job, 2000); len(plan.Sheets) != c.sheets {
				t.Errorf("opened %d sheets, want %d: %+v", len(plan.Sheets), c.sheets, plan.Placements)
			}
		})
	}
}

// The shelf is used first, as far as it goes, and the sheet that costs least.
func TestWhichSheets(t *testing.T) {
	ell := geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 300, Y: 0}, {X: 300, Y: 100}, {X: 100, Y: 100}, {X: 100, Y: 300}, {X: 0, Y: 300}}}
	sheets := []Sheet{
		{Label: "mat", Width: 550, Height: 550, Weight: 1000},
		{Label: "small", Width: 320, Height: 320, Weight: 500},
		{Label: "ell", Shape: ell, Weight: 0, Limit: 1, Offcut: true},
	}
	for _, c := range []struct {
		name   string
		pieces []Piece
		cost   int64 // weights
	}{
		{"the offcut is free", piece(rectangle(90, 90), 5), 0},
		{"there is one offcut only", piece(rectangle(95, 295), 2), 500},
		{"a small sheet for one more piece", piece(rectangle(310, 310), 1), 500},
		{"a mat where it is cheaper than four small ones", piece(rectangle(270, 270), 4), 1000},
	} {
		t.Run(c.name, func(t *testing.T) {
			job := Job{Sheets: sheets, Pieces: c.pieces}
			if got := job.Score(lay(t, job, 3000)).Cost; got != c.cost*1_000_000 {
				t.Errorf("costs %d, want %d weights", got, c.cost)
			}
		})
	}
}

// Panels of an interlocking layer take their seats, one a mat; the rest of the mat is free.
func TestSeats(t *testing.T) {
	panel := Piece{Label: "panel", Shape: rectangle(300, 550), Count: 2, On: &Seat{Sheet: 0, Pose: Pose{At: geom.Point{X: 250}}}}
	job := Job{Sheets: mat(550, 550), Spacing: 3, Margin: 5, Keep: UsualKeep(), Pieces: append(piece(rectangle(100, 240), 8), panel)}
	plan := lay(t, job, 2000)
	if len(plan.Sheets) != 2 {
		t.Errorf("opened %d mats, want the panels' two", len(plan.Sheets))
	}
	job.Pieces = []Piece{panel}
	plan = lay(t, job, 2000)
	if len(plan.Offcuts) != 2 || math.Abs(plan.Offcuts[0].Area-247*550) > 1e-6 {
		t.Errorf("offcuts beside the panels: %+v", plan.Offcuts)
	}
}

// Remnants are what straight cuts leave, less the spacing; the credit is their share of the sheet's weight.
func TestRemnants(t *testing.T) {
	job := Job{Sheets: mat(1000, 1000), Spacing: 10, Keep: UsualKeep(), CreditShare: 500, Pieces: piece(rectangle(600, 700), 1, 0)}
	plan := lay(t, job, 500)
	// Right of the piece 390 × 1000; below it, of what is left, 610 × 290. Worked by hand.
	if len(plan.Offcuts) != 2 || plan.Offcuts[0].Area != 390*1000 || plan.Offcuts[1].Area != 610*290 {
		t.Fatalf("offcuts %+v", plan.Offcuts)
	}
	want := Score{Cost: 1_000_000_000 - 500_000_000*(390_000+176_900)/1_000_000, Left: 390 * 1000, Around: 1_000_000 - 600*700}
	if got := job.Score(plan); got != want {
		t.Errorf("score %+v, want %+v", got, want)
	}
	for _, c := range []struct {
		w, h float64
		kept bool
	}{{120, 334, true}, {119, 500, false}, {120, 300, false}, {40, 600, true}, {39, 700, false}, {600, 40, true}} {
		if UsualKeep().Keeps(c.w, c.h, c.w*c.h) != c.kept {
			t.Errorf("a remnant of %v × %v: kept %v", c.w, c.h, !c.kept)
		}
	}
	if (KeepRule{}).Keeps(500, 500, 250_000) {
		t.Error("the zero rule keeps nothing")
	}
}

// The foam jobs and a few known jigsaws, against figures this placer reached when it was written. For
// comparison see testdata/nesting/README.md; the optimum of the bins is in optimum.txt there.
func TestKnownJobs(t *testing.T) {
	for _, c := range []struct {
		name   string
		job    Job
		sheets int
	}{
		{"foam1_buckler", foamJob(t, "foam1_buckler"), 2},
		{"foam2_heater", foamJob(t, "foam2_heater"), 3},
		{"TA001", binJob(t, "TA001"), 4},
		{"TB001", binJob(t, "TB001"), 12},
		{"TB001C10", binJob(t, "TB001C10"), 12},
		{"TF001", binJob(t, "TF001"), 3},
		{"TS001C5", binJob(t, "TS001C5"), 2},
		{"TV001C5", binJob(t, "TV001C5"), 5},
	} {
		plan := lay(t, c.job, 200_000)
		t.Logf("%s: %d sheets, %.0f mm² left over", c.name, len(plan.Sheets), c.job.Score(plan).Left)
		if len(plan.Sheets) > c.sheets {
			t.Errorf("%s: %d sheets, was %d", c.name, len(plan.Sheets), c.sheets)
		}
	}
}
