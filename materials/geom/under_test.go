package geom_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

func TestParsePathUnder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := blob(t, "blob")
		k := rapid.Float64Range(0.001, 100).Draw(t, "mm a unit")
		q, err := geom.ParsePathUnder(p.Transform(geom.Scale(1/k, 1/k)).D(), geom.Scale(k, k))
		if err != nil {
			t.Fatal(err)
		}
		same(t, "area", q.Area(), p.Area(), 1e-9)
		same(t, "length", q.Length(), p.Length(), 1e-9)
	})
	// In hundredths of a mm: 1 200 mm is 120 000 units, which are no 100 000 mm.
	if p, err := geom.ParsePathUnder("M0 0H120000V120000H0Z", geom.Scale(.01, .01)); err != nil || p.Area() != 1440000 {
		t.Errorf("%v, %v", p, err)
	}
	if p, err := geom.ParsePathUnder("M5 5Z", geom.Scale(2, 2)); err != nil || len(p) != 0 {
		t.Errorf("a stray point: %v, %v", p, err)
	}
	for d, m := range map[string]geom.Matrix{
		"M0 0H101V1Z":             geom.Scale(1000, 1000),
		"M0 0H99V99Z":             geom.Translate(99950, 0),
		"M0 0H1e999V1Z":           geom.Scale(0, 0),
		"M0 0A150 150 0 0 1 1 0Z": geom.Scale(1000, 1000),
		"M0 0Q90 0 0 0T90 90 0 0": geom.Scale(1000, 1000),
		"M0 0L1 1 x":              geom.Scale(2, 2),
		"M0 0H100000V100000H0Z":   geom.Scale(0.5, 3),
		"M0 0" + strings.Repeat("Q99 99 0 99 0 0 99 0", 1_500) + "Z": geom.Scale(1000, 1000),
	} {
		if p, err := geom.ParsePathUnder(d, m); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%.40s became %v, %v", d, p.Bounds(), err)
		}
	}
}
