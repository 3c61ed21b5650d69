package pricing_test

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/pricing"
)

// A price can be made whatever the workshop's own figures are within their ranges, or the spec is refused in words.
func TestFiguresAtTheirEnds(t *testing.T) {
	t.Parallel()
	snap, err := demo.Snapshot(time.Date(2026, time.March, 5, 10, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	all := specs(t)[:3]
	figures := func(s *pricing.Snapshot) []materials.Figure { return append(s.Bench.Figures(), s.Usage.Figures()...) }
	made := 0
	for i, f := range figures(&snap) {
		for _, end := range []float64{f.Least, f.Most} {
			moved := snap
			if m := figures(&moved)[i]; m.Length != nil {
				*m.Length = measure.Length(end) * measure.Millimetre
			} else {
				*m.Number = decimal.NewFromFloat(end)
			}
			for _, spec := range all {
				e, err := pricing.Make(t.Context(), spec, moved, quick)
				if err == nil && e.Price.Net.Sign() > 0 {
					made++
				} else if fault.KindOf(err) != fault.Invalid {
					t.Errorf("%s of %v: %v, %s", f.Name, end, err, e.Price.Net)
				}
			}
		}
	}
	t.Logf("%d prices", made)
}
