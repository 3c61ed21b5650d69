package artwork_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foamwright/materials/artwork"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
)

// A circle of radius 10 on pages of many kinds: how large it is, and where its top centre lies, by hand.
func TestPage(t *testing.T) {
	const square = `viewBox="0 0 100 100"`
	for _, c := range []struct {
		root          string
		unit          measure.Length
		width, height float64
		x, y          float64
		guessed       bool
	}{
		{square + ` width="100mm" height="100mm"`, 0, 20, 20, 50, 40, false},
		{square + ` width="10cm"`, 0, 20, 20, 50, 40, false},
		{square + ` height="4in"`, 0, 20.32, 20.32, 50.8, 40.64, false},
		{square + ` width="72PT" height="auto"`, 0, 5.08, 5.08, 12.7, 10.16, false},
		{square + ` width="6pc" height="100%"`, 0, 5.08, 5.08, 12.7, 10.16, false},
		{square + ` width="400Q"`, 0, 20, 20, 50, 40, false},
		{square + ` width="100mm" height="50mm"`, 0, 10, 10, 50, 20, false},
		{square + ` width="100mm" height="50mm" preserveAspectRatio="xMinYMin"`, 0, 10, 10, 25, 20, false},
		{square + ` width="100mm" height="50mm" preserveAspectRatio="xMaxYMin meet"`, 0, 10, 10, 75, 20, false},
		{square + ` width="50mm" height="100mm" preserveAspectRatio="xMidYMax"`, 0, 10, 10, 25, 70, false},
		{square + ` width="100mm" height="50mm" preserveAspectRatio="none"`, 0, 20, 10, 50, 20, false},
		{square + ` width="100mm" height="50mm" preserveAspectRatio="xMidYMid slice"`, 0, 20, 20, 50, 15, false},
		{square + ` width="100mm" height="50mm" preserveAspectRatio="defer xMidYMax slice"`, 0, 20, 20, 50, -10, false},
		{`viewBox="-50,-50 , 100,100" width="100mm"`, 0, 20, 20, 100, 90, false},
		{square, 0, 20 * px, 20 * px, 50 * px, 40 * px, true},
		{square + ` width="200"`, 0, 40 * px, 40 * px, 100 * px, 80 * px, true},
		{square + ` width="200px" height="100%"`, 0, 40 * px, 40 * px, 100 * px, 80 * px, true},
		{``, 0, 20 * px, 20 * px, 50 * px, 40 * px, true},
		{`width="300mm" height="300mm"`, 0, 20 * px, 20 * px, 50 * px, 40 * px, true}, // its units are px all the same
		{square, measure.Millimetre, 20, 20, 50, 40, false},
		{square + ` width="200"`, measure.Inch, 508, 508, 1270, 1016, false},
		{`viewBox="10 10 100 100"`, measure.Centimetre, 200, 200, 400, 300, false},
		{``, measure.Centimetre, 200, 200, 500, 400, false},
		{square + ` width="100mm"`, measure.Inch, 20, 20, 50, 40, false}, // what the file states goes first
	} {
		d := read(t, []byte(`<svg xmlns="http://www.w3.org/2000/svg" `+c.root+`><circle id="outline" cx="50" cy="50" r="10"/></svg>`), artwork.Options{Unit: c.unit})
		box := d.Outline().Bounds()
		for what, v := range map[string][2]float64{"width": {box.Width(), c.width}, "height": {box.Height(), c.height}, "x": {d.Origin.X, c.x}, "y": {d.Origin.Y, c.y}} {
			if math.Abs(v[0]-v[1]) > 1e-9*(1+math.Abs(v[1])) {
				t.Errorf("%s, unit %v: %s is %v, want %v", c.root, c.unit, what, v[0], v[1])
			}
		}
		notes := strings.Join(d.Notes, "\n")
		if strings.Contains(notes, "96 units were taken for an inch") != c.guessed {
			t.Errorf("%s, unit %v: %s", c.root, c.unit, notes)
		}
		if told := strings.Contains(notes, "the unit that was given"); told != (c.unit > 0 && strings.Contains(c.root, "mm")) {
			t.Errorf("%s, unit %v: %s", c.root, c.unit, notes)
		}
	}
}

