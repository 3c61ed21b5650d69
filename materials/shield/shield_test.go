package shield_test

import (
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

const mm = measure.Millimetre

func catalogue() materials.Catalogue {
	foam := func(code string, form materials.Form, t, w, h, pitch measure.Length) materials.Foam {
		return materials.Foam{Code: code, Name: code, Form: form, Thickness: t * mm, Width: w * mm, Height: h * mm, Pitch: pitch * mm, Density: decimal.NewFromInt(90)}
	}
	return materials.Catalogue{Foams: []materials.Foam{
		foam("mat-10", materials.Mat, 10, 550, 550, 550), foam("sheet-10", materials.Sheet, 10, 1000, 2000, 0),
		foam("sheet-3", materials.Sheet, 3, 1000, 2000, 0), foam("mat-3", materials.Mat, 3, 550, 550, 550),
	}}
}

func build(t *testing.T, spec shield.Spec) shield.Shield {
	t.Helper()
	s, err := shield.Make(spec, catalogue(), shield.UsualBench())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func plain(o shield.Outline) shield.Spec {
	o.Is, o.WidthIs = "core", shield.AlongCurve
	return shield.Spec{
		Name: "test", Quantity: 1, Outline: o,
		Core: shield.Core{Foam: "sheet-10", Layers: 3, Templates: "same", Set: "cold", Joint: "butt"},
		Grip: shield.Grip{Kind: "none"}, Coat: shield.Coat{System: "none"},
	}
}

// Figures computed with an independent geometry library on polygons of 8 000 points: relative 1e-6, the rim
// band 1e-4.
func TestOutlines(t *testing.T) {
	for _, c := range []struct {
		o                              shield.Outline
		area, perimeter, circle, rim45 float64
	}{
		{shield.Outline{Shape: shield.Round, Diameter: 580 * mm}, 264207.94, 1822.124, 580, 75634},
		{shield.Outline{Shape: shield.Oval, Width: 480 * mm, Height: 640 * mm}, 241274.32, 1768.279, 640, 73211},
		{shield.Outline{Shape: shield.Heater, Width: 600 * mm, Height: 750 * mm, Shoulder: 200 * mm}, 352583.24, 2306.624, 870, 96408},
		{shield.Outline{Shape: shield.Heater, Width: 560 * mm, Height: 860 * mm, Shoulder: 260 * mm}, 379072.99, 2447.267, 951.163, 102587},
		{shield.Outline{Shape: shield.Kite, Width: 550 * mm, Height: 1100 * mm, Shoulder: 275 * mm}, 427910.8, 2633.566, 1100, 111270},
		{shield.Outline{Shape: shield.Kite, Width: 560 * mm, Height: 880 * mm, Shoulder: 200 * mm}, 350242.4, 2268.087, 880, 95224},
	} {
		spec := plain(c.o)
		spec.Rim = &shield.Rim{Foam: "sheet-10", Width: 45 * mm}
		s := build(t, spec)
		for name, pair := range map[string][3]float64{
			"area": {s.Area, c.area, 1e-6}, "perimeter": {s.Perimeter, c.perimeter, 1e-6},
			"circle": {s.Circle, c.circle, 1e-6}, "rim": {s.Rim.Area, c.rim45, 1e-4},
		} {
			if math.Abs(pair[0]-pair[1]) > pair[2]*pair[1] {
				t.Errorf("%s %v: %s %v, want %v", c.o.Shape, c.o.Width, name, pair[0], pair[1])
			}
		}
	}
}

// Common practice, no source: a heater 560 × 860 with its shoulder at 260 takes five lengths of 55 cm when
// the strip is wrapped, six pieces when corners meet; three layers and a rim of 10 mm need at least 40 mm.
func TestEdgeStrip(t *testing.T) {
	spec := plain(shield.Outline{Shape: shield.Heater, Width: 560 * mm, Height: 860 * mm, Shoulder: 260 * mm})
	spec.Rim = &shield.Rim{Foam: "sheet-10", Width: 45 * mm}
	for corners, want := range map[string]int{"wrapped": 5, "met": 6} {
		spec.Edge = &shield.Edge{Foam: "mat-3", Corners: corners}
		s := build(t, spec)
		if got := s.EdgeLengths(); got != want {
			t.Errorf("%s: %d lengths, want %d", corners, got, want)
		}
		for _, p := range s.Parts {
			if p.Kind == shield.EdgePart && p.Shape.Outer[2].Y < 40 {
				t.Errorf("edge strip %v mm wide", p.Shape.Outer[2].Y)
			}
		}
	}
}

// Common practice, no source: "60 × 90 cm or 70 cm round" answers right on both sides of both limits.
func TestRuleEither(t *testing.T) {
	rule := &shield.Rule{Code: "r", Name: "Fen", Measured: shield.Flat, Width: 600 * mm, Height: 900 * mm, Circle: 700 * mm, Either: true}
	for _, c := range []struct {
		o      shield.Outline
		answer string
		by     string
	}{
		{shield.Outline{Shape: shield.Round, Diameter: 700 * mm}, shield.Fits, "circle"},
		{shield.Outline{Shape: shield.Round, Diameter: 701 * mm}, shield.TooBig, "circle"},
		{shield.Outline{Shape: shield.Rectangle, Width: 600 * mm, Height: 900 * mm}, shield.Fits, "rectangle"},
		{shield.Outline{Shape: shield.Rectangle, Width: 900 * mm, Height: 600 * mm}, shield.Fits, "rectangle"},
		{shield.Outline{Shape: shield.Rectangle, Width: 600 * mm, Height: 901 * mm}, shield.TooBig, "rectangle"},
		{shield.Outline{Shape: shield.Rectangle, Width: 601 * mm, Height: 900 * mm}, shield.TooBig, "rectangle"},
	} {
		spec := plain(c.o)
		spec.Rule = "r"
		v := build(t, spec).Judge(rule, decimal.Zero)
		if v.Answer != c.answer || v.By != c.by {
			t.Errorf("%s %v × %v: %s by %s (%v), want %s by %s", c.o.Shape, c.o.Width, c.o.Height, v.Answer, v.By, v.Margin, c.answer, c.by)
		}
	}
	// The strip counts: a 700 mm core with a 3 mm strip is 706 mm.
	spec := plain(shield.Outline{Shape: shield.Round, Diameter: 700 * mm})
	spec.Rule, spec.Edge = "r", &shield.Edge{Foam: "sheet-3", Corners: "wrapped"}
	if v := build(t, spec).Judge(rule, decimal.Zero); v.Answer != shield.TooBig || math.Abs(v.Margin+6) > 1e-3 {
		t.Errorf("with its strip: %s, %v", v.Answer, v.Margin)
	}
	// A finished outline has its strip inside.
	spec.Outline.Is = "finished"
	if v := build(t, spec).Judge(rule, decimal.Zero); v.Answer != shield.Fits {
		t.Errorf("finished: %s, %v", v.Answer, v.Margin)
	}
}

// Panels of a layer sum to the layer, seams of neighbouring layers keep apart, and every panel fits its mat.
func TestPanels(t *testing.T) {
	for _, joint := range []string{"interlock", "butt"} {
		spec := plain(shield.Outline{Shape: shield.Heater, Width: 600 * mm, Height: 750 * mm, Shoulder: 200 * mm})
		spec.Core.Foam, spec.Core.Joint = "mat-10", joint
		s := build(t, spec)
		net := 0.0
		for _, p := range s.Parts {
			net += p.Net * float64(p.Count)
			for _, at := range p.Shape.Outer {
				if at.X < -1e-6 || at.Y < -1e-6 || at.X > 550+1e-6 || at.Y > 550+1e-6 {
					t.Fatalf("%s reaches to %v", p.Label, at)
				}
			}
		}
		if math.Abs(net-3*s.Area) > 1e-6*net {
			t.Errorf("%s: panels are %v mm², layers %v", joint, net, 3*s.Area)
		}
		if s.Seams.Locked+s.Seams.Glued < 3*550 {
			t.Errorf("%s: seams %+v", joint, s.Seams)
		}
	}
}

func TestWhatCannotBeMade(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*shield.Spec)
		field  string
		says   string
	}{
		"unknown foam": {func(s *shield.Spec) { s.Core.Foam = "cork" }, "core.foam", "mat-10"},
		"tiny":         {func(s *shield.Spec) { s.Outline.Width = 5 * mm }, "outline.width", "50 mm"},
		"shoulder":     {func(s *shield.Spec) { s.Outline.Shoulder = 600 * mm }, "outline.shoulder", "at most 450 mm"},
		"tight former": {func(s *shield.Spec) { s.Core.Former = 100 * mm }, "core.former_radius", "200 mm"},
		"crossing path": {func(s *shield.Spec) {
			s.Outline = shield.Outline{Shape: shield.Path, D: "M0 0 L400 400 L400 0 L0 300 Z"}
		}, "outline.d", "cross"},
		"open path":     {func(s *shield.Spec) { s.Outline = shield.Outline{Shape: shield.Path, D: "M0 0 L400 400 L400 0"} }, "outline.d", ""},
		"half off axis": {func(s *shield.Spec) { s.Outline = shield.Outline{Shape: shield.Half, D: "M5 0 L200 0 L200 400 L0 600"} }, "outline.d", "5 mm"},
		"fat rim":       {func(s *shield.Spec) { s.Rim = &shield.Rim{Foam: "sheet-10", Width: 400 * mm} }, "rim.width", "narrower"},
		"deep grain":    {func(s *shield.Spec) { s.Back.GrainDepth = 9 * mm }, "back.grain_depth", "3 mm"},
		"no colour":     {func(s *shield.Spec) { s.Paint = []shield.Paint{{Colour: "gold", Where: "face", Coats: 2}} }, "paint.0.colour", "no such colour"},
	} {
		spec := plain(shield.Outline{Shape: shield.Heater, Width: 600 * mm, Height: 750 * mm, Shoulder: 200 * mm})
		c.change(&spec)
		_, err := shield.Make(spec, catalogue(), shield.UsualBench())
		found := false
		for _, p := range fault.ProblemsOf(err) {
			found = found || p.Field == c.field && strings.Contains(p.Remedy, c.says)
		}
		if !found {
			t.Errorf("%s: %v; want %s with %q", name, err, c.field, c.says)
		}
	}
}

