package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/geom"
)

// Areas: Rosetta Code, task "Shoelace formula for polygonal area" (first), encyclopaedia example from memory
// (second); perimeters and hulls with shapely 1.8.5.
func TestShoelace(t *testing.T) {
	for _, c := range []struct {
		ring                  geom.Ring
		area, perimeter, hull float64
	}{
		{geom.Ring{{3, 4}, {5, 11}, {12, 8}, {9, 5}, {5, 6}}, 30, 26.0900564326276, 35},
		{geom.Ring{{1, 6}, {3, 1}, {7, 2}, {4, 4}, {8, 5}}, 16.5, 24.3079951456993, 22},
	} {
		back := geom.Ring{}
		for i := range c.ring {
			back = append(back, c.ring[len(c.ring)-1-i])
		}
		near(t, "area", math.Abs(c.ring.Area()), c.area, 1e-14)
		near(t, "backwards", back.Area(), -c.ring.Area(), 1e-14)
		near(t, "perimeter", c.ring.Length(), c.perimeter, 1e-13)
		near(t, "hull", geom.Hull(c.ring).Area(), c.hull, 1e-14)
	}
}

// First two: trizen/raku-rosettacode, Smallest_enclosing_circle_problem.md; the rest with npm
// smallest-enclosing-circle 1.0.2 (MIT).
func TestEnclosingCircle(t *testing.T) {
	for _, c := range []struct {
		pts     []geom.Point
		x, y, r float64
	}{
		{[]geom.Point{{0, 0}, {0, 1}, {1, 0}}, 0.5, 0.5, 0.7071067811865476},
		{[]geom.Point{{5, -2}, {-3, -2}, {-2, 5}, {1, 6}, {0, 2}}, 1, 1, 5},
		{[]geom.Point{{0, 0}, {4, 0}, {0, 3}}, 2, 1.5, 2.5},
		{[]geom.Point{{0, 0}, {10, 0}, {5, 1}}, 5, 0, 5},
		{[]geom.Point{{0, 0}, {2, 0}, {1, math.Sqrt(3)}}, 1, 1 / math.Sqrt(3), 1.15470053837925},
		{[]geom.Point{{0, 0}, {6, 0}, {6, 2}, {1, 5}, {3, 3}}, 3, 2, 3.60555127546399},
		{[]geom.Point{{7, 8}}, 7, 8, 0},
		{[]geom.Point{{7, 8}, {7, 8}, {9, 8}}, 8, 8, 1},
	} {
		got := geom.EnclosingCircle(c.pts)
		near(t, "x", got.Centre.X, c.x, 1e-12)
		near(t, "y", got.Centre.Y, c.y, 1e-12)
		near(t, "r", got.Radius, c.r, 1e-12)
	}
	if c := geom.EnclosingCircle(nil); c != (geom.Circle{}) {
		t.Errorf("around nothing: %v", c)
	}
}

func points(t *rapid.T, least int) []geom.Point {
	// Whole numbers in part of the cases, so that places coincide and lie on lines.
	v := rapid.Float64Range(-1000, 1000)
	if rapid.Bool().Draw(t, "whole") {
		v = rapid.Map(rapid.IntRange(-6, 6), func(i int) float64 { return float64(i) })
	}
	p := rapid.Custom(func(t *rapid.T) geom.Point { return geom.Point{X: v.Draw(t, "x"), Y: v.Draw(t, "y")} })
	return rapid.SliceOfN(p, least, 30).Draw(t, "points")
}

// Every place is inside; and no circle through two or three of the places that holds them all is smaller.
func TestEnclosingCircleIsSmallest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := points(t, 1)
		c := geom.EnclosingCircle(pts)
		for _, p := range pts {
			if d := math.Hypot(p.X-c.Centre.X, p.Y-c.Centre.Y); d > c.Radius*(1+1e-9)+1e-12 {
				t.Fatalf("%v is %g outside", p, d-c.Radius)
			}
		}
		// A smallest circle is held by places not all within a half turn: each way from its centre a place is near.
		for i := range 360 {
			s, co := math.Sincos(float64(i) * math.Pi / 180)
			nearest := math.Inf(-1)
			for _, p := range pts {
				if d := math.Hypot(p.X-c.Centre.X, p.Y-c.Centre.Y); d >= c.Radius*(1-1e-7) {
					nearest = max(nearest, ((p.X-c.Centre.X)*co+(p.Y-c.Centre.Y)*s)/max(c.Radius, 1e-300))
				}
			}
			if nearest < -1e-3 {
				t.Fatalf("the circle could move away from %d°: %v", i, nearest)
			}
		}
	})
}

func TestHullHoldsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := points(t, 3)
		h := geom.Hull(pts)
		for i, a := range h {
			b := h[(i+1)%len(h)]
			for _, p := range pts {
				if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) < -1e-9*1e6 {
					t.Fatalf("%v is outside side %d of %v", p, i, h)
				}
			}
		}
	})
}

func TestFitsRectangle(t *testing.T) {
	square := []geom.Point{{0, 0}, {100, 0}, {100, 100}, {0, 100}}
	for _, c := range []struct {
		what              string
		pts               []geom.Point
		w, h, slack, turn float64
	}{
		{"as it lies", square, 110, 120, 10, 0},
		{"too big", square, 90, 120, -10, 0},
		{"lying down", []geom.Point{{0, 0}, {100, 0}, {100, 50}, {0, 50}}, 60, 110, 10, 90},
		{"a stick across a square", []geom.Point{{0, 0}, {100, 0}}, 80, 80, 80 - 100/math.Sqrt2, 45},
		{"a place", []geom.Point{{3, 4}}, 80, 70, 70, 0},
		{"nothing", nil, 80, 70, 70, 0},
	} {
		slack, turn := geom.FitsRectangle(c.pts, c.w, c.h)
		near(t, c.what+" slack", slack, c.slack, 1e-12)
		near(t, c.what+" turn", turn, c.turn, 1e-12)
	}
}

// extent is the box around turned places, worked out place by place.
func extent(pts []geom.Point, turn float64) (width, height float64) {
	low, high := geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range pts {
		p = geom.Rotate(turn).Apply(p)
		low, high = geom.Point{X: min(low.X, p.X), Y: min(low.Y, p.Y)}, geom.Point{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	return high.X - low.X, high.Y - low.Y
}

// No turn of many tried has more room, and the turn told has as much as told.
func TestFitsRectangleAgainstAllTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := points(t, 1)
		w, h := rapid.Float64Range(1, 2000).Draw(t, "w"), rapid.Float64Range(1, 2000).Draw(t, "h")
		slack, turn := geom.FitsRectangle(pts, w, h)
		room := func(turn float64) float64 {
			x, y := extent(pts, turn)
			return min(w-x, h-y)
		}
		if math.Abs(room(turn)-slack) > 1e-8 || turn < 0 || turn >= 180 {
			t.Fatalf("told %g at %g°, is %g", slack, turn, room(turn))
		}
		for i := range 3600 {
			if r := room(float64(i) / 20); r > slack+1e-8 {
				t.Fatalf("told %g at %g°, but %g° has %g", slack, turn, float64(i)/20, r)
			}
		}
	})
}