// Lengths within a page are in its px, whatever the page is scaled to: 10 mm are 37.795 units.
func TestLengthsInAScaledPage(t *testing.T) {
	d := read(t, sheet(`<circle id="outline" r="10mm"/>`), artwork.Options{})
	near(t, "width", d.Outline().Bounds().Width(), 20*96/25.4, 1e-12)
	if len(d.Notes) != 1 || !strings.Contains(d.Notes[0], "Line 2: Within a page that is scaled") {
		t.Errorf("%q", d.Notes)
	}
	d = read(t, []byte(`<svg width="300mm" height="300mm"><rect id="outline" width="50%" height="2in"/></svg>`), artwork.Options{})
	near(t, "half the width", d.Outline().Bounds().Width(), 150, 1e-12)
	near(t, "two inches", d.Outline().Bounds().Height(), 50.8, 1e-12)
}

func TestHalf(t *testing.T) {
	half := artwork.Options{Half: true}
	// Mirrored about x = 100: a square of 200, from either side, whichever way it is drawn.
	for _, p := range []string{"M100 50h100v200h-100", "M100 250h100v-200h-100", "M100 50h-100v200h100"} {
		d := read(t, sheet(`<path id="outline" d="`+p+`"/><circle id="piece" cx="100" cy="100" r="9"/>`), half)
		near(t, "area", d.Outline().Area(), 40000, 1e-12)
		near(t, "origin", d.Origin.X, 100, 1e-12)
		near(t, "the piece", d.With(artwork.Piece)[0].Path.Bounds().Min.X, -9, 1e-12)
		if !d.Outline()[0].Closed || len(d.With(artwork.Groove)) > 0 {
			t.Errorf("%s became %s", p, d.Outline().D())
		}
	}
	// A piece larger than the half is no half.
	d := read(t, sheet(`<path d="M100 50h10v200h-10"/><rect x="95" y="60" width="10" height="180"/>`), half)
	if len(d.With(artwork.Piece)) != 1 {
		t.Errorf("%v", d.Notes)
	}
	for drawn, want := range map[string]string{
		`<path id="outline" d="M100 50h100v200h-90"/>`:                                       "Line 2: The half outline starts at (100, 50) mm and ends at (110, 250) mm, 10.000 mm to the side",
		`<path id="outline" d="M100 50h100v200h-100z"/>`:                                     "Line 2: A half outline stays open",
		`<path id="outline" d="M100 50h100v200h-120v-20h20"/>`:                               "Line 2: The half outline crosses the centre line by 20 mm",
		`<path id="outline" d="M100 50h100v200h-100M5 5h5"/>`:                                "A half outline is one stroke; this has 2",
		`<g id="outline"><path d="M100 50h100v200h-100"/>` + "\n" + `<path d="M0 0h9"/></g>`: "Line 3: A half outline is one stroke",
		`<circle r="50"/>`: "No shape can be taken for the outline",
		`<path id="outline" d="M100 50L200 250H150L250 50V300H100"/>`: "Line 2: The outline crosses or touches itself",
	} {
		_, err := artwork.Read(sheet(drawn), half)
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), want) || len(fault.ProblemsOf(err)) != 1 {
			t.Errorf("%s: %v; want %q", drawn, err, want)
		}
	}
}

