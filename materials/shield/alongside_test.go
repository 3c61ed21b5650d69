package shield_test

import (
	"math"
	"testing"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// An emblem stays where it was drawn on a drawn outline: what was drawn in its place is stretched with the outline,
// what was put somewhere keeps its size and its middle moves. A finished outline's core starts a strip lower.
func TestEmblemsStayWhereTheyWereDrawn(t *testing.T) {
	const board = "M-250 0H250V700H-250Z"
	for name, c := range map[string]struct {
		shape, d, widthIs, is string
		former                float64
	}{
		"along the curve":          {shield.Path, board, shield.AlongCurve, "core", 400},
		"across, but flat":         {shield.Path, board, shield.StraightAcross, "core", 0},
		"across":                   {shield.Path, board, shield.StraightAcross, "core", 400},
		"half, across":             {shield.Half, "M0 0H250V700H0", shield.StraightAcross, "core", 400},
		"finished, along":          {shield.Path, board, shield.AlongCurve, "finished", 400},
		"finished, across":         {shield.Path, board, shield.StraightAcross, "finished", 400},
		"finished, not by a drawn": {shield.Rectangle, "", shield.AlongCurve, "finished", 400},
	} {
		spec := plain(shield.Outline{Shape: c.shape, D: c.d})
		if c.shape == shield.Rectangle {
			spec.Outline.Width, spec.Outline.Height = 500*mm, 700*mm
		}
		spec.Outline.WidthIs, spec.Outline.Is = c.widthIs, c.is
		spec.Core.Former = mm * 400
		if c.former == 0 {
			spec.Core.Former = 0
		}
		spec.Edge = &shield.Edge{Foam: "sheet-3", Corners: "met"}
		spec.Pieces = []shield.Piece{
			{Name: "drawn", Foam: "sheet-3", D: "M100 200H200V300H100Z", Count: 1, Layers: 1, Mirror: true},
			{Name: "put", Foam: "sheet-3", D: "M-20 -10H20V10H-20Z", Count: 1, Layers: 1, At: &geom.Point{X: -150, Y: 400}, Turn: 90},
		}
		spec.Gems = []shield.Gem{{Width: 40 * mm, Height: 60 * mm, Layers: 1, Count: 1, Foam: "sheet-3", At: []geom.Point{{X: 180, Y: 500}}}}
		spec.Grooves = []shield.Groove{{Tool: "knife", Passes: 1, D: "M-250 350H250"}, {Tool: "knife", Passes: 1, D: "M-30 0H30", At: &geom.Point{X: 120, Y: 250}}}
		s := build(t, spec)
		strip := 0.0
		if c.is == "finished" {
			strip = 3
		}
		k := (s.Box.Width() + 2*strip) / 500
		if stretched := c.widthIs == shield.StraightAcross && c.former > 0; stretched != (k > 1.01) {
			t.Fatalf("%s: stretched by %v", name, k)
		}
		rect := func(what string, got geom.Rect, x0, y0, x1, y1 float64) {
			if math.Max(math.Max(math.Abs(got.Min.X-x0), math.Abs(got.Min.Y-y0+strip)), math.Max(math.Abs(got.Max.X-x1), math.Abs(got.Max.Y-y1+strip))) > 1e-3 {
				t.Errorf("%s: the %s lies at %v", name, what, got)
			}
		}
		rect("piece drawn in place", s.Pieces[0].Region.Bounds(), 100*k, 200, 200*k, 300)
		rect("its mirror image", s.Pieces[1].Region.Bounds(), -200*k, 200, -100*k, 300)
		rect("piece put there", s.Pieces[2].Region.Bounds(), -150*k-10, 380, -150*k+10, 420)
		rect("gem", s.Gems[0].Region.Bounds(), 180*k-20, 470, 180*k+20, 530)
		rect("groove", s.Grooves[0].Line.Bounds(), -250*k, 350, 250*k, 350)
		rect("groove put there", s.Grooves[1].Line.Bounds(), 120*k-30, 250, 120*k+30, 250)
		if math.Abs(s.Grooves[0].Length-500*k) > 1e-3 {
			t.Errorf("%s: the groove is %v mm long", name, s.Grooves[0].Length)
		}
		if spec.Pieces[1].At.X != -150 || spec.Gems[0].At[0].X != 180 || spec.Grooves[0].D != "M-250 350H250" || spec.Grooves[1].At.X != 120 {
			t.Errorf("%s: the spec itself was changed", name)
		}
	}
}
