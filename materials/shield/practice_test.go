package shield_test

import (
	"math"
	"strings"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

func round() shield.Spec {
	return plain(shield.Outline{Shape: shield.Round, Diameter: 580 * mm})
}

// A turned gem turns about its middle; a groove that is put somewhere lies there, as long as it was drawn.
func TestTurnedAndPut(t *testing.T) {
	spec := round()
	spec.Gems = []shield.Gem{{Width: 40 * mm, Height: 90 * mm, Layers: 1, Count: 1, Foam: "sheet-3", Turn: 90, At: []geom.Point{{X: 70, Y: 200}}}}
	spec.Grooves = []shield.Groove{{Tool: "knife", Passes: 1, D: "M0 0H100", At: &geom.Point{X: -50, Y: 400}}}
	s := build(t, spec)
	gem, line := s.Gems[0].Region.Bounds(), s.Grooves[0].Line.Bounds()
	for what, off := range map[string]float64{
		"gem left": gem.Min.X - 25, "gem right": gem.Max.X - 115, "gem top": gem.Min.Y - 180, "gem foot": gem.Max.Y - 220,
		"groove from": line.Min.X + 50, "groove to": line.Max.X - 50, "groove down": line.Min.Y - 400, "groove length": s.Grooves[0].Length - 100,
	} {
		if math.Abs(off) > 0.1 {
			t.Errorf("%s is off by %.3f mm", what, off)
		}
	}
}

// A former stands only where the spec names it: a radius alone is any former of that radius.
func TestFormersByName(t *testing.T) {
	bench := shield.UsualBench()
	bench.Formers = []shield.Former{{Name: "Standard 500", Radius: 500 * mm}}
	for _, c := range []struct {
		core   shield.Core
		stands bool
		word   string
	}{
		{shield.Core{FormerIs: "standard 500"}, true, ""},
		{shield.Core{Former: 500 * mm}, false, ""},
		{shield.Core{FormerIs: "Barrel"}, false, "It has Standard 500."},
	} {
		spec := round()
		spec.Core.FormerIs, spec.Core.Former = c.core.FormerIs, c.core.Former
		s, err := shield.Make(spec, catalogue(), bench)
		if c.word != "" {
			if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Field != "core.former" || !strings.Contains(p[0].Remedy, c.word) {
				t.Errorf("%v: %v", c.core, err)
			}
		} else if err != nil || s.FormerStands != c.stands || s.Former != 500 {
			t.Errorf("%v: stands %v, radius %v, %v", c.core, s.FormerStands, s.Former, err)
		}
	}
}

// The layers of a tapered stack get shorter upwards: 120, 104, 88 mm at 8 mm a side, by hand.
func TestTaperedGrip(t *testing.T) {
	spec := round()
	spec.Grip = shield.Grip{Kind: "bar", BlockLayers: 3, Taper: 8 * mm, Hand: "right"}
	s := build(t, spec)
	var long []float64
	bond := 0.0
	for _, p := range s.Parts {
		if p.Kind == shield.BlockPart {
			long = append(long, p.Shape.Outer.Bounds().Width())
			bond += p.Net * float64(p.Count)
			if p.Count != 2 {
				t.Errorf("%s is cut %d times", p.Label, p.Count)
			}
		}
	}
	if len(long) != 3 || long[0] != 120 || long[1] != 104 || long[2] != 88 {
		t.Errorf("layers are %v long", long)
	}
	if s.Grip.Tapered != 4 || math.Abs(s.Grip.Bond-bond) > 1e-6 || bond != 2*60*(120+104+88) {
		t.Errorf("%d tapered, %.1f mm² bonded of %.1f", s.Grip.Tapered, s.Grip.Bond, bond)
	}
	spec.Grip.Taper = 40 * mm
	refused(t, spec, "grip.taper")
	spec.Grip.Taper, spec.Grip.Bar = 0, "sheet-10"
	refused(t, spec, "grip.bar")
}

// A strip is not pieced from stubs: 180 mm of a foam 170 mm long would be two of 90.
func TestNoStubs(t *testing.T) {
	c := catalogue()
	c.Foams[2].Width, c.Foams[2].Height = 170*mm, 60*mm
	spec := plain(shield.Outline{Shape: shield.Rectangle, Width: 180 * mm, Height: 160 * mm})
	spec.Edge = &shield.Edge{Foam: "sheet-3", Corners: "met"}
	if _, err := shield.Make(spec, c, shield.UsualBench()); len(fault.ProblemsOf(err)) == 0 || fault.ProblemsOf(err)[0].Field != "edge.foam" {
		t.Error(err)
	}
	spec.Outline.Width = 150 * mm
	if _, err := shield.Make(spec, c, shield.UsualBench()); err != nil {
		t.Error(err)
	}
}

// A rim over layers of their own is measured where it lies: at radii of 505 and 535 mm to the middle of the first layer
// and of the rim a band straight across is 535 ÷ 505 as long. By hand.
func TestRimIsMeasuredWhereItLies(t *testing.T) {
	spec := plain(shield.Outline{Shape: shield.Rectangle, Width: 505 * mm, Height: 700 * mm})
	spec.Core.Former, spec.Core.Templates = 500*mm, "per layer"
	spec.Rim = &shield.Rim{Foam: "sheet-10", Width: 40 * mm}
	s := build(t, spec)
	const wide, high = 535.0, 700.0
	for what, off := range map[string]float64{
		"area": s.Rim.Area - (wide*high - (wide-80)*(high-80)), "outside": s.Rim.Outer - 2*(wide+high), "inside": s.Rim.Inner - 2*(wide-80+high-80),
		"as drawn": s.Rim.Region.Area() - (505*high - (505-80)*(high-80)),
	} {
		if math.Abs(off) > 0.5 {
			t.Errorf("%s is off by %.3f", what, off)
		}
	}
}

func refused(t *testing.T, spec shield.Spec, field string) {
	t.Helper()
	_, err := shield.Make(spec, catalogue(), shield.UsualBench())
	if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Field != field {
		t.Errorf("%s: %v", field, err)
	}
}