func TestMarks(t *testing.T) {
	for name, want := range map[string]artwork.Role{
		"outline": artwork.Outline, "Outlines": artwork.Outline, "OUTLINE-1": artwork.Outline, "outline_2_": artwork.Outline, " outline 3 ": artwork.Outline,
		"piece": artwork.Piece, "Pieces": artwork.Piece, "pieces.2": artwork.Piece, "groove": artwork.Groove, "GROOVES": artwork.Groove, "groove12": artwork.Groove,
		"outliner": "", "my pieces": "", "grooves old": "", "path12": "", "": "",
	} {
		for _, marked := range []string{`<g b:label="%s">%s</g>`, `<g id="%s">%s</g>`, `<g label="%s">%s</g>`, `<g id="%s"><g id="layer1"><a>%s</a></g></g>`, `<g b:label="Layer 1" id="%s"><svg>%s</svg></g>`} {
			d := read(t, sheet(square+fmt.Sprintf(marked, name, `<circle cx="340" cy="450" r="9"/>`)), artwork.Options{})
			if got := d.Shapes[1].Role; got != want {
				t.Errorf("%s %q: %q, want %q", marked, name, got, want)
			}
		}
	}
	// The innermost mark holds, a label before an id; names come from labels, titles and ids that say something.
	for drawn, want := range map[string][2]string{
		`<g id="pieces"><circle id="groove" r="1"/></g>`:                                   {"groove", ""},
		`<circle b:label="Piece" id="outline-2" r="1"/>`:                                   {"piece", ""},
		`<circle b:label="moon" id="piece-2" r="1"/>`:                                      {"piece", "moon"},
		`<g id="pieces" b:label="white ones"><circle r="1"/></g>`:                          {"piece", "white ones"},
		`<g id="pieces"><g id="heron"><circle id="circle7" r="1"/></g></g>`:                {"piece", "heron"},
		`<circle id="groove" r="1"><title> the` + "\n" + `  moon </title></circle>`:        {"groove", "the moon"},
		`<circle id="` + strings.Repeat("long", 40) + `" r="1"/>`:                          {"", strings.Repeat("long", 14) + "lon…"},
		`<g id="pieces"><use href="#outline" transform="scale(.1)"/></g>`:                  {"piece", ""},
		`<defs><circle id="groove" r="1"/></defs><use href="#groove"/>`:                    {"groove", ""},
		`<symbol id="pieces"><circle id="egg" r="1"/></symbol><use href="#pieces" y="3"/>`: {"piece", "egg"},
	} {
		d := read(t, sheet(square+drawn), artwork.Options{})
		if s := d.Shapes[1]; string(s.Role) != want[0] || s.Name != want[1] {
			t.Errorf("%s: %q %q", drawn, s.Role, s.Name)
		}
	}
}

func TestFills(t *testing.T) {
	for v, want := range map[string]string{
		`fill="#1aF"`: "#11aaff", `fill="#1aF8"`: "#11aaff", `fill="#A0b1C2"`: "#a0b1c2", `fill="#A0b1C2d3"`: "#a0b1c2",
		`fill="rgb(1, 20,300)"`: "#0114ff", `fill="rgb(10% 50% 100%)"`: "#1a80ff", `fill="rgba(1,2,3,.5)"`: "#010203", `fill="rgb(1 2 3 / 50%)"`: "#010203",
		`fill="DarkSlateGrey"`: "#2f4f4f", `fill="none"`: "", `fill="transparent"`: "", `fill="url(#g) red"`: "", `fill=""`: "#000000", ``: "#000000",
		`fill="red" style="fill:blue"`: "#0000ff", `style="fill:red !important;fill:blue"`: "#ff0000", `style="fill: inherit"`: "#000000",
		`fill="red" class="x a"`: "#ff0000", `fill="red" class="x b a"`: "#00ffff", `class="b" style="fill:blue"`: "#0000ff", `class="c b" style="fill:blue"`: "#ffff00", `id="d" class="b"`: "#ff00ff",
	} {
		d := read(t, sheet(`<style>.b{fill:lime} .b , .z{stroke:red;fill:aqua} <!-- .b{fill:red} --> @media screen{.b{fill:red} .a{fill:red}} .c{fill:yellow!important} #d{fill:magenta} circle *{fill:red}</style>`+
			square+`<circle r="1" `+v+`/>`), artwork.Options{})
		if got := d.Shapes[1].Fill; got != want {
			t.Errorf("%s: %q, want %q", v, got, want)
		}
	}
}
