package pattern

import (
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

const millimetre = measure.Millimetre

func catalogue() materials.Catalogue {
	foam := func(code, name string, t measure.Length) materials.Foam {
		return materials.Foam{Code: code, Name: name, Form: materials.Sheet, Thickness: t * millimetre, Width: 1000 * millimetre, Height: 2000 * millimetre, Density: decimal.NewFromInt(90)}
	}
	return materials.Catalogue{Foams: []materials.Foam{foam("ten", "Sheet 10 mm", 10), foam("five", "Sheet 5 mm", 5), foam("three", "Sheet 3 mm", 3)}}
}

func build(t testing.TB, spec shield.Spec) shield.Shield {
	t.Helper()
	s, err := shield.Make(spec, catalogue(), shield.UsualBench())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func plain(name string, o shield.Outline) shield.Spec {
	o.Is, o.WidthIs = "core", shield.AlongCurve
	return shield.Spec{
		Name: name, Quantity: 1, Outline: o,
		Core: shield.Core{Foam: "ten", Layers: 3, Templates: "same", Set: "cold", Joint: "butt"},
		Grip: shield.Grip{Kind: "none"}, Coat: shield.Coat{System: "none"},
	}
}

// reed is a leaf, and is not its own mirror image.
const reed = "M0 0 C-26 -90 -22 -170 14 -250 C22 -160 24 -80 12 0 Z"

// kite carries everything a template can come from.
func kite() shield.Spec {
	s := plain("Heron kite", shield.Outline{Shape: shield.Kite, Width: 560 * millimetre, Height: 880 * millimetre, Shoulder: 200 * millimetre})
	s.Core.Former = 500 * millimetre
	s.Rim = &shield.Rim{Foam: "ten", Width: 45 * millimetre}
	s.Edge = &shield.Edge{Foam: "three", Corners: "wrapped"}
	s.Studs = 12
	s.Pieces = []shield.Piece{
		{Name: "reed", Foam: "five", D: reed, Count: 1, Layers: 1, Mirror: true, At: &geom.Point{X: 110, Y: 560}, Turn: 8},
		{Name: "disc", Foam: "five", D: "M0 0 A30 30 0 0 1 0 60 A30 30 0 0 1 0 0Z", Count: 2, Layers: 2, At: &geom.Point{X: 0, Y: 400}},
	}
	s.Gems = []shield.Gem{
		{Width: 56 * millimetre, Height: 74 * millimetre, Layers: 2, Count: 3, Foam: "ten"},
		{Width: 56 * millimetre, Height: 74 * millimetre, Layers: 1, Count: 1, Foam: "ten"},
		{Width: 20 * millimetre, Height: 20 * millimetre, Layers: 1, Count: 1, Foam: "ten"},
	}
	s.Grooves = []shield.Groove{{Tool: "rotary", Passes: 1, D: "M-72 694 Q0 660 72 694"}}
	s.Back = shield.Back{Finish: "planks", PlankWidth: 70 * millimetre, Cover: &shield.Strip{Foam: "three", Width: 25 * millimetre}}
	s.Grip = shield.Grip{Kind: "strap and bar", BlockLayers: 2, Straps: 1, ThumbGuard: true, Hand: "left"}
	s.Parts = []shield.FreePart{
		{Name: "tag", Foam: "three", D: "M0 0H40V25H0Z", Count: 2, Layers: 1},
		{Name: "plate", Foam: "three", Width: 120 * millimetre, Height: 80 * millimetre, Count: 1, Layers: 3},
	}
	return s
}

func of(t testing.TB, spec shield.Spec, o Options) []Pattern {
	t.Helper()
	patterns, err := Of(build(t, spec), o)
	if err != nil {
		t.Fatal(err)
	}
	return patterns
}

func tile(t testing.TB, patterns []Pattern, l Layout) []Page {
	t.Helper()
	pages, err := Tile(patterns, l)
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

// drawnAs is a template of one outline, given as path data.
func drawnAs(t testing.TB, name, d string) Pattern {
	t.Helper()
	path, err := geom.ParsePath(d)
	if err != nil {
		t.Fatal(err)
	}
	p := Pattern{Set: "Measured", Name: name, Count: 1}
	p.outline(path)
	return p
}
