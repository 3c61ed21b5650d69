package geom_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// box is a rectangle with its left top corner at x, y.
func box(x, y, w, h float64) geom.Region {
	return geom.Region{{Outer: geom.Ring{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}}}
}

// region is for operations that must not fail.
func region(t testing.TB) func(geom.Region, error) geom.Region {
	return func(r geom.Region, err error) geom.Region {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
}

func TestOverlay(t *testing.T) {
	a, b, far := box(0, 0, 100, 100), box(50, 50, 100, 100), box(500, 0, 10, 10)
	for what, c := range map[string]struct {
		got    geom.Region
		area   float64
		shapes int
	}{
		"union":             {region(t)(a.Union(b)), 17500, 1},
		"union, apart":      {region(t)(a.Union(far)), 10100, 2},
		"union, nothing":    {region(t)(a.Union(nil)), 10000, 1},
		"intersect":         {region(t)(a.Intersect(b)), 2500, 1},
		"intersect, apart":  {region(t)(a.Intersect(far)), 0, 0},
		"intersect, beside": {region(t)(a.Intersect(box(100, 0, 10, 100))), 0, 0}, // a line in common is no shape
		"subtract":          {region(t)(a.Subtract(b)), 7500, 1},
		"subtract, all":     {region(t)(a.Subtract(a)), 0, 0},
		"subtract, middle":  {region(t)(a.Subtract(box(40, -1, 20, 102))), 8000, 2},
		"a hole":            {region(t)(a.Subtract(box(40, 40, 20, 20))), 9600, 1},
		"of nothing":        {region(t)(geom.Region(nil).Subtract(a)), 0, 0},
		"grown":             {region(t)(a.Offset(10)), 14400, 1}, // mitred: the corners stay square
		"shrunk":            {region(t)(a.Offset(-10)), 6400, 1},
		"shrunk away":       {region(t)(a.Offset(-50)), 0, 0},
		"not at all":        {region(t)(a.Offset(0)), 10000, 1},
	} {
		near(t, what, c.got.Area(), c.area, 1e-12)
		if len(c.got) != c.shapes {
			t.Errorf("%s: %d shapes, want %d", what, len(c.got), c.shapes)
		}
		for _, s := range c.got {
			for _, h := range s.Holes {
				if h.Area() >= 0 {
					t.Errorf("%s: a hole runs as an outer ring", what)
				}
			}
		}
	}
	dumbbell := region(t)(region(t)(a.Union(box(100, 40, 50, 20))).Union(box(150, 0, 100, 100)))
	if r := region(t)(dumbbell.Offset(-12)); len(r) != 2 {
		t.Errorf("a dumbbell shrinks to %d parts, want 2", len(r))
	}
	ring := region(t)(a.Subtract(box(40, 40, 20, 20)))
	near(t, "a hole shrinks when its shape grows", region(t)(ring.Offset(5)).Area(), 110*110-10*10, 1e-12)
	near(t, "a hole grows when its shape shrinks", region(t)(ring.Offset(-5)).Area(), 90*90-30*30, 1e-12)
	near(t, "what a knife travels", ring.Length(), 480, 1e-12)
	near(t, "a mirrored ring", ring.Transform(geom.MirrorX()).Area(), 9600, 1e-12)
}

func TestOverlayRefuses(t *testing.T) {
	for what, d := range map[string]float64{"NaN": math.NaN(), "infinite": math.Inf(-1), "far": 2e5} {
		if _, err := box(0, 0, 9, 9).Offset(d); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
	if _, err := box(0, 0, math.NaN(), 9).Union(box(0, 0, 9, 9)); fault.KindOf(err) != fault.Invalid {
		t.Errorf("NaN region: %v", err)
	}
	// What passed no check may give nonsense or an error, never a panic.
	for _, r := range []geom.Region{{{}}, {{Outer: geom.Ring{{1, 1}}}}, {{Outer: geom.Ring{{0, 0}, {9, 9}, {9, 0}, {0, 9}}}}} {
		for _, q := range []geom.Region{nil, box(0, 0, 5, 5), r} {
			_, _ = r.Union(q)
			_, _ = q.Subtract(r)
			_, _ = r.Offset(-1)
		}
	}
}

// A rim grows with its width, and what was offset lies in it, to the drift of a thousandth of a mm.
func TestOffsetIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := kite(rapid.Float64Range(200, 800).Draw(t, "w"), rapid.Float64Range(1000, 1300).Draw(t, "h"), rapid.Float64Range(100, 300).Draw(t, "s"))
		flat := p.Flatten(0.05)
		d, e := rapid.Float64Range(-120, 120).Draw(t, "d"), rapid.Float64Range(0.1, 50).Draw(t, "more")
		small, err := flat.Offset(d)
		large, err2 := flat.Offset(d + e)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		out, err := small.Subtract(large)
		if err != nil || slices.ContainsFunc(out, func(s geom.Shape) bool { return s.Outer.Area() > geom.Fine*s.Outer.Length() }) {
			t.Fatalf("offset %g is not in %g: %v", d, d+e, err)
		}
		if again, _ := flat.Offset(d); !reflect.DeepEqual(small, again) {
			t.Fatal("the same offset came out differently")
		}
	})
}

// Areas of what is in common, either and one only add up.
func TestOverlayAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := blob(t, "a").Flatten(0.05), blob(t, "b").Flatten(0.05)
		both, err1 := a.Intersect(b)
		either, err2 := a.Union(b)
		one, err3 := a.Subtract(b)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		for _, diff := range []float64{a.Area() + b.Area() - both.Area() - either.Area(), a.Area() - both.Area() - one.Area()} {
			if math.Abs(diff) > 1e-6*(a.Area()+b.Area()) {
				t.Fatalf("areas differ by %g", diff)
			}
		}
	})
}
