package drawing_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

// anyShield is a shield of any size, shape and proportion that can be made.
func anyShield(t *rapid.T) shield.Shield {
	size := func(name string, low, high int) measure.Length {
		return measure.Length(rapid.IntRange(low, high).Draw(t, name)) * mm
	}
	o := shield.Outline{Shape: rapid.SampledFrom([]string{shield.Round, shield.Oval, shield.Rectangle, shield.Heater, shield.Kite, shield.Polygon}).Draw(t, "shape")}
	o.Width, o.Height = size("width", 50, 3000), size("height", 50, 3000)
	o.Diameter, o.Sides = o.Width, rapid.IntRange(3, 12).Draw(t, "sides")
	if o.Shape == shield.Heater || o.Shape == shield.Kite {
		o.Height = max(o.Height, 60*mm+o.Width/2)
		o.Width = min(o.Width, 2*(o.Height-20*mm))
		o.Shoulder = size("shoulder", 1, int((o.Height - o.Width/2).MM()))
	}
	spec := plain("any", o)
	spec.Outline.Is = rapid.SampledFrom([]string{"core", "finished"}).Draw(t, "is")
	spec.Core.Layers = rapid.IntRange(1, 6).Draw(t, "layers")
	if rapid.Bool().Draw(t, "curved") {
		spec.Core.Former = size("former", 200, 4000)
	}
	if rapid.Bool().Draw(t, "rimmed") {
		spec.Rim = &shield.Rim{Foam: "sheet-10", Width: size("rim", 5, 120)}
	}
	if rapid.Bool().Draw(t, "edged") {
		spec.Edge = &shield.Edge{Foam: "sheet-3", Corners: "wrapped"}
	}
	spec.Studs = rapid.SampledFrom([]int{0, 1, 24, 500}).Draw(t, "studs")
	if rapid.Bool().Draw(t, "planked") {
		spec.Back = shield.Back{Finish: "planks", PlankWidth: size("plank", 20, 200), GrainPitch: 5 * mm}
	}
	if rapid.Bool().Draw(t, "covered") {
		spec.Back.Cover = &shield.Strip{Foam: "sheet-3", Width: size("cover", 5, 60)}
	}
	spec.Grip = shield.Grip{Kind: rapid.SampledFrom([]string{"none", "bar", "straps", "strap and bar", "rope"}).Draw(t, "grip"), BlockLayers: 2, Taper: rapid.SampledFrom([]measure.Length{0, 6 * mm}).Draw(t, "taper"), ThumbGuard: true, Hand: "left"}
	s, err := shield.Make(spec, catalogue(), shield.UsualBench())
	if err != nil {
		t.Skip(err) // not every mixture can be made
	}
	return s
}

// Whatever is drawn, texts keep off each other and off the lines that measure, and all of it is on the sheet.
func TestNothingOverlaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShield(t)
		for _, d := range []drawing.Drawing{drawing.Face(s, nil), drawing.Back(s, nil), drawing.Section(s), drawing.Exploded(s, nil)} {
			if err := overlap(d); err != nil {
				t.Fatalf("%s: %v", d.View, err)
			}
		}
	})
}

func overlap(d drawing.Drawing) error {
	var texts []drawing.Text
	var lines [][]geom.Point
	for _, m := range d.Marks {
		if box, ok := drawing.Box(m); ok && (box.Min.X < d.Sheet.Min.X || box.Min.Y < d.Sheet.Min.Y || box.Max.X > d.Sheet.Max.X || box.Max.Y > d.Sheet.Max.Y) {
			if l, rules := m.(drawing.Lines); !rules || l.Class != drawing.Grid && l.Class != drawing.GridBold {
				if a, ground := m.(drawing.Area); !ground || a.Class != drawing.Ground {
					return fmt.Errorf("%T off the sheet: %v", m, box)
				}
			}
		}
		switch m := m.(type) {
		case drawing.Text:
			texts = append(texts, m)
		case drawing.Lines:
			if m.Class == drawing.Dimension || m.Class == drawing.Centre {
				lines = append(lines, m.Chains...)
			}
		}
	}
	for i, a := range texts {
		box, _ := drawing.Box(a)
		for _, b := range texts[i+1:] {
			if other, _ := drawing.Box(b); box.Min.X < other.Max.X && other.Min.X < box.Max.X && box.Min.Y < other.Max.Y && other.Min.Y < box.Max.Y {
				return fmt.Errorf("%q lies on %q", a.Words, b.Words)
			}
		}
		for _, line := range lines {
			for k := range line[1:] {
				if crosses(line[k], line[k+1], box) {
					return fmt.Errorf("a line from %v to %v goes through %q %v", line[k], line[k+1], a.Words, box)
				}
			}
		}
	}
	return nil
}

