package artwork_test

import (
	"bytes"
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
		d, err := artwork.Read(file, artwork.Options{Unit: measure.Length(unit), Half: half})
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
		for _, s := range d.Shapes {
			if len(s.Path) == 0 || s.Line < 1 || s.Line > bytes.Count(file, []byte("\n"))+1 || !plainColour.MatchString(s.Fill) {
				t.Fatalf("%+v", s)
			}
			if box := s.Path.Bounds(); math.IsNaN(box.Width()+box.Height()) || math.IsNaN(s.Path.Length()) {
				t.Fatalf("%+v", s)
			}
		}
		// What was read can be written and read again.
		var again strings.Builder
		fmt.Fprint(&again, `<svg width="1000mm" viewBox="0 0 1000 1000">`)
		for _, s := range d.Shapes {
			place := s.Path.Transform(geom.Translate(d.Origin.X, d.Origin.Y)) // where it passed as an outline
			fmt.Fprintf(&again, `<path id="%s" fill-rule="evenodd" d="%s"/>`, s.Role, place.D())
		}
		fmt.Fprint(&again, "</svg>")
		e, err := artwork.Read([]byte(again.String()), artwork.Options{})
		if again.Len() > artwork.MaxBytes {
			return
		}
		if err != nil {
			t.Fatalf("%s: %v", again.String(), err)
		}
		a, b := d.Outline(), e.Outline()
		if len(d.Shapes) != len(e.Shapes) || math.Abs(a.Length()-b.Length()) > 1e-6*(1+a.Length()) {
			t.Fatalf("%s: length %g, then %g", again.String(), a.Length(), b.Length())
		}
	})
}
