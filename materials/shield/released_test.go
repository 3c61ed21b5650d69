package shield_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

// What really springs back by another calibration than the bench is set to is found again from a measured depth or
// width, as closely as a tenth of a millimetre tells.
func TestReleaseFromWhatWasMeasured(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := plain(shield.Outline{Shape: shield.Oval, Width: 560 * mm, Height: 800 * mm})
		spec.Core.Former = measure.Length(rapid.IntRange(280, 600).Draw(t, "former")) * mm
		spec.Core.Layers = rapid.IntRange(2, 4).Draw(t, "layers")
		spec.Core.Set = rapid.SampledFrom([]string{"cold", "heat"}).Draw(t, "set")
		truth := decimal.New(rapid.Int64Range(50, 220).Draw(t, "truth"), -2)
		planned, err := shield.Make(spec, catalogue(), shield.UsualBench())
		if err != nil {
			t.Fatal(err)
		}
		real, err := shield.Make(spec, catalogue(), shield.UsualBench().WithRelease(spec.Core.Set, truth))
		if err != nil {
			t.Fatal(err)
		}
		if real.Curve.Release >= 0.6 {
			t.Skip("held at its limit")
		}
		for name, measured := range map[string]shield.Stands{"depth": {Depth: real.Stands().Depth}, "width": {Width: real.Stands().Width}} {
			used, shown, ok := planned.ReleaseShown(measured)
			if planned.Curve.Release >= 0.6 {
				if ok {
					t.Fatal("a release at its limit told something")
				}
				continue
			}
			slack := decimal.RequireFromString("0.06") // of a calibration: half a tenth of a millimetre of the width of a wide former
			if !ok || !used.Equal(shield.UsualBench().Release(spec.Core.Set)) || shown.Sub(truth).Abs().GreaterThan(slack) {
				t.Errorf("%s of former %v, %d layers: %s, want %s", name, spec.Core.Former, spec.Core.Layers, shown, truth)
			}
		}
	})
}

// What reads alike is told by its middle: a width of a wide former that reads one tenth of a millimetre may be any
// calibration of a tenth, and the nearest to all of them is half of that away.
func TestReleaseIsTheMiddleOfWhatReadsAlike(t *testing.T) {
	for _, c := range []struct {
		former, layers int
		set            string
		truth          string
	}{{600, 4, "cold", "1.35"}, {600, 4, "cold", "1.44"}, {600, 4, "heat", "1.0"}, {280, 2, "cold", "0.5"}} {
		spec := plain(shield.Outline{Shape: shield.Oval, Width: 560 * mm, Height: 800 * mm})
		spec.Core.Former, spec.Core.Layers, spec.Core.Set = measure.Length(c.former)*mm, c.layers, c.set
		made := func(calibration decimal.Decimal) shield.Shield {
			s, err := shield.Make(spec, catalogue(), shield.UsualBench().WithRelease(c.set, calibration))
			if err != nil {
				t.Fatal(err)
			}
			return s
		}
		truth := decimal.RequireFromString(c.truth)
		stands := made(truth).Stands()
		_, shown, ok := made(shield.UsualBench().Release(c.set)).ReleaseShown(shield.Stands{Width: stands.Width})
		if again := made(shown).Stands(); !ok || !again.Width.Equal(stands.Width) || shown.Sub(truth).Abs().GreaterThan(decimal.RequireFromString("0.06")) {
			t.Errorf("former %d: %s for %s, which stands %v wide, not %v", c.former, shown, truth, again.Width, stands.Width)
		}
	}
}

func TestNothingToTellOfTheRelease(t *testing.T) {
	flat := plain(shield.Outline{Shape: shield.Round, Diameter: 580 * mm})
	s := build(t, flat)
	if got := s.Stands(); !got.Width.Equal(decimal.NewFromInt(580)) || !got.Depth.IsZero() {
		t.Errorf("a flat one stands %v", got)
	}
	if _, _, ok := s.ReleaseShown(s.Stands()); ok {
		t.Error("a flat one told of springback")
	}
	flat.Core.Former = 400 * mm
	curved := build(t, flat)
	if _, _, ok := curved.ReleaseShown(shield.Stands{}); ok {
		t.Error("what was not measured told of springback")
	}
	still := curved.Stands()
	still.Depth = still.Depth.Add(decimal.NewFromInt(500)) // as if it had not sprung back at all
	if used, shown, ok := curved.ReleaseShown(still); !ok || !shown.Equal(used.Div(decimal.NewFromInt(10)).Round(4)) {
		t.Errorf("%s of %s, %t", shown, used, ok)
	}
}
