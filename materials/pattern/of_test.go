package pattern

import (
	"bytes"
	"encoding/xml"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

var update = flag.Bool("update", false, "write the pictures in testdata anew")

func named(patterns []Pattern) map[string]Pattern {
	all := map[string]Pattern{}
	for _, p := range patterns {
		all[p.Name] = p
	}
	return all
}

// chainsOf are a template's lines of a class, with given words if any.
func chainsOf(p Pattern, c Class, words string) (all [][]geom.Point) {
	for _, l := range p.Lines {
		if l.Class == c && strings.Contains(l.Words, words) {
			all = append(all, l.Chain)
		}
	}
	return all
}

func boxOf(chains [][]geom.Point) geom.Rect {
	var all geom.Ring
	for _, c := range chains {
		all = append(all, c...)
	}
	return all.Bounds()
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s is %.3f, want %.3f", what, got, want)
	}
}

func TestKite(t *testing.T) {
	patterns := of(t, kite(), Options{})
	var names []string
	for _, p := range patterns {
		names = append(names, p.Name+": "+p.Cutting())
	}
	want := []string{
		"core, half: cut 3, Sheet 10 mm", "reed: cut 1 and its mirror image, Sheet 5 mm", "disc: cut 4, Sheet 5 mm", "gem 56 × 74: cut 7, Sheet 10 mm",
		"gem 20 × 20: cut 1, Sheet 10 mm", "stud: cut 12, Sheet 10 mm", "tag: cut 2, Sheet 3 mm",
		"edge strip: 3 mm foam", "cover strip, on the back: Sheet 3 mm", "grip: Sheet 10 mm", "plate: Sheet 3 mm",
	}
	if strings.Join(names, "; ") != strings.Join(want, "; ") {
		t.Fatalf("templates are\n%s\nwant\n%s", strings.Join(names, "; "), strings.Join(want, "; "))
	}
	all := named(patterns)
	core := all["core, half"]
	cut, trim, fold := boxOf(chainsOf(core, Cut, "")), boxOf(chainsOf(core, Trim, "")), boxOf(chainsOf(core, Fold, ""))
	near(t, "half the width", cut.Max.X, 280, 0.05)
	near(t, "the height", cut.Max.Y, 880, 0.05)
	near(t, "the width of the trim line", trim.Max.X, 288, 0.05)
	near(t, "the top of the trim line", trim.Min.Y, -8, 0.05)
	if trim.Min.X != 0 || cut.Min.X != 0 || fold.Min.X != 0 || fold.Max.X != 0 || math.Abs(fold.Min.Y-trim.Min.Y) > 0.01 || math.Abs(fold.Max.Y-trim.Max.Y) > 0.01 {
		t.Errorf("the half does not end on its centre line: %v, %v, %v", cut, trim, fold)
	}
	near(t, "the rim's inside", boxOf(chainsOf(core, Mark, "rim")).Max.X, 235, 0.05)
	if n := len(chainsOf(core, Mark, "plank")); n != 4 {
		t.Errorf("%d plank lines on the half, want 4", n)
	}
	near(t, "the groove's end", boxOf(chainsOf(core, Mark, "groove")).Max.X, 72, 0.05)
	if said := strings.Join(all["reed"].Notes, " "); !strings.Contains(said, "right of the centre line, turned 8° clockwise") || !strings.Contains(said, "left of the centre line, turned 8° anticlockwise") {
		t.Errorf("the reed's place: %s", said)
	}
	if said := all["plate"].Notes[0]; said != "3 of 120 × 80 mm." {
		t.Errorf("the plate: %s", said)
	}
}

func TestWholeAndRim(t *testing.T) {
	all := named(of(t, kite(), Options{Whole: true, Rim: true}))
	core, rim := all["core"], all["rim"]
	near(t, "the width", boxOf(chainsOf(core, Cut, "")).Width(), 560, 0.05)
	if len(chainsOf(core, Fold, "")) != 0 || len(chainsOf(core, Mark, "centre line")) != 1 || len(chainsOf(core, Mark, "plank")) != 8 {
		t.Error("a whole template has a fold line, no centre line or not all its planks")
	}
	near(t, "the rim's inside", boxOf(chainsOf(rim, Cut, "inside")).Width(), 470, 0.05)
	if half := named(of(t, kite(), Options{Rim: true}))["rim, half"]; len(half.Lines) == 0 {
		t.Error("no half rim")
	}
}

// A single layer without a rim is cut to its line.
func TestSingleLayerHasNoTrim(t *testing.T) {
	spec := plain("Board", shield.Outline{Shape: shield.Round, Diameter: 400 * millimetre})
	spec.Core.Layers = 1
	p := of(t, spec, Options{})[0]
	if len(chainsOf(p, Trim, "")) != 0 || p.Count != 1 {
		t.Errorf("%+v", p.Notes)
	}
}

