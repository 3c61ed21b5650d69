package geom_test

import (
	"math"
	"strings"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

func TestCheck(t *testing.T) {
	for d, want := range map[string]string{
		"M0 0H400V250L200 600L0 250Z":            "",
		"M0 0H400V250L200 600L0 250L0 0":         "", // back at its start, the Z only left out
		"M0 0H400V250L200 600L0 250L0 .0000005Z": "", // half a nanometre open is rounding
		"M0 0H400V250L200 600":                   "starts at (0, 0) mm and ends at (200, 600) mm, 632.456 mm apart",
		"M0 0L100 100H0L100 0Z":                  "crosses or touches itself at (50, 50) mm",
		"M0 0H100V100H0Z M50 50h100v100h-100z":   "crosses or touches itself at",
		"M0 0H100V100H0Z M20 100h10v10h-10z":     "touches itself at",               // a side on a side
		"M0 0H100V100H50L20 0L10 100H0Z":         "touches itself at (20, 0) mm",    // a corner on a side
		"M0 0H100V100H50L0 0L10 100H0Z":          "touches itself at (0, 0) mm",     // a corner on a corner
		"M0 0H100V100H120H50Z":                   "touches itself at (100, 100) mm", // back along itself
		"M0 0L100 100":                           "is open",
		"M0 0L100 100Z":                          "encloses no area",
		"M0 0h100v.0005h-100z":                   "encloses no area",
		"M0 0h100v100h-100zM5 5h10z":             "The outline at (5, 5) mm encloses no area",
		"M0 0A50 50 0 1 1 0 .0001Z":              "",
		"M100 0A100 100 0 1 1 -100 0A100 100 0 1 1 100 0ZM150 0A100 100 0 1 1 -50 0A100 100 0 1 1 150 0Z": "crosses",
	} {
		err := parse(t, d).Check()
		switch {
		case want == "" && err != nil:
			t.Errorf("%s: %v", d, err)
		case want != "" && (fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), want)):
			t.Errorf("%s: %v; want a fault with %q", d, err, want)
		}
	}
}

func TestCheckFindsWhatIsNoNumber(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	bad := map[string]geom.Path{
		"nothing":  nil,
		"NaN line": new(geom.Builder).LineTo(nan, 1).LineTo(5, 5).Close().Path(),
		"control":  new(geom.Builder).QuadTo(nan, 1, 5, 5).LineTo(0, 5).Close().Path(),
		"cubic":    new(geom.Builder).CubicTo(1, 1, 0, nan, 5, 5).LineTo(0, 5).Close().Path(),
		"infinite": new(geom.Builder).CubicTo(1, 1, 0, inf, 5, 5).LineTo(0, 5).Close().Path(),
		"arc":      new(geom.Builder).ArcTo(nan, 5, 0, false, true, 5, 5).LineTo(0, 5).Close().Path(),
		"turn":     new(geom.Builder).ArcTo(5, 5, nan, false, true, 5, 5).LineTo(0, 5).Close().Path(),
		"far":      parse(t, "M0 0h90000v9h-9z").Transform(geom.Scale(2, 1)),
		"huge":     parse(t, "M0 0h9v9h-9z").Transform(geom.Scale(1e300, 1e300)),
	}
	for what, p := range bad {
		if err := p.Check(); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
	for what, r := range map[string]geom.Region{
		"NaN":      {{Outer: geom.Ring{{0, 0}, {nan, 0}, {0, 9}}}},
		"no ring":  {{}},
		"two":      {{Outer: geom.Ring{{0, 0}, {9, 9}}}},
		"repeated": {{Outer: geom.Ring{{0, 0}, {9, 9}, {9, 9}, {0, 0}}}},
		"bow":      {{Outer: geom.Ring{{0, 0}, {9, 9}, {9, 0}, {0, 5}}}},
		"hole":     {{Outer: geom.Ring{{0, 0}, {9, 0}, {9, 9}, {0, 9}}, Holes: []geom.Ring{{{5, 5}, {5, 50}, {6, 6}}}}},
	} {
		if err := r.Check(); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
}
