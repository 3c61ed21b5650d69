package geom_test

import (
	"math"
	"testing"

	"foamwright/materials/geom"
)

// arcs are the two side arcs of a heater or kite, from the right shoulder to the point and up to the left one:
// tangent to the sides there, R = (a² + b²)/2a.
func arcs(b *geom.Builder, a, shoulder, height float64) *geom.Builder {
	d := height - shoulder
	r := (a*a + d*d) / (2 * a)
	return b.ArcTo(r, r, 0, false, true, 0, height).ArcTo(r, r, 0, false, true, -a, shoulder)
}

func heater(w, h, s float64) geom.Path {
	return arcs(new(geom.Builder).MoveTo(-w/2, 0).LineTo(w/2, 0).LineTo(w/2, s), w/2, s, h).Close().Path()
}

func kite(w, h, s float64) geom.Path {
	b := new(geom.Builder).ArcTo(w/2, s, 0, false, true, w/2, s)
	return arcs(b, w/2, s, h).ArcTo(w/2, s, 0, false, true, 0, 0).Close().Path()
}

// Worked out with an independent geometry library on polygons of 8 000 points: 1e-6 relative, the rim band 1e-4.
func TestShields(t *testing.T) {
	for _, c := range []struct {
		what                      string
		path                      geom.Path
		area, length, circle, rim float64
	}{
		{"round 580", must(t)(geom.Ellipse(580, 580)), 264207.94, 1822.124, 580, 75634},
		{"oval 480 × 640", must(t)(geom.Ellipse(480, 640)), 241274.32, 1768.279, 640, 73211},
		{"heater 600 × 750, s 200", heater(600, 750, 200), 352583.24, 2306.624, 870, 96408},
		{"heater 560 × 860, s 260", heater(560, 860, 260), 379072.99, 2447.267, 951.163, 102587},
		{"kite 550 × 1100, s 275", kite(550, 1100, 275), 427910.8, 2633.566, 1100, 111270},
		{"kite 560 × 880, s 200", kite(560, 880, 200), 350242.4, 2268.087, 880, 95224},
	} {
		near(t, c.what+" area", c.path.Area(), c.area, 1e-6)
		near(t, c.what+" length", c.path.Length(), c.length, 1e-6)
		if err := c.path.Check(); err != nil {
			t.Errorf("%s: %v", c.what, err)
		}
		flat := c.path.Flatten(geom.Fine)
		mirrored(t, c.what, flat)
		near(t, c.what+" enclosing circle", geom.EnclosingCircle(flat.Points()).Diameter(), c.circle, 1e-6)
		inner, err := flat.Offset(-45)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.what+" rim", flat.Area()-inner.Area(), c.rim, 1e-4)
		rim, err := flat.Subtract(inner)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.what+" rim cut out", rim.Area(), c.rim, 1e-4)
		if len(rim) != 1 || len(rim[0].Holes) != 1 {
			t.Errorf("%s: a rim of %d shapes", c.what, len(rim))
		}
	}
	// The closed forms: area = w·s + R²φ − (R − a)b, perimeter = w + 2s + 2Rφ.
	w, h, s := 560.0, 860.0, 260.0
	a, b := w/2, h-s
	r := (a*a + b*b) / (2 * a)
	phi := math.Atan2(b, r-a)
	near(t, "heater area", heater(w, h, s).Area(), w*s+r*r*phi-(r-a)*b, 1e-12)
	near(t, "heater perimeter", heater(w, h, s).Length(), w+2*s+2*r*phi, 1e-12)
}

func BenchmarkShield(b *testing.B) {
	path := kite(560, 880, 200)
	for b.Loop() {
		if err := path.Check(); err != nil {
			b.Fatal(err)
		}
		path.Area()
		path.Length()
		path.Bounds()
		flat := path.Flatten(geom.Fine)
		geom.EnclosingCircle(flat.Points())
		if _, err := flat.Offset(-45); err != nil {
			b.Fatal(err)
		}
		geom.FitsRectangle(flat.Points(), 600, 900)
	}
}

func BenchmarkCheck(b *testing.B) {
	path := wavy(2000)
	for b.Loop() {
		if err := path.Check(); err != nil {
			b.Fatal(err)
		}
	}
}

// wavy is a wavy ring of n lines.
func wavy(n int) geom.Path {
	b := new(geom.Builder)
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := 290 + 20*math.Sin(40*math.Pi*float64(i)/float64(n))
		if i == 0 {
			b.MoveTo(r*c, r*s)
		}
		b.LineTo(r*c, r*s)
	}
	return b.Close().Path()
}

func BenchmarkArea(b *testing.B) {
	p := kite(560, 880, 200)
	for b.Loop() {
		p.Area()
	}
}
func BenchmarkLength(b *testing.B) {
	p := kite(560, 880, 200)
	for b.Loop() {
		p.Length()
	}
}
func BenchmarkBounds(b *testing.B) {
	p := kite(560, 880, 200)
	for b.Loop() {
		p.Bounds()
	}
}
func BenchmarkFlatten(b *testing.B) {
	p := kite(560, 880, 200)
	for b.Loop() {
		b.ReportMetric(float64(len(p.Flatten(geom.Fine).Points())), "points")
	}
}

func BenchmarkEnclosingCircle(b *testing.B) {
	pts := kite(560, 880, 200).Flatten(geom.Fine).Points()
	for b.Loop() {
		geom.EnclosingCircle(pts)
	}
}

func BenchmarkFitsRectangle(b *testing.B) {
	pts := kite(560, 880, 200).Flatten(geom.Fine).Points()
	for b.Loop() {
		geom.FitsRectangle(pts, 600, 900)
	}
}

func BenchmarkOffset(b *testing.B) {
	flat := kite(560, 880, 200).Flatten(geom.Fine)
	for b.Loop() {
		if _, err := flat.Offset(-45); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSubtract(b *testing.B) {
	flat := kite(560, 880, 200).Flatten(geom.Fine)
	inner, err := flat.Offset(-45)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := flat.Subtract(inner); err != nil {
			b.Fatal(err)
		}
	}
}
