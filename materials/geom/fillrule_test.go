package geom_test

import "testing"

// The rings run both ways, so that the rules differ: worked by hand from the winding numbers.
func TestNonzero(t *testing.T) {
	const square, within, against = "M0 0h100v100h-100z", "M20 20h60v60h-60z", "M20 20v60h60v-60z"
	for d, want := range map[string]float64{
		square:                                10000,
		square + within:                       10000, // winds twice: filled
		square + against:                      10000 - 3600,
		within + square:                       10000, // whichever is drawn first
		square + within + "M40 40v20h20v-20z": 10000, // 2 - 1 is still 1
		square + within + "M40 40v20h20v-20zM45 45v10h10v-10z":     10000 - 100,
		square + against + "M40 40h20v20h-20z":                     10000 - 3600 + 400,
		square + against + "M40 40v20h20v-20z":                     10000 - 3600 + 400, // -1: filled by nonzero too
		square + "M200 0h10v10h-10zM220 0v10h10v-10z":              10200,
		"M0 0H100V100H0L0 0M20 20H80V80H20L20 20":                  10000, // back at the start without Z
		"M50 0A50 50 0 0 1 50 100A50 50 0 0 1 50 0ZM40 40h9v9h-9z": 7853.98163397448,
	} {
		near(t, d, parse(t, d).Nonzero().Area(), want, 1e-12)
	}
	if lines := parse(t, "M0 0L100 0M0 10L100 10M0 0h100v100h-100zM20 20h60v60h-60z").Nonzero(); len(lines) != 3 {
		t.Errorf("open lines and one square became %s", lines.D())
	}
}
