package geom_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"

	"foamwright/materials/geom"
)

// near compares by a relative tolerance, absolute under 1.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*max(1, math.Abs(want))) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

func parse(t testing.TB, d string) geom.Path {
	t.Helper()
	p, err := geom.ParsePath(d)
	if err != nil {
		t.Fatalf("%s: %v", d, err)
	}
	return p
}

// Perimeters of ellipses by a·E(m)·4: NIST DLMF 19.9(i) and 19.30(i), section numbers from memory; values
// worked out with mpmath to 30 digits.
func TestEllipse(t *testing.T) {
	for _, c := range []struct{ a, b, p float64 }{
		{1, 1, 6.28318530717959}, {2, 1, 9.68844822054768}, {3, 2, 15.8654395892906}, {5, 3, 25.5269988633981},
		{10, 1, 40.6397418010090}, {300, 200, 1586.54395892906}, {450, 300, 2379.81593839359},
		{600, 350, 3036.41157808527}, {1000, 1, 4000.01558810469},
	} {
		p, err := geom.Ellipse(2*c.a, 2*c.b)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "perimeter", p.Length(), c.p, 1e-12)
		near(t, "perimeter by gonum", p.Length(), 4*c.a*mathext.CompleteE(1-c.b/c.a*c.b/c.a), 1e-12)
		near(t, "area", p.Area(), math.Pi*c.a*c.b, 1e-12)
		near(t, "turned", p.Transform(geom.Rotate(33)).Length(), c.p, 1e-12)
	}
	// GRS 80: meridian quadrant 10 001 965.7292 m of the ellipsoid 6 378 137, 6 356 752.314140 m (encyclopaedia
	// page "Geodetic Reference System 1980"), tolerance 1e-3 m. In km here: 100 m is as far as paths reach.
	p, err := geom.Ellipse(2*6378.137, 2*6356.752314140)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "meridian quadrant in m", p.Length()*1000/4, 10001965.7292, 1e-10)
}

// Lengths from svg-path-commander 2.3.3 (MIT) cross-checked by mpmath quadrature, the last digits to what is
// printed; areas by closed forms. A negative area is one the source does not give.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		d                 string
		length, area      float64
		x, y, w, h, loose float64
	}{
		{"M 100 100 L 300 100 L 200 300 z", 647.213595499958, 20000, 100, 100, 200, 200, 0},
		{"M0 0 h100 v50 h-100 z", 300, 5000, 0, 0, 100, 50, 0},
		{"M0,0 Q1,2 2,0", math.Sqrt(5) + math.Asinh(2)/2, 4. / 3, 0, 0, 2, 1, 0},
		{"M200,300 Q400,50 600,300", 487.771093895524, 100000. / 3, 200, 175, 400, 125, 0},
		{"M200,300 Q400,50 600,300 T1000,300", 975.542187791048, -1, 200, 175, 800, 250, 0},
		{"M100,25 C10,90,110,100,150,195", 213.862063126, -1, 63.5353947, 25, 86.4646053, 170, 1e-9},
		{"M100,200 C100,100 250,100 250,200 S400,300 400,200", 475.747298896, -1, 100, 125, 300, 150, 1e-9},
		{"M0,1 C0.5522847498,1 1,0.5522847498 1,0", 1.57101669806, -1, 0, 0, 1, 1, 1e-10},
		{"M0,0 H400 V250 C400,420 280,540 200,600 C120,540 0,420 0,250 Z", 1736.30694291194, 195920, 0, 0, 400, 600, 0},
		{"M200,0 L360,180 L200,640 L40,180 Z", 1455.72743610257, 102400, 40, 0, 320, 640, 0},
		{"M40,0 H560 A40,40 0 0 1 600,40 V860 A40,40 0 0 1 560,900 H40 A40,40 0 0 1 0,860 V40 A40,40 0 0 1 40,0 Z", 2931.32741228718, 538626.548245744, 0, 0, 600, 900, 0},
		{"M100,50 A50,50 0 1 1 0,50 A50,50 0 1 1 100,50 Z", 314.159265358979, 7853.98163397448, 0, 0, 100, 100, 0},
		{"M300,0 A300,200 0 1 1 -300,0 A300,200 0 1 1 300,0 Z", 1586.54395892906, 188495.559215388, -300, -200, 600, 400, 0},
		{"M0,0 A10,10 0 0 1 100,0", 157.07963267949, 3926.99081698724, 0, -50, 100, 50, 0}, // radii grow
	} {
		p, tol := parse(t, c.d), max(1e-12, c.loose)
		near(t, c.d+" length", p.Length(), c.length, tol)
		if c.area >= 0 {
			near(t, c.d+" area", p.Area(), c.area, 1e-12)
		}
		b := p.Bounds()
		near(t, c.d+" x", b.Min.X, c.x, tol)
		near(t, c.d+" y", b.Min.Y, c.y, tol)
		near(t, c.d+" width", b.Width(), c.w, tol)
		near(t, c.d+" height", b.Height(), c.h, tol)
	}
}

