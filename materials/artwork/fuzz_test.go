package artwork_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foamwright/materials/artwork"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
)

var plainColour = regexp.MustCompile(`^(#[0-9a-f]{6})?$`)

func FuzzRead(f *testing.F) {
	names, err := filepath.Glob("../../testdata/svg/*.svg")
	if err != nil || len(names) == 0 {
		f.Fatal("the drawing files are missing", err)
	}
	for _, name := range names {
		file, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(file, uint32(0), strings.Contains(name, "half"))
	}
	f.Add([]byte("<!DOCTYPE svg [<!ENTITY a 'b'>]><svg>&a;</svg>"), uint32(1), false)
	f.Add([]byte(`<svg><g id="a"><use href="#a"/></g></svg>`), uint32(1e6), false)
	f.Add([]byte(`<svg viewBox="0 0 1 1" width="1e9mm"><circle r="1e-9" transform="scale(1e9)"/></svg>`), uint32(0), false)
	f.Fuzz(func(t *testing.T, file []byte, unit uint32, half bool) {
		readAnything(t, file, artwork.Options{Unit: measure.Length(unit), Half: half})
	})
}

// FuzzAttributes is FuzzRead for what stands in attributes, since few random files are XML.
func FuzzAttributes(f *testing.F) {
	f.Add("M0 0h300v300h-300z M9 9h5v5h-5z", "rotate(45) scale(2 -1)", "fill:none", "0 0 400 600", "xMinYMax slice", "10mm", "0,0 30 0 9,9")
	f.Add("M0 0a9 9 0 1 1 .01 0z", "matrix(1 0 0 1 3e0 .4),skewX(20)", "fill:#ABC;fill-rule:evenodd!important", "-5 -5 1e-3 1e9", "none", "50%", "1-2-3-4")
	f.Add("M0 0", "translate(1e9)", "display:none", "0 0 0 0", "xMaxYMid meet", "9Q", "0")
	f.Fuzz(func(t *testing.T, d, transform, style, box, align, size, points string) {
		var file bytes.Buffer
		put := func(format string, attributes ...string) {
			escaped := make([]any, len(attributes))
			for i, a := range attributes {
				var b bytes.Buffer
				_ = xml.EscapeText(&b, []byte(a)) // a buffer never fails
				escaped[i] = b.String()
			}
			fmt.Fprintf(&file, format, escaped...)
		}
		put(`<svg width="400mm" viewBox="%s" preserveAspectRatio="%s"><style>.a{%s}</style><g transform="%s">`, box, align, style, transform)
		put(`<path d="%s" style="%s"/><polygon class="a" points="%s"/><polyline points="%s" id="%s"/>`, d, style, points, points, style)
		put(`<rect x="7" y="%s" width="%s" height="30" rx="%s"/><circle r="%s"/><ellipse cx="%s" rx="3" transform="%s"/>`, size, size, size, size, size, transform)
		put(`<symbol id="s" viewBox="%s"><path d="%s"/></symbol><use href="#s" width="%s" height="9"/>`, box, d, size)
		put(`<svg x="%s" width="30" height="20" preserveAspectRatio="%s" viewBox="0 0 9 9"><path d="%s" fill="%s"/></svg></g></svg>`, size, align, d, style)
		readAnything(t, file.Bytes(), artwork.Options{Half: len(d)%2 == 1})
	})
}

// readAnything reads a file that may be anything: it is refused in words, or gives shapes whose figures mean
// something and that can be written and read again.
func readAnything(t *testing.T, file []byte, o artwork.Options) {
	d, err := artwork.Read(file, o)
	if err != nil {
		if k := fault.KindOf(err); k != fault.Invalid && k != fault.TooLarge {
			t.Fatalf("an unexplained failure: %v", err)
		}
		for _, p := range fault.ProblemsOf(err) {
			if p.Remedy == "" || len(p.Value) > 300 {
				t.Fatalf("a poor problem: %+v", p)
			}
		}
		return
	}
	if len(d.Outline()) == 0 {
		t.Fatal("no outline")
	}
	var again strings.Builder
	again.WriteString(`<svg width="1000mm" viewBox="0 0 1000 1000">`)
	for _, s := range d.Shapes {
		if len(s.Path) == 0 || s.Line < 1 || s.Line > bytes.Count(file, []byte("\n"))+1 || !plainColour.MatchString(s.Fill) {
			t.Fatalf("%+v", s)
		}
		if box := s.Path.Bounds(); !(box.Width() >= 0 && box.Height() >= 0 && s.Path.Length() >= 0) {
			t.Fatalf("%+v", s)
		}
		place := s.Path.Transform(geom.Translate(d.Origin.X, d.Origin.Y)) // where it was checked
		fmt.Fprintf(&again, "<path id=%q fill-rule=%q d=%q/>", s.Role, "evenodd", place.D())
	}
	again.WriteString("</svg>")
	if again.Len() > artwork.MaxBytes {
		return
	}
	e, err := artwork.Read([]byte(again.String()), artwork.Options{})
	switch {
	case err != nil && strings.Contains(err.Error(), "touches itself"):
		return // moved there and back, what all but touched itself may touch
	case err != nil:
		t.Fatalf("%s: %v", again.String(), err)
	}
	a, b := d.Outline().Length(), e.Outline().Length()
	if len(d.Shapes) != len(e.Shapes) || math.Abs(a-b) > 1e-6*(1+a) {
		t.Fatalf("%s: length %g, then %g", again.String(), a, b)
	}
}
