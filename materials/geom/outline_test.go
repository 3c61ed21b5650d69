package geom_test

import (
	"math"
	"strings"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// must is for outlines whose sizes are right.
func must(t testing.TB) func(geom.Path, error) geom.Path {
	return func(p geom.Path, err error) geom.Path {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
}

func TestOutlines(t *testing.T) {
	for _, c := range []struct {
		what               string
		path               geom.Path
		area, length, w, h float64
	}{
		{"round", must(t)(geom.Ellipse(580, 580)), math.Pi * 290 * 290, math.Pi * 580, 580, 580},
		{"sharp", must(t)(geom.Rectangle(600, 900, 0)), 540000, 3000, 600, 900},
		// As in the table of paths, from svg-path-commander 2.3.3 with closed forms for the corners.
		{"rounded", must(t)(geom.Rectangle(600, 900, 40)), 538626.548245744, 2931.32741228718, 600, 900},
		{"stadium", must(t)(geom.Rectangle(100, 300, 50)), 20000 + math.Pi*2500, 400 + math.Pi*100, 100, 300},
		{"square", must(t)(geom.RegularPolygon(4, 500)), 250000, 2000, 500, 500},
		{"triangle", must(t)(geom.RegularPolygon(3, 500)), math.Sqrt(3) / 4 * 250000, 1500, 500, math.Sqrt(3) / 2 * 500},
		{"hexagon", must(t)(geom.RegularPolygon(6, 500)), math.Sqrt(3) * 1.5 * 62500, 1500, 500, math.Sqrt(3) * 250},
		// Width of a pentagon, its diagonal, is the golden ratio times its side.
		{"pentagon", must(t)(geom.RegularPolygon(5, 500)), math.Sqrt(25+10*math.Sqrt(5)) / 4 * 500 * 500 / math.Phi / math.Phi, 2500 / math.Phi, 500, 500 / math.Phi * math.Sqrt(5+2*math.Sqrt(5)) / 2},
		{"octagon", must(t)(geom.RegularPolygon(8, 500)), 2 * (math.Sqrt2 - 1) * 250000, 4000 * (math.Sqrt2 - 1), 500, 500},
	} {
		near(t, c.what+" area", c.path.Area(), c.area, 1e-12)
		near(t, c.what+" length", c.path.Length(), c.length, 1e-12)
		b := c.path.Bounds()
		near(t, c.what+" left", b.Min.X, -c.w/2, 1e-12)
		near(t, c.what+" width", b.Width(), c.w, 1e-12)
		near(t, c.what+" top", b.Min.Y, 0, 1e-12)
		near(t, c.what+" height", b.Height(), c.h, 1e-12)
		if err := c.path.Check(); err != nil {
			t.Errorf("%s: %v", c.what, err)
		}
		mirrored(t, c.what, c.path.Flatten(geom.Fine))
	}
}

// mirrored wants every vertex to have its mirror image to the bit.
func mirrored(t *testing.T, what string, r geom.Region) {
	t.Helper()
	has := map[geom.Point]bool{}
	for _, p := range r.Points() {
		has[geom.Point{X: p.X + 0, Y: p.Y}] = true
	}
	for p := range has {
		if !has[geom.Point{X: -p.X + 0, Y: p.Y}] {
			t.Fatalf("%s: %v has no mirror image", what, p)
		}
	}
}

func TestOutlinesRefused(t *testing.T) {
	for field, err := range map[string]error{
		"width": second(geom.Ellipse(math.NaN(), 5)), "height": second(geom.Ellipse(5, -1)), "corner": second(geom.Rectangle(5, 8, 2.6)),
		"sides": second(geom.RegularPolygon(2, 5)),
	} {
		if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func second(_ geom.Path, err error) error { return err }

func TestMirrorHalf(t *testing.T) {
	for d, area := range map[string]float64{
		"M0 0H200V250L0 600":             170000,
		"M0 600L-200 250V0H0":            170000,
		"M.0004 0H200V250L0 600":         170000, // less than a thousandth off is on the line
		"M0 0A100 100 0 0 1 0 200":       math.Pi * 1e4,
		"M0 0C300 0 200 400 0 600":       math.NaN(),
		"M0 0Q300 0 200 300T0 600":       math.NaN(),
		"M0 100L50 0A90 70 20 1 1 0 600": math.NaN(),
	} {
		half := parse(t, d)
		whole := must(t)(geom.MirrorHalf(half))
		if math.IsNaN(area) {
			area = 2 * half.Area()
		}
		near(t, d+" area", whole.Area(), area, 1e-5)
		near(t, d+" length", whole.Length(), 2*half.Length(), 1e-5)
		if err := whole.Check(); err != nil {
			t.Errorf("%s: %v", d, err)
		}
		mirrored(t, d, whole.Flatten(geom.Fine))
		if whole.Flatten(1)[0].Outer.Area() <= 0 {
			t.Errorf("%s runs the wrong way", d)
		}
	}
	for d, want := range map[string]string{
		"M3 0H200V250L0 600":         "starts 3 mm off the centre line, at (3, 0) mm",
		"M0 0H200V250L-1.5 600":      "ends 1.5 mm off the centre line, at (-1.5, 600) mm",
		"M0 0H200V250L-20 300L0 600": "crosses the centre line by 20 mm, at (-20, 300) mm",
		"M0 0H-200V250Q40 300 0 600": "crosses the centre line by",
		"M0 0H200V250L0 600Z":        "Leave out the Z",
		"M0 0H200V250L0 600M5 5L6 6": "one stroke; this has 2",
	} {
		_, err := geom.MirrorHalf(parse(t, d))
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want a fault with %q", d, err, want)
		}
	}
}
