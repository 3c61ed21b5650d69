package cutplan

import (
	"math"
	"testing"

	"foamwright/materials/geom"
)

// A form that is clear of everything stays where it is. Measured from each of four pieces, whose places differ by
// less than a last digit of its own, its place is rounded another way: taken for steps, that once led it on from one to
// the next for ever.
func TestRoundingIsNoStep(t *testing.T) {
	ell := exact(geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 900}, {X: 2000, Y: 900}, {X: 2000, Y: 1000}, {X: 0, Y: 1000}}}, 0)
	gem := exact(rectangle(10, 10), 1)
	g := Sheet{Shape: Pose{At: geom.Point{X: 900}}.Apply(rectangle(1000, 1000))}.ground(0, false)
	b := &board{g: g, full: make([]bool, 2)}
	for i, digits := range []float64{1.25, 0.5, 1, 0} {
		b.put(ell, i, -200-math.Ldexp(digits, -43), 0, 0) // 2^-43 is the last digit of 900, half that of 1100
	}
	s := slider{field: &field{outs: map[[2]int]*keepOut{}, spans: map[pairing][]span{}}}
	if x, ok := s.leftmost(b, gem, 100, math.Inf(1)); !ok || math.Abs(x-900) > eps {
		t.Errorf("lies at %v, %v", x, ok)
	}
}
