package artwork_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"foamwright/materials/artwork"
	"foamwright/materials/geom"
)

const (
	pt = 25.4 / 72
	px = 25.4 / 96
)

// want is a shape as it has to be read: figures in mm, the box where it lies on the page.
type want struct {
	role         artwork.Role
	name, fill   string
	line         int
	area, length float64
	left, top    float64
	right, down  float64
}

// The figures are worked by hand from the numbers in the files. Outlines: the path table of
// svg-path-commander 2.3.3 (heater, kite); ellipses: perimeters 15.8654395892906 for half axes 3 and 2 and
// 9.68844822054768 for 2 and 1 (mpmath, 30 digits).
var files = map[string]struct {
	options artwork.Options
	shapes  []want
	notes   []string
}{
	"heater-layers.svg": {shapes: []want{
		{artwork.Outline, "", "", 15, 195920, 1736.30694291194, 0, 0, 400, 600},
		{artwork.Piece, "moon", "#ece7da", 21, 2500 * math.Pi, 100 * math.Pi, 150, 150, 250, 250},
		// Two quarters with control points at 0.5522847498: 1.57101669806 long, 1/2 + (12c - 3c²)/20 in area.
		{artwork.Piece, "boat", "#30506b", 22, 5000 * (0.5 + (12*.5522847498-3*.5522847498*.5522847498)/20), 100*1.57101669806 + 100, 150, 400, 250, 450},
		{artwork.Groove, "", "", 25, 0, 400, 50, 250, 350, 350},
	}, notes: []string{"Line 27: Hidden parts"}},
	"round-inches.svg": {shapes: []want{
		{artwork.Outline, "", "", 2, math.Pi * 279.4 * 279.4, math.Pi * 558.8, 25.4, 25.4, 584.2, 584.2},
		{artwork.Piece, "bar", "#ffffff", 4, 101.6*203.2 - (4-math.Pi)*12.7*12.7, 609.6 - (8-2*math.Pi)*12.7, 254, 203.2, 355.6, 406.4},
		{artwork.Piece, "", "#2f7d55", 5, 2 * math.Pi * 25.4 * 25.4, 9.68844822054768 * 25.4, 254, 457.2, 355.6, 508},
	}, notes: []string{"Line 7: Lettering"}},
	"kite-px.svg": {shapes: []want{
		{artwork.Outline, "", "#000000", 4, 102400 * px * px, 1455.72743610257 * px, 60 * px, 30 * px, 380 * px, 670 * px},
		{artwork.Piece, "", "#ffffff", 5, 4800 * px * px, 4 * math.Hypot(40, 60) * px, 180 * px, 200 * px, 260 * px, 320 * px},
		{artwork.Unmarked, "", "", 6, 0, 270 * px, 220 * px, 330 * px, 220 * px, 600 * px},
		{artwork.Unmarked, "", "#000000", 7, 100 * math.Pi * px * px, 20 * math.Pi * px, 430 * px, 10 * px, 450 * px, 30 * px},
	}, notes: []string{"Line 4: Nothing is marked as the outline", "Line 5: Nothing is marked, so closed shapes", "Line 6 and 1 more: What is not marked", "makes the outline 84.7 × 169.3 mm"}},
	"turned.svg": {shapes: []want{
		{artwork.Outline, "", "#000000", 4, 120000, 1400, 50, 20, 450, 320},
		{artwork.Piece, "slant", "#000000", 8, 3200, 160 + 80*math.Sqrt2, 240, 120, 360, 160},
		{artwork.Piece, "egg", "#000000", 10, 600 * math.Pi, 158.654395892906, 80, 170, 120, 230},
		{artwork.Groove, "", "", 14, 2400, 140, 220, 100, 300, 160},
		{artwork.Groove, "", "", 15, 0, 50, 300, 70, 340, 100},
	}},
	"classes.svg": {shapes: []want{
		{artwork.Outline, "", "", 18, math.Pi * 600 * 900 * pt * pt, 15.8654395892906 * 300 * pt, 120 * pt, 180 * pt, 1320 * pt, 1980 * pt},
		{artwork.Piece, "", "#4682b4", 22, 57600 * pt * pt, 960 * pt, 600 * pt, 300 * pt, 840 * pt, 540 * pt},
		{artwork.Piece, "", "#aabbcc", 23, 57600 * pt * pt, 960 * pt, 600 * pt, 600 * pt, 840 * pt, 840 * pt},
		{artwork.Piece, "", "", 25, 57600 * pt * pt, 960 * pt, 600 * pt, 1200 * pt, 840 * pt, 1440 * pt},
	}, notes: []string{"Line 19 and 1 more: Hidden parts", "Style rules for anything but"}},
	"copies.svg": {shapes: []want{
		{artwork.Outline, "disc", "#000000", 3, 57600 * math.Pi, 480 * math.Pi, 10, 10, 490, 490},
		{artwork.Piece, "leaf", "#00ff00", 8, 400, 40 * math.Sqrt(5), 110, 100, 130, 140},
		{artwork.Piece, "wide", "", 9, 800, 80 * math.Sqrt2, 150, 100, 190, 140},
		{artwork.Piece, "window", "", 17, 900, 120, 220, 220, 250, 250},
		{artwork.Piece, "", "", 20, 450, 90, 220, 310, 250, 325},
		{artwork.Piece, "", "", 22, 1250, 150, 250, 50, 300, 75},
		{artwork.Piece, "disc", "", 3, 14400 * math.Pi, 240 * math.Pi, 130, 130, 370, 370}, // a copy has the role of where it is put
	}, notes: []string{"Line 22: A clip path", "Line 24 and 1 more: A copy of something", "Line 26: Pictures"}},
	"hundredths.svg": {shapes: []want{
		{artwork.Outline, "", "#30506b", 3, 302500, 550*math.Sqrt2 + 550*math.Sqrt(10), 75, 10, 625, 1110},
	}, notes: []string{"Line 2: Hidden parts"}},
	"half.svg": {options: artwork.Options{Half: true}, shapes: []want{
		// The end is off by 0.004 to the side: area grows by ∂A/∂x = 237.5 a side, the widest place moves by 250/600 of it.
		{artwork.Outline, "", "", 2, 195920 + 2*237.5*.004, 1736.30694291194, 50 - .004*250/600, 40, 450 + .004*250/600, 640},
		{artwork.Piece, "boss", "#000000", 3, 1600 * math.Pi, 80 * math.Pi, 210, 200, 290, 280},
	}, notes: []string{"Line 2: Nothing is marked as the outline", "Line 3: Nothing is marked, so"}},
	"rings.svg": {shapes: []want{
		{artwork.Outline, "", "#000000", 3, 160000, 1600, 50, 50, 450, 450},
		{artwork.Outline, "", "#000000", 4, 400 * math.Pi, 40 * math.Pi, 230, 380, 270, 420},
		{artwork.Piece, "even", "#000000", 7, 3200, 320, 100, 100, 160, 160},
		{artwork.Piece, "against", "#000000", 8, 3200, 320, 200, 100, 260, 160},
		{artwork.Piece, "along", "#000000", 9, 3600, 240, 300, 100, 360, 160},
		{artwork.Piece, "lines", "", 10, 3200, 320, 100, 200, 160, 260},
		{artwork.Piece, "inherited", "#000000", 11, 3200, 320, 200, 200, 260, 260},
	}, notes: []string{"Line 9: A ring within another"}},
}

