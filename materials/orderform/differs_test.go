package orderform_test

import (
	"maps"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/orderform"
)

// Whatever two forms say, one becomes the other by writing the differences into it.
func TestWithMakesUpTheDifference(t *testing.T) {
	text := func(t *rapid.T, name string, words ...string) string {
		return rapid.SampledFrom(append(words, "")).Draw(t, name)
	}
	forms := rapid.Custom(func(t *rapid.T) orderform.Form {
		v := map[string]string{"core.layers": text(t, "layers", "1", "2"), "rim.width": text(t, "rim", "45 mm"), "rim.colour": text(t, "rim colour", "red"),
			"back.seam_strip.width": text(t, "strip", "30 mm"), "coat.system": text(t, "coat", "latex", "primer"), "delivery.ship": text(t, "ship", "yes")}
		for i := range rapid.IntRange(0, 3).Draw(t, "gems") {
			at := "gems." + string(rune('0'+i)) + "."
			v[at+"width"], v[at+"count"] = text(t, "width", "60 mm", "70 mm"), text(t, "count", "1", "3")
			v[at+"at.0.x"], v[at+"at.1.x"] = text(t, "x", "5 mm"), text(t, "y", "9 mm")
		}
		for i := range rapid.IntRange(0, 3).Draw(t, "pieces") {
			v["pieces."+string(rune('0'+i))+".name"] = text(t, "piece", "heron", "oak")
		}
		f, err := orderform.Form{}.With(v)
		if err != nil {
			t.Fatal(err)
		}
		return f
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b := forms.Draw(t, "a"), forms.Draw(t, "b")
		changes := a.Differs(b)
		got, err := a.With(changes)
		if err != nil || !maps.Equal(got.Fields(), b.Fields()) {
			t.Fatalf("%v of %v: %v, want %v; %v", changes, a.Fields(), got.Fields(), b.Fields(), err)
		}
		if (len(changes) == 0) != maps.Equal(a.Fields(), b.Fields()) {
			t.Fatalf("%v between %v and %v", changes, a.Fields(), b.Fields())
		}
	})
}
