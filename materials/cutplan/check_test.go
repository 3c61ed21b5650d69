package cutplan

import (
	"context"
	"math"
	"strings"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// What cannot be laid out is named, with its value and what to do about it.
func TestRefusals(t *testing.T) {
	good := func() Job { return Job{Sheets: mat(550, 550), Pieces: piece(rectangle(100, 50), 2)} }
	nan := math.NaN()
	bow := geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 0, Y: 100}, {X: 140, Y: 130}}}
	for _, c := range []struct {
		name  string
		spoil func(j *Job)
		field string
		says  string
	}{
		{"nothing to cut", func(j *Job) { j.Pieces = nil }, "pieces", "nothing to lay out"},
		{"no sheet", func(j *Job) { j.Sheets = nil }, "sheets", "no sheet to cut from"},
		{"spacing below zero", func(j *Job) { j.Spacing = -1 }, "spacing", "from 0"},
		{"spacing no number", func(j *Job) { j.Spacing = nan }, "spacing", "from 0"},
		{"margin without end", func(j *Job) { j.Margin = math.Inf(1) }, "margin", "from 0"},
		{"margins meet", func(j *Job) { j.Margin = 275 }, "sheets[0]", "no wider than its two margins"},
		{"credit over all", func(j *Job) { j.CreditShare = 1001 }, "credit_share", "per mille"},
		{"keep rule no number", func(j *Job) { j.Keep.MinArea = nan }, "keep", "number"},
		{"sheet without width", func(j *Job) { j.Sheets[0].Width = 0 }, "sheets[0].width", "above 0"},
		{"weight below zero", func(j *Job) { j.Sheets[0].Weight = -1 }, "sheets[0].weight", "from 0"},
		{"weight too great", func(j *Job) { j.Sheets[0].Weight = MaxWeight + 1 }, "sheets[0].weight", "1000000000"},
		{"limit below zero", func(j *Job) { j.Sheets[0].Limit = -1 }, "sheets[0].limit", "0 for no limit"},
		{"no copy", func(j *Job) { j.Pieces[0].Count = 0 }, "pieces[0].count", "once to 1000 times"},
		{"too many copies", func(j *Job) { j.Pieces[0].Count = 1000; j.Pieces = append(j.Pieces, j.Pieces[0]) }, "pieces", "at most 1000 pieces"},
		{"too many kinds", func(j *Job) { j.Pieces = make([]Piece, MaxPieces+1) }, "pieces", "at most 500 kinds"},
		{"no turn", func(j *Job) { j.Pieces[0].Turns = []float64{} }, "pieces[0].turns", "at least one"},
		{"turn no number", func(j *Job) { j.Pieces[0].Turns = []float64{nan} }, "pieces[0].turns", "degrees"},
		{"two corners", func(j *Job) { j.Pieces[0].Shape.Outer = j.Pieces[0].Shape.Outer[:2] }, "pieces[0].shape", "encloses no area"},
		{"corner nowhere", func(j *Job) { j.Pieces[0].Shape.Outer[1].X = nan }, "pieces[0].shape", "no place at all"},
		{"a line", func(j *Job) { j.Pieces[0].Shape = rectangle(100, 0) }, "pieces[0].shape", "encloses no area"},
		{"crossing itself", func(j *Job) { j.Pieces[0].Shape = bow }, "pieces[0].shape", "crosses or touches itself"},
		{"hole across the edge", func(j *Job) { j.Pieces[0].Shape.Holes = []geom.Ring{oval(60, 60, 12)} }, "pieces[0].shape", "crosses or touches itself"},
		{"hole beside the piece", func(j *Job) {
			j.Pieces[0].Shape.Holes = []geom.Ring{Pose{At: geom.Point{X: 300}}.ring(oval(60, 60, 12))}
		}, "pieces[0].shape", "outside the outline"},
		{"doubling back", func(j *Job) {
			j.Pieces[0].Shape.Outer = geom.Ring{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 150, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 90}}
		}, "pieces[0].shape", "touches itself"},
		{"pinched", func(j *Job) {
			j.Pieces[0].Shape.Outer = geom.Ring{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 50, Y: 50}, {X: 100, Y: 100}, {X: 0, Y: 100}, {X: 50, Y: 50}}
		}, "pieces[0].shape", "touches itself"},
		{"too many corners", func(j *Job) { j.Pieces[0].Shape.Outer = oval(100, 100, MaxCorners+1) }, "pieces[0].shape", "at most 2000 corners"},
		{"seat on no sheet", func(j *Job) { j.Pieces[0].On = &Seat{Sheet: 1} }, "pieces[0].on.sheet", "not in the job"},
		{"seat nowhere", func(j *Job) { j.Pieces[0].On = &Seat{Pose: Pose{Turn: nan}} }, "pieces[0].on", "no numbers"},
		{"panel beyond its mat", func(j *Job) { j.Pieces[0].On = &Seat{Pose: Pose{At: geom.Point{X: 451}}} }, "pieces[0]", "reaches beyond its sheet “mat” of 550 × 550 mm"},
		{"piece too large", func(j *Job) { j.Margin = 5; j.Pieces[0].Shape = rectangle(720, 300) }, "pieces[0]",
			"“piece” measures 720 × 300 mm and fits no sheet; the largest, “mat”, leaves 540 × 540 mm inside its margin. Cut the piece into panels"},
		{"strip that may not turn", func(j *Job) { j.Pieces[0].Shape, j.Pieces[0].Turns = rectangle(700, 20), quarters() }, "pieces[0]", "allow it to turn"},
		{"piece too round for an offcut's curves", func(j *Job) {
			j.Sheets[0].Shape = geom.Shape{Outer: oval(500, 500, 40)}
			j.Pieces[0].Shape = rectangle(450, 450)
		}, "pieces[0]", "fits no sheet"},
	} {
		t.Run(c.name, func(t *testing.T) {
			job := good()
			c.spoil(&job)
			_, err := New().Plan(context.Background(), job, Budget{Evaluations: 100})
			if fault.KindOf(err) != fault.Invalid {
				t.Fatalf("got %v", err)
			}
			if p := fault.ProblemsOf(err)[0]; p.Field != c.field || !strings.Contains(p.Remedy, c.says) {
				t.Errorf("got %q: %q, want %q: …%s…", p.Field, p.Remedy, c.field, c.says)
			}
		})
	}
}

func TestSheetsRunOut(t *testing.T) {
	job := Job{Sheets: mat(550, 550), Pieces: piece(rectangle(500, 300), 2)}
	job.Sheets[0].Limit = 1
	_, err := New().Plan(context.Background(), job, Budget{Evaluations: 100})
	if fault.KindOf(err) != fault.Shortage || !strings.Contains(err.Error(), "“piece”, copy 2 of 2") {
		t.Errorf("got %v", err)
	}
	job.Pieces[0].On = &Seat{}
	if _, err = New().Plan(context.Background(), job, Budget{}); fault.KindOf(err) != fault.Shortage {
		t.Errorf("panels: got %v", err)
	}
}
