package drawing_test

import (
	"strings"
	"testing"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// An offcut shows how wide and high it is, and two on paper of one size are in one scale; a plan that is cut from one
// says which.
func TestOffcut(t *testing.T) {
	l := geom.Shape{Outer: geom.Ring{{X: 10, Y: 20}, {X: 410, Y: 20}, {X: 410, Y: 120}, {X: 210, Y: 120}, {X: 210, Y: 270}, {X: 10, Y: 270}}}
	large, small := drawing.Offcut("L <of> mat", l, 550, 400), drawing.Offcut("strip", rectangle(300, 41), 550, 400)
	for _, d := range []drawing.Drawing{large, small} {
		parsed(t, drawing.SVG(d))
		if err := overlap(d); err != nil {
			t.Error(err)
		}
	}
	if got := strings.Join(words(large), " "); got != "400 250" {
		t.Errorf("the L says %q", got)
	}
	if large.Sheet.Width() != small.Sheet.Width() || large.Sheet.Height() != small.Sheet.Height() || large.Text != small.Text {
		t.Error("the two are not in one scale")
	}
	c := laidByHand(t)
	c.Job.Sheets = append(c.Job.Sheets, c.Job.Sheets[0])
	c.Job.Sheets[1].Offcut, c.Job.Sheets[1].Label = true, "Mat 10 mm, 550 × 550, order 3 of 2026, 27 Nov 2026"
	c.Plan.Sheets[0].Sheet = 1
	if got := c.SheetTitle(0); got != "sheet 1 of 4, the offcut “Mat 10 mm, 550 × 550, order 3 of 2026, 27 Nov 2026”" {
		t.Errorf("the sheet is called %q", got)
	}
	if got := c.Headline(); !strings.HasPrefix(got, "1 offcut of 550 × 550, 3 sheets of 550 × 550, ") {
		t.Errorf("the plan is called %q", got)
	}
}
