package takeoff

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// Lines across find what an overlay of the polygons finds, however parts lie on each other and over the edge.
func TestGroundIsWhatIsLeft(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		oval := func(name string, most int) geom.Region {
			size := rapid.IntRange(20, most)
			p, err := geom.Ellipse(float64(size.Draw(r, name)), float64(size.Draw(r, name)))
			if err != nil {
				r.Fatal(err)
			}
			at := rapid.IntRange(-250, 250)
			return p.Transform(geom.Rotate(float64(at.Draw(r, "turn"))).Then(geom.Translate(float64(at.Draw(r, "x")), float64(at.Draw(r, "y"))))).Flatten(0.05)
		}
		face, err := geom.Rectangle(500, 600, 40)
		if err != nil {
			r.Fatal(err)
		}
		s := shield.Shield{Flat: face.Flatten(0.05), Area: face.Area()}
		left := s.Flat
		for range rapid.IntRange(0, 5).Draw(r, "parts") {
			part := shield.Placed{Colour: rapid.SampledFrom([]string{"", "white"}).Draw(r, "colour"), Region: oval("size", 300)}
			s.Gems = append(s.Gems, part)
			if part.Colour == "" {
				continue
			}
			if left, err = left.Subtract(part.Region); err != nil {
				r.Fatal(err)
			}
		}
		want := left.Area() / s.Flat.Area() * s.Area
		if got := ground(s); math.Abs(got-want) > 2 {
			r.Errorf("%v mm² of ground, an overlay leaves %v", got, want)
		}
	})
}

// An edge that runs level or nearly so begins and ends all at once, wherever it lies between the lines.
func TestGroundUnderLevelEdges(t *testing.T) {
	for name, outline := range map[string]geom.Ring{
		"level":        {{X: -150, Y: -10.13}, {X: 150, Y: -10.13}, {X: 150, Y: 20.12}, {X: -150, Y: 20.12}},
		"nearly level": {{X: -150, Y: -10.13}, {X: 150, Y: -10.03}, {X: 150, Y: 20.12}, {X: -150, Y: 20.22}},
		"thin":         {{X: -150, Y: -10.13}, {X: 150, Y: -10.13}, {X: 150, Y: -10.12}, {X: -150, Y: -10.12}},
		"over an edge": {{X: -150, Y: -310.13}, {X: 150, Y: -310.13}, {X: 150, Y: -290.12}, {X: -150, Y: -290.12}},
	} {
		face, err := geom.Rectangle(500, 600, 0)
		if err != nil {
			t.Fatal(err)
		}
		part := geom.Region{{Outer: outline}}
		s := shield.Shield{Flat: face.Flatten(0.05), Area: face.Area(), Gems: []shield.Placed{{Colour: "white", Region: part}}}
		left, err := s.Flat.Subtract(part)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := ground(s), left.Area(); math.Abs(got-want) > 1e-3 {
			t.Errorf("%s: %v mm² of ground, an overlay leaves %v", name, got, want)
		}
	}
}
