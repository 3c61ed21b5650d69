package geom_test

import (
	"strings"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Relative forms and their absolute ones: web-platform-tests/wpt (BSD-3, from memory),
// svg/path/property/serialization.svg; compact numbers and touching flags: svgpath 2.6.0 (MIT).
func TestParsePath(t *testing.T) {
	for d, want := range map[string]string{
		"m 10 20 q 30 60 40 50 q 100 70 90 80":                         "M 10 20 Q 40 80 50 70 Q 150 140 140 150",
		"M 0 0 L 100 100 m 0 100 l 100 0 Z l 160 20 Z":                 "M 0 0 L 100 100 M 100 200 L 200 200 Z L 260 220 Z",
		"m 10.0 170.0 h 90.00 v 30.00 m 0 0 s 1 2 3 4 z c 9 8 7 6 5 4": "M 10 170 H 100 V 200 M 100 200 S 101 202 103 204 Z C 109 208 107 206 105 204",
		"m 10 20 a 10 20 30 1 0 40 50 a 110 120 30 1 1 140 50":         "M 10 20 A 10 20 30 1 0 50 70 A 110 120 30 1 1 190 120",
		"M.5.5.5.5":                    "M.5 .5 L.5 .5 L.5 .5 M.5.5", // lines to where the pen is draw nothing, see below
		"M1-2-3-4":                     "M1 -2 L-3 -4",
		"M1e2,1E-1L+5-.5":              "M100 0.1 L5 -0.5",
		"M0 0a10 10 0 0120 0":          "M0 0 A10 10 0 0 1 20 0",
		"M0 0a10 10 0 01.5.5":          "M0 0 A10 10 0 0 1 .5 .5",
		"\tM0,0\n10 , 5\r\f20,0 z \n":  "M0 0 L10 5 L20 0 Z",
		"m1 1 2 3 4 5":                 "M1 1 L3 4 L7 9",
		"M0 0H10 20 5V1 2":             "M0 0 L10 0 L20 0 L5 0 L5 1 L5 2",
		"M0 0A0 10 0 0 1 20 0":         "M0 0 L20 0",
		"M0 0A-10 -20 0 0 1 20 0":      "M0 0 A10 20 0 0 1 20 0",
		"M0 0Q5 5 10 0 20 5 30 0":      "M0 0 Q5 5 10 0 Q20 5 30 0",
		"M0 0 5 5 t5 0 5 0":            "M0 0 L5 5 Q5 5 10 5 Q15 5 15 5",
		"M0 0C1 1 2 2 3 0L4 0S5 1 6 0": "M0 0 C1 1 2 2 3 0 L4 0 C4 0 5 1 6 0",
		"M0 0M5 5L6 6":                 "M5 5L6 6",
		"M-0-0L1 1":                    "M0 0 1 1",
	} {
		if strings.HasPrefix(d, "M.5") {
			if _, err := geom.ParsePath(d); err == nil || !strings.Contains(err.Error(), "Nothing is drawn") {
				t.Errorf("%s: %v", d, err)
			}
			d, want = d+"L1 1", "M.5 .5 L1 1"
		}
		if got, want := parse(t, d).D(), parse(t, want).D(); got != want {
			t.Errorf("%s:\ngot  %s\nwant %s", d, got, want)
		}
	}
}

// Refused: what svgpath 2.6.0 (MIT) refuses; the wpt error-handling/bounding.svg data that browsers draw up to
// the error; and the limits.
func TestParsePathRefuses(t *testing.T) {
	for _, c := range []struct{ d, want string }{
		{"L10 10", "Character 1: path data starts with M"},
		{"M0", "At the end: a number is missing here: y"},
		{"M0 0 x", "Character 6: this is no path command"},
		{"M0 0 A5 5 0 2 0 9 9", "Character 13: the large-arc flag has to be 0 or 1"},
		{"M0 0 A5 5 0 0 3 9 9", "Character 15: the sweep flag"},
		{"m 0 0 l 3 -4 z # ...", "Character 16: this is no path command"},
		{"m 0 0 l -9 11 -123 z", "Character 20: a number is missing here: y"},
		{"", "There is no path data"},
		{" \n", "There is no path data"},
		{"M0 0", "Nothing is drawn"},
		{"M0 0Z", "Nothing is drawn"},
		{"M,0 0L1 1", "Character 2: a number is missing"},
		{"M0,,0L1 1", "Character 4: a number is missing"},
		{"M0 0,L1 1", "Character 6: a number is missing"},
		{"M0 0L1 1,", "At the end: a number is missing"},
		{"M0 0L1. 1", "Character 8: a digit has to follow the dot"},
		{"M0 0L. 1", "Character 6: a number is missing"},
		{"M0 0L+-1 1", "Character 6: a number is missing"},
		{"M0 0L1e 1", "Character 7: a number is missing"},
		{"M0 0L1 NaN", "Character 8: a number is missing"},
		{"M0 0L1 1e9", "Character 8: this number is over 100 000 mm"},
		{"M0 0L1 1e999", "Character 8: this number is over 100 000 mm"},
		{"M0 90000l0 90000", "Character 12: this place is further out"},
		{"M0 0L1 1Z5 5", "Character 10: this is no path command"},
		{"M0 0L1 1é", "Character 9: this is no path command"},
		{"M0 0Q90000 0 0 0T90000 90000 0 0", "reflected"},
		{"M0 0A100000 .00001 0 0 1 0 1000", "Character 5: this arc needs a radius"},
		{"M0 0" + strings.Repeat("h1", 50_001), "more than 50000 segments"},
		{strings.Repeat("M0 0h1", 2_001), "2001 separate outlines"},
		{"M0 0" + strings.Repeat("Q99999 99999 0 99999 0 0 99999 0", 1_500), "Simplify"},
		{strings.Repeat(" ", 1_000_001), "1000001 characters long"},
	} {
		_, err := geom.ParsePath(c.d)
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.40s: %v; want a fault with %q", c.d, err, c.want)
		}
	}
}