// Every kind of limit, on both sides of it. Common practice, no source: an area class of 5 ft² is 464 515.2 mm²
// (1 ft = 304.8 mm), its disc 769 mm across.
func TestRuleKinds(t *testing.T) {
	round := func(d measure.Length) shield.Spec {
		s := plain(shield.Outline{Shape: shield.Round, Diameter: d * mm})
		s.Rule = "r"
		return s
	}
	kg := decimal.RequireFromString
	for name, c := range map[string]struct {
		rule        shield.Rule
		holds, not  shield.Spec
		broken      string
		heavy, mass string
	}{
		"area":      {shield.Rule{Area: kg("0.4645152")}, round(769), round(770), shield.TooBig, "1", "1"},
		"side":      {shield.Rule{Side: 600 * mm}, round(600), round(601), shield.TooBig, "1", "1"},
		"face":      {shield.Rule{MinFace: 300 * mm}, round(300), round(299), shield.TooSmall, "1", "1"},
		"thickness": {shield.Rule{Thickness: 30 * mm}, round(300), func() shield.Spec { s := round(300); s.Core.Layers = 2; return s }(), shield.TooThin, "1", "1"},
		"weight":    {shield.Rule{Weight: kg("2.5")}, round(300), round(300), shield.TooHeavy, "2.501", "2.5"},
	} {
		c.rule.Measured = shield.Flat
		if v := build(t, c.holds).Judge(&c.rule, kg(c.mass)); v.Answer != shield.Fits {
			t.Errorf("%s: %+v", name, v)
		}
		if v := build(t, c.not).Judge(&c.rule, kg(c.heavy)); v.Answer != c.broken || v.Margin >= 0 {
			t.Errorf("%s broken: %+v", name, v)
		}
	}
	// Curved, it may fit straight across and not along the curve.
	s := plain(shield.Outline{Shape: shield.Rectangle, Width: 610 * mm, Height: 800 * mm})
	s.Rule, s.Core.Former = "r", 400*mm
	v := build(t, s).Judge(&shield.Rule{Measured: shield.AlongCurve, Width: 600 * mm, Height: 900 * mm}, decimal.Zero)
	if v.Answer != shield.OnlyIf+shield.StraightAcross {
		t.Errorf("curved: %+v", v)
	}
	// Largest of the same shape.
	if v := build(t, round(770)).Judge(&shield.Rule{Measured: shield.Flat, Circle: 700 * mm}, decimal.Zero); v.Largest != "700 × 700 mm" && v.Largest != "699 × 699 mm" {
		t.Errorf("largest: %+v", v)
	}
}

// With a template for each layer the rim is the outmost one and as much longer: mid radii of 505 and 535 mm.
func TestRimOverLayersOfTheirOwn(t *testing.T) {
	spec := plain(shield.Outline{Shape: shield.Rectangle, Width: 500 * mm, Height: 600 * mm})
	spec.Core.Former, spec.Core.Templates = 500*mm, "per layer"
	spec.Rim = &shield.Rim{Foam: "sheet-10", Width: 40 * mm}
	s := build(t, spec)
	wide := 500 * 535.0 / 505
	for _, p := range s.Parts {
		if p.Kind != shield.RimPart {
			continue
		}
		if got := p.Shape.Outer.Bounds().Width(); math.Abs(got-wide-16) > 0.01 {
			t.Errorf("the rim is cut %v mm wide, want %v", got, wide+16)
		}
		if want := wide*600 - (wide-80)*520; math.Abs(p.Net-want) > 1 {
			t.Errorf("the rim is %v mm², want %v", p.Net, want)
		}
	}
}