func TestLayersOfTheirOwn(t *testing.T) {
	spec := kite()
	spec.Core.Templates = "per layer"
	s := build(t, spec)
	all := named(of(t, spec, Options{}))
	for i, name := range []string{"layer 1 of 3, half", "layer 2 of 3, half", "layer 3 of 3, half"} {
		p, ok := all[name]
		if !ok {
			t.Fatalf("no %s", name)
		}
		near(t, name, 2*boxOf(chainsOf(p, Cut, "")).Max.X, 560+s.Curve.Longer[i], 0.05)
		if rim, plank := len(chainsOf(p, Mark, "rim")) > 0, len(chainsOf(p, Mark, "plank")) > 0; rim != (i == 2) || plank != (i == 0) {
			t.Errorf("%s has a rim: %v, planks: %v", name, rim, plank)
		}
	}

	// What lies on the front is as much wider as the front layer, the rim as much as the rim; a piece keeps its size
	// and moves. Radii of 505 to 535 mm to the middle of each layer, by hand.
	front, rim := all["layer 3 of 3, half"], all["rim, half"]
	near(t, "the groove's end", boxOf(chainsOf(front, Mark, "groove")).Max.X, 72*525.0/505, 0.05)
	near(t, "the rim's line on the front", boxOf(chainsOf(front, Mark, "rim")).Max.X, 280*525.0/505-45, 0.05)
	near(t, "the rim", boxOf(chainsOf(rim, Cut, "finished")).Max.X, 280*535.0/505, 0.05)
	near(t, "the rim's inside", boxOf(chainsOf(rim, Cut, "inside")).Max.X, 280*535.0/505-45, 0.05)
	place, drawn := boxOf(chainsOf(front, Mark, "reed")), s.Pieces[0].Region.Bounds()
	near(t, "the reed's width", place.Width(), drawn.Width(), 0.001)
	near(t, "the reed's place", (place.Min.X+place.Max.X)/2, (drawn.Min.X+drawn.Max.X)/2*525/505, 0.001)
	if n := len(chainsOf(all["layer 1 of 3, half"], Mark, "reed")); n != 0 {
		t.Errorf("the back has %d places of reeds", n)
	}
	if said := strings.Join(all["reed"].Notes, " "); !strings.Contains(said, mm(math.Round((drawn.Min.X+drawn.Max.X)/2*525/505))+" mm right of the centre line") {
		t.Errorf("the reed's place: %s", said)
	}
}

func TestWhatIsNotAlikeIsWhole(t *testing.T) {
	spec := plain("Leaning", shield.Outline{Shape: shield.Path, D: "M0 0 L300 0 L340 500 L0 480 Z"})
	if p := of(t, spec, Options{})[0]; p.Name != "core" {
		t.Errorf("%s", p.Name)
	}
	// Drawn by hand and alike on both sides, with a hole on the centre line and one either side.
	spec.Outline.D = "M0 0L400 0L380 500L20 500Z M180 100H220V140H180Z M50 200H90V240H50Z M310 200H350V240H310Z"
	p := of(t, spec, Options{})[0]
	if p.Name != "core, half" || len(chainsOf(p, Cut, "")) != 3 {
		t.Errorf("%s in %d lines", p.Name, len(chainsOf(p, Cut, "")))
	}
	// Grooves of one side go on a sheet of their own beside a half.
	k := kite()
	k.Grooves[0].D = "M20 300L120 380"
	all := named(of(t, k, Options{}))
	if g, ok := all["grooves"]; !ok || len(chainsOf(all["core, half"], Mark, "groove")) != 0 || g.Bounds().Max.X != 120 {
		t.Error("the groove is not on a sheet of its own")
	}
	if all := named(of(t, k, Options{Whole: true})); len(chainsOf(all["core"], Mark, "groove")) != 1 {
		t.Error("the groove is not on the whole template")
	}
}

// The two halves make the whole: what is cut along a half and its mirror image is as long as the outline.
func TestHalvesMakeTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := rapid.SampledFrom([]string{shield.Oval, shield.Kite, shield.Heater, shield.Rectangle, shield.Polygon}).Draw(t, "shape")
		o := shield.Outline{Shape: shape, Width: 420 * millimetre, Height: 800 * millimetre, Shoulder: 210 * millimetre, Sides: rapid.IntRange(3, 9).Draw(t, "sides"), Is: "core", WidthIs: shield.AlongCurve}
		spec := plain("Any", o)
		s, err := shield.Make(spec, catalogue(), shield.UsualBench())
		if err != nil {
			t.Fatal(err)
		}
		patterns, err := Of(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, c := range chainsOf(patterns[0], Cut, "") {
			sum += length(c)
		}
		if patterns[0].Name != "core, half" || math.Abs(2*sum-s.Perimeter) > 0.002*s.Perimeter {
			t.Fatalf("%s: twice %v is not %v", patterns[0].Name, sum, s.Perimeter)
		}
	})
}