// Published lengths: svg-path-properties, test/length-test.ts (ISC); tolerance 0.1 of length as printed there.
func TestPublishedLengths(t *testing.T) {
	for d, want := range map[string]float64{
		"M0,0L10,0M0,0L10,0": 20, "M0,0L10,0m0,0L10,0": 10, "m0,0h10z": 20, "M100,200 S400,300 400,200": 327.9618,
		"M0,100 Q50,-50 100,100 T200,100": 376.84, "M0,100 t200,100": 223.606, "M50,20A50,50,0,0,0,150,20Z": 257.1,
		"M100,100h100v100h-100Z m200,0h1v1h-1z": 404, "M470,623Q468,627,467,629": 6.71, "M270 830 Q270 830 270 830": 0,
	} {
		if got := parse(t, d).Length(); math.Abs(got-want) > 0.1 {
			t.Errorf("%s: got %g, want %g", d, got, want)
		}
	}
}

// Circular segments, r = h/2 + c²/8h: help.matheass.eu/en/CircularSections.html (to the digits printed), the
// third worked out from r²(θ - sin θ)/2. The last three bend over a 200 l steel drum, 571.5 mm inside (several pages;
// its standard ISO 15750 from memory), arcs worked out from 2r·asin(c/2r).
func TestCircularSegment(t *testing.T) {
	for _, c := range []struct{ chord, height, r, arc, area, tol float64 }{
		{21, 6, 12.1875, 25.308373, 89.254148, 2e-8},
		{0.97449536, 0.096919589, 1.2732395, 1, 0.063460604, 2e-8},
		{1.2, 0.5, 0.61, 1.69516139391996, 0.451024224, 2e-9},
		{400, 81.6592, 285.75, 443.0697, 285.75*(443.0697-400)/2 + 400*81.6592/2, 1e-6},
		{500, 147.3554, 285.75, 608.7675, 285.75*(608.7675-500)/2 + 500*147.3554/2, 1e-6},
		{571.5, 285.75, 285.75, 897.7101, math.Pi * 285.75 * 285.75 / 2, 1e-6},
	} {
		r := c.height/2 + c.chord*c.chord/8/c.height
		near(t, "radius", r, c.r, 2e-7)
		p := new(geom.Builder).ArcTo(r, r, 0, false, true, c.chord, 0).Path()
		near(t, "arc", p.Length(), c.arc, c.tol)
		near(t, "segment", p.Area(), c.area, c.tol)
		near(t, "height", p.Bounds().Height(), c.height, 1e-9)
	}
}

func TestHoles(t *testing.T) {
	// A washer is the same whichever way its hole runs, and an island in the hole counts again.
	const outer, same, other, island = "M0 0h100v100h-100z", "M20 20h60v60h-60z", "M20 20v60h60v-60z", "M40 40h10v10h-10z"
	for d, want := range map[string]float64{
		outer + same: 6400, outer + other: 6400, same + outer: 6400, outer + same + island: 6500, outer + "M200 0h10v10h-10z": 10100,
	} {
		p := parse(t, d)
		near(t, d, p.Area(), want, 1e-12)
		near(t, d+" flat", p.Flatten(1).Area(), want, 1e-12)
		if err := p.Check(); err != nil {
			t.Errorf("%s: %v", d, err)
		}
	}
	r := parse(t, island+outer+other).Flatten(1)
	if len(r) != 2 || len(r[0].Holes)+len(r[1].Holes) != 1 {
		t.Errorf("an island in a hole: %+v", r)
	}
	if !r.ContainsPoint(geom.Point{X: 45, Y: 45}) || r.ContainsPoint(geom.Point{X: 30, Y: 30}) || r.ContainsPoint(geom.Point{X: -1, Y: 5}) {
		t.Error("wrong places inside")
	}
}