func TestFiles(t *testing.T) {
	for name, c := range files {
		t.Run(name, func(t *testing.T) {
			d := readFile(t, name, c.options)
			if len(d.Shapes) != len(c.shapes) || len(d.Notes) != len(c.notes) {
				t.Fatalf("%d shapes, want %d; notes %q", len(d.Shapes), len(c.shapes), d.Notes)
			}
			for i, w := range c.shapes {
				s := d.Shapes[i]
				if s.Role != w.role || s.Name != w.name || s.Fill != w.fill || s.Line != w.line {
					t.Errorf("shape %d: %q %q %q in line %d, want %q %q %q in line %d", i, s.Role, s.Name, s.Fill, s.Line, w.role, w.name, w.fill, w.line)
				}
				tol := 1e-9
				if c.options.Half || s.Name == "boat" {
					tol = 1e-8 // the numbers in the file are rounded
				}
				near(t, "area", s.Path.Area(), w.area, tol)
				if c.options.Half {
					near(t, "length", s.Path.Length(), w.length, 1e-5) // it is known to the 0.004 mm only
				} else {
					near(t, "length", s.Path.Length(), w.length, tol)
				}
				box := s.Path.Bounds()
				near(t, "left", box.Min.X+d.Origin.X, w.left, tol)
				near(t, "top", box.Min.Y+d.Origin.Y, w.top, tol)
				near(t, "right", box.Max.X+d.Origin.X, w.right, tol)
				near(t, "down", box.Max.Y+d.Origin.Y, w.down, tol)
			}
			for i, n := range c.notes {
				if !strings.Contains(d.Notes[i], n) {
					t.Errorf("note %q, want %q", d.Notes[i], n)
				}
			}
			whole := d.Outline().Bounds()
			near(t, "top of the outline", whole.Min.Y, 0, 1e-12)
			near(t, "centre of the outline", whole.Min.X, -whole.Max.X, 1e-12)
			if err := d.Outline().Check(); err != nil {
				t.Error(err)
			}
		})
	}
	holed := readFile(t, "rings.svg", artwork.Options{})
	near(t, "an outline with a hole", holed.Outline().Area(), 160000-400*math.Pi, 1e-12)
}

