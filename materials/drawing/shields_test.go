package drawing_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

const mm = measure.Millimetre

// palette is of paints as a workshop may have them.
func palette() map[string]string {
	return map[string]string{
		"brass": "#b9924a", "fen blue": "#30506b", "bone": "#ece7da", "moss": "#2f7d55", "oxblood": "#7d2b2b",
		"soot": "#2b2a29", "oak": "#9a7447", "ochre": "#c99a3c", "iron": "#6d7175",
	}
}

func catalogue() materials.Catalogue {
	foam := func(code string, t measure.Length) materials.Foam {
		return materials.Foam{Code: code, Name: code, Form: materials.Sheet, Thickness: t * mm, Width: 1000 * mm, Height: 2000 * mm, Density: decimal.NewFromInt(90)}
	}
	c := materials.Catalogue{Foams: []materials.Foam{foam("sheet-10", 10), foam("sheet-5", 5), foam("sheet-3", 3)}}
	for name, hex := range palette() {
		c.Liquids = append(c.Liquids, materials.Liquid{Code: name, Name: name, Use: materials.UseColour, Colour: name, Swatch: hex})
	}
	return c
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
		Core: shield.Core{Foam: "sheet-10", Layers: 3, Templates: "same", Set: "cold", Joint: "butt"},
		Grip: shield.Grip{Kind: "none"}, Coat: shield.Coat{System: "none"},
	}
}

// bird is a wading bird on one leg and a bit, drawn for these tests.
const bird = "M-30 470 C-58 380 -30 330 0 298 C38 258 50 228 24 196 C-4 166 -12 138 10 112 C24 96 46 92 64 99 L128 112 L70 121 C46 128 42 146 56 168 C88 214 84 262 46 304 C26 330 20 366 30 416 L42 560 L27 560 L9 436 L-6 436 L4 560 L-11 560 L-19 470 Z"

// shields are the five that are kept as pictures.
func shields() map[string]shield.Spec {
	buckler := plain("Ferry buckler", shield.Outline{Shape: shield.Round, Diameter: 340 * mm})
	buckler.Core.Layers = 2
	buckler.Coat = shield.Coat{System: "latex", Coats: 4}
	buckler.Rim = &shield.Rim{Foam: "sheet-5", Width: 30 * mm, Colour: "iron"}
	buckler.Studs = 16
	buckler.Paint = []shield.Paint{{Colour: "oxblood", Where: "face", Coats: 2}}
	buckler.Gems = []shield.Gem{{Width: 110 * mm, Height: 110 * mm, Layers: 3, Count: 1, Foam: "sheet-10", Colour: "iron", At: []geom.Point{{X: 0, Y: 170}}}}
	buckler.Grip = shield.Grip{Kind: "bar", BlockLayers: 2, Hand: "either"}

	oval := plain("Bare oval", shield.Outline{Shape: shield.Oval, Width: 480 * mm, Height: 640 * mm})
	oval.Back = shield.Back{GrainPitch: 6 * mm}
	oval.Grip = shield.Grip{Kind: "rope"}

	heater := plain("Three stones", shield.Outline{Shape: shield.Heater, Width: 560 * mm, Height: 720 * mm, Shoulder: 200 * mm})
	heater.Core.Former = 500 * mm
	heater.Rim = &shield.Rim{Foam: "sheet-10", Width: 45 * mm, Colour: "soot"}
	heater.Edge = &shield.Edge{Foam: "sheet-3", Corners: "met"}
	heater.Coat = shield.Coat{System: "latex", Coats: 4}
	heater.Paint = []shield.Paint{{Colour: "ochre", Where: "face", Coats: 2}, {Colour: "soot", Where: "edge", Coats: 2}, {Colour: "oak", Where: "back", Coats: 2}}
	heater.Gems = []shield.Gem{{Width: 70 * mm, Height: 90 * mm, Layers: 2, Count: 3, Foam: "sheet-10", Colour: "oxblood", Faceted: true, At: []geom.Point{{X: 0, Y: 430}, {X: -125, Y: 205}, {X: 125, Y: 205}}}}
	heater.Grooves = []shield.Groove{{Tool: "rotary", Passes: 1, D: "M-205 372 L0 240 L205 372"}, {Tool: "knife", Passes: 1, D: "M-192 398 L0 274 L192 398"}}
	heater.Back = shield.Back{Finish: "planks", PlankWidth: 70 * mm, GrainPitch: 5 * mm, GrainDepth: 2 * mm, Cover: &shield.Strip{Foam: "sheet-3", Width: 30 * mm}}
	heater.Grip = shield.Grip{Kind: "straps", Straps: 2, Hand: "right"}

	hexagon := plain("Bale & <Sons>", shield.Outline{Shape: shield.Polygon, Width: 500 * mm, Sides: 6})
	hexagon.Coat = shield.Coat{System: "primer", Coats: 2}
	hexagon.Rim = &shield.Rim{Foam: "sheet-5", Width: 28 * mm}
	hexagon.Edge = &shield.Edge{Foam: "sheet-3", Corners: "met"}
	hexagon.Paint = []shield.Paint{{Colour: "moss", Where: "face", Coats: 2}}
	hexagon.Grip = shield.Grip{Kind: "bar", BlockLayers: 3, ThumbGuard: true, Hand: "left"}
	hexagon.Back = shield.Back{Finish: "planks", PlankWidth: 90 * mm}

	return map[string]shield.Spec{"buckler": buckler, "oval": oval, "heater": heater, "kite": kite(), "hexagon": hexagon}
}