// crosses tells whether a line goes through a box, by looking at many places on it.
func crosses(p, q geom.Point, box geom.Rect) bool {
	const looks = 2000
	for i := range looks + 1 {
		t := float64(i) / looks
		x, y := p.X+(q.X-p.X)*t, p.Y+(q.Y-p.Y)*t
		if x > box.Min.X && x < box.Max.X && y > box.Min.Y && y < box.Max.Y {
			return true
		}
	}
	return false
}

// The measures written are those of the shield. The kite's chord and depth are checked in package shield.
func TestMeasures(t *testing.T) {
	heater := shields()["heater"]
	finished := heater
	finished.Outline.Is = "finished"
	across := finished
	across.Outline.WidthIs = shield.StraightAcross
	for name, c := range map[string]struct {
		d     drawing.Drawing
		wants []string
	}{
		"kite face":     {drawing.Face(build(t, kite()), nil), []string{"560 along the curve", "542 straight across", "880", "shoulder 200", "rim 45"}},
		"kite back":     {drawing.Back(build(t, kite()), nil), []string{"plank 70", "cover strip 25", "bar, strap, thumb guard, left hand"}},
		"kite section":  {drawing.Section(build(t, kite())), []string{"542 straight across", "102 deep", "former 500", "3 layers of 10", "rim 45 × 10", "strip 3"}},
		"oval section":  {drawing.Section(build(t, shields()["oval"])), []string{"480 wide", "30 thick", "3 layers of 10"}},
		"finished face": {drawing.Face(build(t, finished), nil), []string{"560 along the curve", "720"}},
		"hexagon":       {drawing.Face(build(t, shields()["hexagon"]), nil), []string{"500", "433", "rim 28"}},
	} {
		have := map[string]bool{}
		for _, m := range c.d.Marks {
			if text, ok := m.(drawing.Text); ok {
				have[text.Words] = true
			}
		}
		for _, want := range c.wants {
			if !have[want] {
				t.Errorf("%s: no %q among %v", name, want, have)
			}
		}
	}
}

// Text is as large beside a toy as beside a gate.
func TestTextGrowsWithTheWork(t *testing.T) {
	for _, h := range []measure.Length{50, 400, 3000} {
		s := build(t, plain("", shield.Outline{Shape: shield.Rectangle, Width: h * mm, Height: h * mm}))
		d := drawing.Face(s, nil)
		if share := d.Text / math.Max(d.Sheet.Width(), d.Sheet.Height()); share < 0.02 || share > 0.035 {
			t.Errorf("%d mm: text is %.3f of the sheet", h, share)
		}
	}
}

// A prop has parts and no outline: the face shows them, back and section say that there is none.
func TestPropsHaveParts(t *testing.T) {
	spec := plain("Reed axe", shield.Outline{})
	spec.Kind = shield.Prop
	spec.Parts = []shield.FreePart{
		{Name: "blade", Foam: "sheet-10", D: "M0 0L210 -120V220L0 100Z", Count: 1, Layers: 2, Colour: "iron"},
		{Name: "shaft", Foam: "sheet-10", Width: 900 * mm, Height: 34 * mm, Count: 2, Layers: 1},
		{Name: "a binding that has a name longer than itself", Foam: "sheet-3", Width: 12 * mm, Height: 25 * mm, Count: 4, Layers: 1},
	}
	for _, parts := range [][]shield.FreePart{spec.Parts, nil} {
		spec.Parts = parts
		s := build(t, spec)
		words := map[string]bool{}
		for _, d := range views(s) {
			if err := overlap(d); err != nil {
				t.Errorf("%s of %d parts: %v", d.View, len(parts), err)
			}
			for _, m := range d.Marks {
				if text, ok := m.(drawing.Text); ok {
					words[text.Words] = true
				}
			}
			picture(t, d, 400)
			parsed(t, drawing.SVG(d))
		}
		for _, want := range []string{"blade", "210 × 340, 2 layers", "2 of 900 × 34"} {
			if words[want] != (parts != nil) {
				t.Errorf("%d parts: %q among %v", len(parts), want, words)
			}
		}
	}
}