func TestNothingToDraw(t *testing.T) {
	spec := shield.Spec{Kind: shield.Prop, Name: "Box", Quantity: 1, Grip: shield.Grip{Kind: "none"}, Coat: shield.Coat{System: "none"},
		Parts: []shield.FreePart{{Name: "side", Foam: "ten", Width: 100 * millimetre, Height: 50 * millimetre, Count: 2, Layers: 1}}}
	if _, err := Of(build(t, spec), Options{}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("got %v", err)
	}
	spec.Parts[0].D = "M0 0H80V30Z"
	if all := of(t, spec, Options{}); len(all) != 1 || all[0].Name != "side" || all[0].Cutting() != "cut 2, Sheet 10 mm" {
		t.Errorf("got %+v", all)
	}
}

// Names of other scripts are printed; hostile ones stay words, on paper and in vector files.
func TestNames(t *testing.T) {
	for name, want := range map[string]string{
		"Ασπίδα του Ηνίοχου": "Ασπίδα του Ηνίοχου", "Щит с цаплей": "Щит с цаплей", "Ørsted & <Søn> \"7\"": `Ørsted & <Søn> "7"`,
		"(\\) Tj ET %%EOF": `(\) Tj ET %%EOF`, "a\x00b\r\nc\u202ed\u200d": "ab cd", "盾\U0001f6e1": "□□", "\xff\xfe": "", "": "",
		strings.Repeat("wide ", 200): "wide wide", strings.Repeat("w", 4000): "wwwwwwwwww", "{nb} </svg><script>alert(1)</script>": "{nb} </svg><script>alert(1)</script>",
	} {
		spec := kite()
		spec.Name, spec.Pieces[0].Name = name, name
		patterns := of(t, spec, Options{})[1:3] // the reed and the disc
		doc := printed(t, tile(t, patterns, Layout{}))
		text := strings.Join(strings.Fields(poppler(t, doc, "pdftotext", "-", "-")), " ")
		if !strings.Contains(text, want) {
			t.Errorf("%q is not printed as %q", name, want)
		}
		for _, p := range patterns {
			drawn, err := SVG(p)
			if err != nil {
				t.Fatal(err)
			}
			if strings.Contains(drawn, "<script") {
				t.Errorf("%q became markup", name)
			}
			for dec := xml.NewDecoder(strings.NewReader(drawn)); ; {
				if _, err := dec.Token(); err == io.EOF {
					break
				} else if err != nil {
					t.Fatalf("%q is no XML: %v", name, err)
				}
			}
		}
	}
}

// The pictures in testdata are looked at when they change.
func TestPicturesAreKept(t *testing.T) {
	all := named(of(t, kite(), Options{}))
	for file, name := range map[string]string{"core.svg": "core, half", "reed.svg": "reed", "stud.svg": "stud"} {
		drawn, err := SVG(all[name])
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join("testdata", file)
		if *update {
			if err := os.WriteFile(path, []byte(drawn), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		kept, err := os.ReadFile(path)
		if err != nil || !bytes.Equal(kept, []byte(drawn)) {
			t.Errorf("%s is drawn otherwise than kept; look at it and run the test with -update (%v)", file, err)
		}
	}
}

// An SVG says its size in mm, and its view box is that size: it prints true.
func TestSVGIsTrueToSize(t *testing.T) {
	drawn, err := SVG(drawnAs(t, "board", "M0 0H400V300H0Z"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`width="420mm" height="344mm" viewBox="-10 -10 420 344"`, `d="M0 0L400 0L400 300L0 300Z"`, `<rect x="90"`} {
		if !strings.Contains(drawn, want) {
			t.Errorf("there is no %s in %s", want, drawn)
		}
	}
}

// Gems and grooves that are put somewhere keep their size on a wider front layer, and their middles move; where a gem
// goes and how it is turned stands with its template.
func TestTurnedGemsAndPutGrooves(t *testing.T) {
	spec := kite()
	spec.Core.Templates, spec.Pieces = "per layer", nil
	spec.Gems = []shield.Gem{{Width: 40 * millimetre, Height: 80 * millimetre, Layers: 1, Count: 1, Foam: spec.Core.Foam, Turn: 30, At: []geom.Point{{X: 101, Y: 300}}}}
	spec.Grooves = []shield.Groove{{Tool: "knife", Passes: 1, D: "M-40 0H40", At: &geom.Point{X: 101, Y: 500}}}
	all := named(of(t, spec, Options{Whole: true}))
	groove := boxOf(chainsOf(all["layer 3 of 3"], Mark, "groove"))
	near(t, "the groove's length", groove.Width(), 80, 0.001)
	near(t, "the groove's middle", (groove.Min.X+groove.Max.X)/2, 101*525.0/505, 0.001) // radii as above
	gem := boxOf(chainsOf(all["layer 3 of 3"], Mark, "gem"))
	// The box of an ellipse of half axes 20 and 40 turned by 30°: half width √(20² cos² 30° + 40² sin² 30°), by hand.
	near(t, "the gem's width", gem.Width(), 2*math.Sqrt(400*0.75+1600*0.25), 0.1)
	if said := strings.Join(all["gem 40 × 80"].Notes, " "); !strings.Contains(said, "300 mm below the top, 105 mm right of the centre line, turned 30° clockwise") {
		t.Errorf("the gem's place: %s", said)
	}
}