// kite is the ornate one: everything a face can carry.
func kite() shield.Spec {
	s := plain("Heron kite", shield.Outline{Shape: shield.Kite, Width: 560 * mm, Height: 880 * mm, Shoulder: 200 * mm})
	s.Core.Former = 500 * mm
	s.Rim = &shield.Rim{Foam: "sheet-10", Width: 45 * mm, Colour: "brass"}
	s.Edge = &shield.Edge{Foam: "sheet-3", Corners: "wrapped"}
	s.Studs = 36
	s.Pieces = []shield.Piece{
		{Name: "heron", Foam: "sheet-5", D: bird, Count: 1, Layers: 1, Colour: "bone", At: &geom.Point{X: -18, Y: 130}},
		{Name: "reed", Foam: "sheet-5", D: "M0 0 C-26 -90 -22 -170 14 -250 C22 -160 24 -80 12 0 Z", Count: 1, Layers: 1, Mirror: true, Colour: "moss", At: &geom.Point{X: 110, Y: 560}, Turn: 8},
	}
	s.Gems = []shield.Gem{{Width: 56 * mm, Height: 74 * mm, Layers: 2, Count: 3, Foam: "sheet-10", Colour: "moss", At: []geom.Point{{X: 0, Y: 118}, {X: -150, Y: 225}, {X: 150, Y: 225}}}}
	s.Grooves = []shield.Groove{
		{Tool: "rotary", Passes: 1, D: "M-72 694 Q-52 684 -30 694 T30 694 T72 694"},
		{Tool: "knife", Passes: 1, D: "M-58 714 Q-40 706 -22 714 T22 714 T58 714"},
	}
	s.Paint = []shield.Paint{{Colour: "fen blue", Where: "face", Coats: 2}, {Colour: "brass", Where: "edge", Coats: 2}}
	s.Coat = shield.Coat{System: "latex", Coats: 4}
	s.Back = shield.Back{Finish: "planks", PlankWidth: 70 * mm, GrainPitch: 5 * mm, GrainDepth: 2 * mm, Cover: &shield.Strip{Foam: "sheet-3", Width: 25 * mm}}
	s.Grip = shield.Grip{Kind: "strap and bar", BlockLayers: 2, Straps: 1, ThumbGuard: true, Hand: "left"}
	return s
}