func readFile(t testing.TB, name string, o artwork.Options) artwork.Drawing {
	t.Helper()
	file, err := os.ReadFile("../../testdata/svg/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return read(t, file, o)
}

func read(t testing.TB, file []byte, o artwork.Options) artwork.Drawing {
	t.Helper()
	d, err := artwork.Read(file, o)
	if err != nil {
		t.Fatalf("%s\n%v", file, err)
	}
	return d
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*max(1, math.Abs(want))) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

// Where the shapes lie on the page by a browser: Chromium 156.0.8078.108 drew the files, each shape was sampled
// at 8 000 places through getPointAtLength and getScreenCTM (copies by getBBox). Samples miss corners by up to
// 0.08 mm.
func TestFilesAgainstABrowser(t *testing.T) {
	for name, boxes := range map[string][]geom.Rect{
		"heater-layers.svg": {rect(0, .001, 399.9963, 599.9307), rect(149.9986, 149.9996, 249.9977, 249.9987), rect(149.9986, 399.9973, 249.9976, 449.9968), rect(49.9995, 250.0487, 349.9967, 349.9978)},
		"round-inches.svg":  {rect(25.4, 25.4, 584.2, 584.2), rect(254, 203.2, 355.6, 406.4), rect(254, 457.2, 355.6, 508)},
		"kite-px.svg":       {rect(15.8829, 7.9375, 100.5338, 177.2708), rect(47.625, 52.9167, 68.7917, 84.6667), rect(58.2083, 87.3125, 58.2083, 158.75), rect(113.7708, 2.6458, 119.0625, 7.9375)},
		"turned.svg":        {rect(49.9996, 20, 449.9967, 319.9978), rect(239.9982, 119.9993, 359.9974, 159.999), rect(79.9994, 169.9989, 119.9991, 229.9985), rect(219.9984, 99.9994, 299.9978, 159.999), rect(299.9978, 69.9997, 339.9975, 99.9994)},
		"classes.svg":       {rect(42.3333, 63.5, 465.6667, 698.5), rect(211.6667, 105.8333, 296.3333, 190.5), rect(211.6667, 211.6667, 296.3333, 296.3333), rect(211.6667, 423.3333, 296.3333, 508)},
		"copies.svg":        {rect(9.9999, 9.9999, 489.9964, 489.9964), rect(109.9992, 99.9993, 129.9991, 139.999), rect(149.9989, 99.9993, 189.9986, 139.999), rect(219.9984, 219.9984, 249.9982, 249.9982), rect(219.9984, 309.9977, 249.9982, 324.9976), rect(249.9982, 49.9996, 299.9978, 74.9995), rect(129.9991, 129.9991, 369.9973, 369.9973)},
		"hundredths.svg":    {rect(75.0147, 10.0014, 624.9818, 1109.996)},
	} {
		d := readFile(t, name, artwork.Options{})
		for i, want := range boxes {
			got := d.Shapes[i].Path.Transform(geom.Translate(d.Origin.X, d.Origin.Y)).Bounds()
			for j, off := range []float64{got.Min.X - want.Min.X, got.Min.Y - want.Min.Y, got.Max.X - want.Max.X, got.Max.Y - want.Max.Y} {
				if math.Abs(off) > 0.08 {
					t.Errorf("%s: side %d of shape %d is %g mm off", name, j, i, off)
				}
			}
		}
	}
}

func rect(left, top, right, down float64) geom.Rect {
	return geom.Rect{Min: geom.Point{X: left, Y: top}, Max: geom.Point{X: right, Y: down}}
}
