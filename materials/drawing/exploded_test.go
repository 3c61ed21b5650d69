package drawing_test

import (
	"fmt"
	"strings"
	"testing"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

func said(d drawing.Drawing) map[string]bool {
	have := map[string]bool{}
	for _, m := range d.Marks {
		if text, ok := m.(drawing.Text); ok {
			have[text.Words] = true
		}
	}
	return have
}

// Every part of the parts list is named, with as many as are cut, in the order of laying up.
func TestExplodedNamesEveryPart(t *testing.T) {
	for name, spec := range shields() {
		s := build(t, spec)
		cut := map[string]int{}
		for _, p := range s.Parts {
			label := p.Label
			if p.Kind == shield.EdgePart {
				label = string(p.Kind)
			}
			cut[label] += p.Count
		}
		d := drawing.Exploded(s, palette())
		for label, n := range cut {
			switch {
			case strings.HasPrefix(label, "layer"): // equal layers are one part of the list
				for i := range n {
					if want := fmt.Sprintf(": layer %d, 1 × ", i+1); !strings.Contains(d.Words, want) {
						t.Errorf("%s: no %q in %s", name, want, d.Words)
					}
				}
				continue
			case label == "rim":
				label = "rim " + mmOf(spec.Rim.Width)
			case label == "cover strip":
				label = "cover strip " + mmOf(spec.Back.Cover.Width)
			case label == "stud":
				label = "studs"
			}
			if want := fmt.Sprintf(": %s, %d × ", label, n); !strings.Contains(d.Words, want) {
				t.Errorf("%s: no %q in %s", name, want, d.Words)
			}
		}
	}
	d := drawing.Exploded(build(t, kite()), palette())
	for _, want := range []string{
		"1: layer 1, ", "3: layer 3, ", "4: rim 45, ", "5: edge strip, ", "6: heron, ", "7: reed, 2 × sheet-5, 1 mirrored. ", "9: gem 56 × 74, 6 × sheet-10, 2 layers. ",
		"10: planks, 9 of 70, cut into layer 1. ", "11: cover strip 25, ", "15: strap, 1 × webbing.",
	} {
		if !strings.Contains(d.Words, want) {
			t.Errorf("no %q in %s", want, d.Words)
		}
	}
	if have := said(d); !have["heron"] || !have["2 × sheet-5, 1 mirrored"] || !have["15"] {
		t.Errorf("the sheet says %v", have)
	}
}

func mmOf(l interface{ MM() float64 }) string { return fmt.Sprintf("%g", l.MM()) }

// A layer of several panels shows its seams: those of two panels of the foam, half way down a rectangle that is as
// wide as the foam and twice as high.
func TestExplodedShowsSeams(t *testing.T) {
	spec := plain("Board", shield.Outline{Shape: shield.Rectangle, Width: 900 * mm, Height: 2600 * mm})
	spec.Core.Layers = 1
	s := build(t, spec)
	if len(s.Panels) != 1 || len(s.Panels[0]) != 2 {
		t.Fatalf("panels: %v", s.Panels)
	}
	sum := 0.0
	for _, p := range s.Panels[0] {
		sum += geom.Region{p}.Area()
	}
	if got := sum / s.Area; got < 0.999999 || got > 1.000001 {
		t.Errorf("the panels are %v of the layer", got)
	}
	d := drawing.Exploded(s, nil)
	if have := said(d); !have["1 × sheet-10, 2 panels"] {
		t.Errorf("the sheet says %v", have)
	}
	seams := 0
	for _, m := range d.Marks {
		if l, ok := m.(drawing.Lines); ok && l.Class == drawing.Guide {
			for _, c := range l.Chains {
				if seams++; c[0].Y != c[1].Y || c[1].X-c[0].X < 899.9 && c[0].X-c[1].X < 899.9 {
					t.Errorf("a seam along %v", c)
				}
			}
		}
	}
	if seams != 1 {
		t.Errorf("%d seams", seams)
	}
}
