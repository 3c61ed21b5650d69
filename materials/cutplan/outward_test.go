package cutplan

import (
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"foamwright/materials/geom"
)

// slabArea is the area of slabs, which lie side by side.
func slabArea(slabs []slab) float64 {
	sum := 0.0
	for _, s := range slabs {
		sum += (s.y1 - s.y0) * (s.right(s.y0) - s.left(s.y0) + s.right(s.y1) - s.left(s.y1)) / 2
	}
	return sum
}

// inSlabs tells whether a point lies in one of them, give or take a rounding.
func inSlabs(slabs []slab, p geom.Point) bool {
	for _, s := range slabs {
		if p.Y >= s.y0-1e-9 && p.Y <= s.y1+1e-9 && p.X >= s.left(p.Y)-1e-6 && p.X <= s.right(p.Y)+1e-6 {
			return true
		}
	}
	return false
}

func mustPolygon(t interface{ Fatal(...any) }, s geom.Shape) sf.Geometry {
	g, err := polygon(s)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// Slabs hold the area of the outline, as an independent library measures it.
func TestSlabsHoldTheOutline(t *testing.T) {
	checks(t, 100, 10_000)
	rapid.Check(t, func(t *rapid.T) {
		s := drawShape(t, 400)
		slabs, plain := cut(rings(s))
		if want := mustPolygon(t, s).Area(); math.Abs(slabArea(slabs)-want) > 1e-6*want || !plain {
			t.Fatalf("slabs hold %v mm², want %v; sound %v", slabArea(slabs), want, plain)
		}
	})
}

// Whatever lies within half the spacing of a piece lies in the slabs of its simplified, swollen outline.
func TestOutwardOnly(t *testing.T) {
	checks(t, 60, 10_000)
	rapid.Check(t, func(t *rapid.T) {
		s := drawShape(t, 400)
		spacing := rapid.SampledFrom([]float64{0, 3, 25, 200}).Draw(t, "spacing")
		b := newBody(s, spacing)
		slabs, _ := cut(b.fat)
		outline := mustPolygon(t, s)
		box := s.Outer.Bounds()
		for range 40 {
			p := geom.Point{
				X: rapid.Float64Range(box.Min.X-spacing, box.Max.X+spacing).Draw(t, "x"),
				Y: rapid.Float64Range(box.Min.Y-spacing, box.Max.Y+spacing).Draw(t, "y"),
			}
			d, _ := sf.Distance(sf.NewPointXY(p.X, p.Y).AsGeometry(), outline)
			if d < spacing/2-1e-6 || d == 0 && spacing == 0 {
				if !inSlabs(slabs, p) {
					t.Fatalf("%v is %v mm from the piece and counts as free", p, d)
				}
			}
		}
		for _, r := range b.outline {
			for _, p := range r {
				if !inSlabs(slabs, p) {
					t.Fatalf("the corner %v was cut off", p)
				}
			}
		}
	})
}

// Simplifying costs little: a smooth outline of many corners loses most of them and grows by little.
func TestSimplifyStaysClose(t *testing.T) {
	for name, r := range map[string]geom.Ring{"oval": oval(440, 620, 150), "heater": heater(560, 860, 260, 150), "many": oval(600, 600, 1000)} {
		out := simplify(lean(r, true), tolerance)
		if len(out) > mostCorners {
			t.Errorf("%s: %d corners left of %d", name, len(out), len(r))
		}
		before := mustPolygon(t, geom.Shape{Outer: r})
		for _, p := range out {
			if d, _ := sf.Distance(sf.NewPointXY(p.X, p.Y).AsGeometry(), before); d > 4*tolerance {
				t.Errorf("%s: a corner lies %v mm outside", name, d)
			}
		}
	}
}

// A place the slide calls clear is one where the outlines do not overlap, and the place just short of it, if
// the slide moved at all, is one where they do; both judged by an independent overlay.
func TestSlideIsExact(t *testing.T) {
	checks(t, 100, 10_000)
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawShape(t, 300), drawShape(t, 300)
		fa, fb := exact(a, 0), exact(b, 1)
		dy := rapid.Float64Range(-700, 700).Draw(t, "dy")
		x := rapid.Float64Range(-700, 700).Draw(t, "x")
		s := slider{field: &field{outs: map[[2]int]*keepOut{}, spans: map[pairing][]span{}}}
		to := s.clear(&item{form: fa}, fb, x, dy)
		if overlap(t, a, b, to, dy) > 1e-3 {
			t.Fatalf("they overlap at %v", to)
		}
		if to > x && overlap(t, a, b, x, dy) == 0 {
			t.Fatalf("it slid from %v to %v, though it was clear", x, to)
		}
	})
}

// exact is a form without simplifying or spacing.
func exact(s geom.Shape, id int) *form {
	b := body{outline: rings(s), near: rings(s), fat: rings(s)}
	f := b.form(0, Pose{}, false)
	f.ready()
	f.id = id
	return f
}

func overlap(t *rapid.T, a, b geom.Shape, x, y float64) float64 {
	both, err := sf.Intersection(mustPolygon(t, a), mustPolygon(t, Pose{At: geom.Point{X: x, Y: y}}.Apply(b)))
	if err != nil {
		t.Fatal(err)
	}
	return both.Area()
}