func FuzzParsePath(f *testing.F) {
	for _, d := range []string{
		"M0 0 H400 V250 C400,420 280,540 200,600 S0,420 0,250 Z", "m 10 20 a 10 20 30 1 0 40 50 a 110 120 30 1 1 140 50",
		"M.5.5.5.5", "M1-2-3-4", "M1e2,1E-1L+5-.5", "M0 0a10 10 0 0120 0", "L10 10", "M0", "M0 0 x", "M0 0A5 5 0 2 0 9 9",
		"M0 0q1 2 2 0t3 3zM1 1s1 1 2 2Z", "M0 0A1e5 1e-9 0 0 1 1 1", "M0 0h1e-300v1z", "M0 0c0 0 0 0 0 0z", "M9 9A1 1e-5 45 1 0 9 9.1Z",
	} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		p, err := geom.ParsePath(d)
		if err != nil {
			if fault.KindOf(err) != fault.Invalid {
				t.Fatalf("%q: an unexplained failure: %v", d, err)
			}
			return
		}
		length, box := p.Length(), p.Bounds()
		if !(length >= 0 && length < 1e12) || !(box.Width() >= 0 && box.Height() >= 0) {
			t.Fatalf("%q: length %g, box %v", d, length, box)
		}
		if p.Check() == nil {
			if a, flat := p.Area(), p.Flatten(geom.Fine).Area(); !(a > 0) || !(flat > 0 && flat < a+2*geom.Fine*length+1e-9) {
				t.Fatalf("%q: area %g, flat %g", d, a, flat)
			}
		}
		again, err := geom.ParsePath(p.D())
		if err != nil {
			t.Fatalf("%q written as %q: %v", d, p.D(), err)
		}
		if l := again.Length(); !(l-length < 1e-6*(1+length) && length-l < 1e-6*(1+length)) {
			t.Fatalf("%q written as %q: length %g, then %g", d, p.D(), length, l)
		}
	})
}
