package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/geom"
)

// blob draws an outline that sees all of itself from the middle: corners in order around it, joined by every
// kind of segment. Curves bulge, so not every blob passes Check.
func blob(t *rapid.T, label string) geom.Path {
	n := rapid.IntRange(3, 9).Draw(t, label+" corners")
	at := func(i int, r float64) (x, y float64) {
		s, c := math.Sincos(2 * math.Pi * float64(i%(2*n)) / float64(2*n))
		return 20 + r*c, 30 + r*s
	}
	radius := rapid.Float64Range(100, 300)
	b, first := new(geom.Builder), radius.Draw(t, "r")
	b.MoveTo(at(0, first))
	for i := range n {
		r := first
		if i < n-1 {
			r = radius.Draw(t, "r")
		}
		x, y := at(2*i+2, r)
		cx, cy := at(2*i+1, radius.Draw(t, "control"))
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			b.LineTo(x, y)
		case 1:
			b.QuadTo(cx, cy, x, y)
		case 2:
			b.CubicTo(cx, cy, cx, cy, x, y)
		case 3:
			b.ArcTo(500, rapid.Float64Range(300, 700).Draw(t, "ry"), rapid.Float64Range(-180, 180).Draw(t, "turn"), false, rapid.Bool().Draw(t, "sweep"), x, y)
		}
	}
	p := b.Close().Path()
	if p.Check() != nil {
		t.Skip("crosses itself")
	}
	return p
}

func same(t *rapid.T, what string, got, want, tol float64) {
	if math.Abs(got-want) > tol*max(1, math.Abs(want)) {
		t.Fatalf("%s: got %.15g, want %.15g", what, got, want)
	}
}

func TestFiguresUnderTransforms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := blob(t, "blob")
		area, length := p.Area(), p.Length()
		same(t, "area backwards", p.Reverse().Area(), area, 1e-12)
		same(t, "length backwards", p.Reverse().Length(), length, 1e-10)
		turn, dx := rapid.Float64Range(-360, 360).Draw(t, "turn"), rapid.Float64Range(-5000, 5000).Draw(t, "dx")
		moved := geom.Rotate(turn).Then(geom.Translate(dx, -dx)).Then(geom.MirrorX())
		q := p.Transform(moved)
		same(t, "area moved", q.Area(), area, 1e-10)
		same(t, "length moved", q.Length(), length, 1e-10)
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		same(t, "area stretched", p.Transform(geom.Scale(k, 1)).Area(), k*area, 1e-10)
		same(t, "length scaled", p.Transform(geom.Scale(k, k)).Length(), k*length, 1e-10)
		b, c := p.Bounds(), p.Transform(geom.Scale(k, -1)).Bounds()
		same(t, "left", c.Min.X, k*b.Min.X, 1e-10)
		same(t, "top", c.Min.Y, -b.Max.Y, 1e-10)
		// Flat and moved is moved and flat: steps depend on size only, which moving keeps.
		flat := p.Flatten(geom.Fine)
		same(t, "flat", flat.Transform(moved).Area(), q.Flatten(geom.Fine).Area(), 1e-6)
	})
}

// Vertices are on the curve, so a polygon is no longer than it, and misses no more than the tolerance of area
// beside it; its box is within the tolerance of the exact one.
func TestFlattenKeepsTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := blob(t, "blob")
		tol := rapid.SampledFrom([]float64{0.001, 0.05, 1}).Draw(t, "tol")
		chains := p.Polylines(tol)
		fine := p.Polylines(0.0001)[0]
		for i := 0; i < len(fine); i += 1 + len(fine)/200 {
			if d := toChain(fine[i], chains[0]); d > tol+0.0001 {
				t.Fatalf("the curve is %g from its polygon, more than %g", d, tol)
			}
		}
		length := 0.0
		for i := 1; i < len(chains[0]); i++ {
			length += math.Hypot(chains[0][i].X-chains[0][i-1].X, chains[0][i].Y-chains[0][i-1].Y)
		}
		if length > p.Length()*(1+1e-12) {
			t.Fatalf("polygon %g, curve %g", length, p.Length())
		}
		b, e := p.Flatten(tol).Bounds(), p.Bounds()
		for _, d := range []float64{b.Min.X - e.Min.X, b.Min.Y - e.Min.Y, e.Max.X - b.Max.X, e.Max.Y - b.Max.Y} {
			if d < -1e-9 || d > tol+1e-9 {
				t.Fatalf("the box is off by %g", d)
			}
		}
	})
}

// toChain is the distance of a place from a chain of lines.
func toChain(p geom.Point, chain []geom.Point) float64 {
	best := math.Inf(1)
	for i := 1; i < len(chain); i++ {
		a, b := chain[i-1], chain[i]
		dx, dy := b.X-a.X, b.Y-a.Y
		k := max(0, min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/(dx*dx+dy*dy)))
		best = min(best, math.Hypot(p.X-a.X-k*dx, p.Y-a.Y-k*dy))
	}
	return best
}

func TestWriteAndReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := blob(t, "blob")
		if rapid.Bool().Draw(t, "turned") {
			p = p.Transform(geom.Rotate(rapid.Float64Range(0, 360).Draw(t, "turn")))
		}
		q, err := geom.ParsePath(p.D())
		if err != nil {
			t.Fatal(err)
		}
		same(t, "area", q.Area(), p.Area(), 1e-10)
		same(t, "length", q.Length(), p.Length(), 1e-10)
		if len(q[0].Segments) != len(p[0].Segments) || !q[0].Closed {
			t.Fatalf("%s became %s", p.D(), q.D())
		}
	})
	// The worst for SVG's way of writing: half turns and nearly whole ones, turned.
	for _, d := range []string{"M100,50 A50,50 0 1 1 0,50 A50,50 0 1 1 100,50 Z", "M0 0A50 30 17 1 1 .01 0Z", "M-240 0A240 320 0 0 1 240 0Z"} {
		for turn := range 360 {
			p := parse(t, d).Transform(geom.Rotate(float64(turn)))
			q := parse(t, p.D())
			near(t, d+" area", q.Area(), p.Area(), 1e-10)
			near(t, d+" length", q.Length(), p.Length(), 1e-10)
		}
	}
}
