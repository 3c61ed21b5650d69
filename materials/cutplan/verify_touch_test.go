package cutplan

import (
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/geom"
)

// The proof of an overlap and the slide, which share no code, agree: what the slide calls clear passes, and
// what it calls blocked by 2 mm all round does not.
func TestProofAgreesWithSlide(t *testing.T) {
	checks(t, 200, 10_000)
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawShape(t, 300), drawShape(t, 300)
		fa, fb := exact(a, 0), exact(b, 1)
		x, dy := rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "dy")
		if rapid.Bool().Draw(t, "touching") { // slid against the other: outlines that just meet are the hard case
			x = past(kept(nil, fa.solid(), fb.solid(), dy), x)
		}
		blocked := func(x, y float64) bool { return past(kept(nil, fa.solid(), fb.solid(), y), x) > x }
		err := disjoint(mustPolygon(t, a), mustPolygon(t, Pose{At: geom.Point{X: x, Y: dy}}.Apply(b)))
		if err != nil && !blocked(x, dy) {
			t.Fatalf("clear at %v, %v, yet: %v", x, dy, err)
		}
		deep := true
		for _, d := range []geom.Point{{}, {X: 2}, {X: -2}, {Y: 2}, {Y: -2}} {
			deep = deep && blocked(x+d.X, dy+d.Y)
		}
		if deep && err == nil {
			t.Fatalf("overlapping at %v, %v, yet it passes", x, dy)
		}
	})
}
