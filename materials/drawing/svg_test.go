package drawing_test

import (
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foamwright/materials"
	"foamwright/materials/drawing"
	"foamwright/materials/shield"
)

var update = flag.Bool("update", false, "write the pictures in testdata anew")

func views(s shield.Shield) []drawing.Drawing {
	return []drawing.Drawing{drawing.Face(s, palette()), drawing.Back(s, palette()), drawing.Section(s), drawing.Exploded(s, palette())}
}

// The five shields in testdata are to be looked at when they change.
func TestGolden(t *testing.T) {
	for name, spec := range shields() {
		for _, d := range views(build(t, spec)) {
			file := filepath.Join("testdata", name+"-"+d.View+".svg")
			got := drawing.SVG(d)
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s has changed: look at it and run with -update", file)
			}
		}
	}
}

// allowed are the elements and attributes a page under a strict content policy takes without a word.
var allowed = map[string]string{
	"svg":  "xmlns class viewBox role aria-label fill fill-rule stroke-linejoin font-family",
	"path": "class fill fill-opacity stroke stroke-opacity stroke-width stroke-linecap stroke-dasharray vector-effect d",
	"text": "class fill font-size text-anchor x y transform", "title": "", "desc": "",
}

// parsed reads a picture and holds it against what is allowed; it returns the texts in it.
func parsed(t *testing.T, svg string) (texts []string) {
	t.Helper()
	r := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := r.Token()
		if errors.Is(err, io.EOF) {
			return texts
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			names, ok := allowed[e.Name.Local]
			if !ok {
				t.Errorf("an element %s", e.Name.Local)
			}
			for _, a := range e.Attr {
				if !strings.Contains(" "+names+" ", " "+a.Name.Local+" ") {
					t.Errorf("%s has an attribute %s", e.Name.Local, a.Name.Local)
				}
			}
		case xml.CharData:
			texts = append(texts, string(e))
		}
	}
}

func TestSVGIsPlainAndSmall(t *testing.T) {
	fine := regexp.MustCompile(`\d*\.\d\d`)
	for name, spec := range shields() {
		for _, d := range views(build(t, spec)) {
			svg := drawing.SVG(d)
			parsed(t, svg)
			if len(svg) > 44_000 {
				t.Errorf("%s %s has %d bytes", name, d.View, len(svg))
			}
			for _, part := range strings.Split(svg, ` d="`)[1:] {
				if at := fine.FindString(part[:strings.Index(part, `"`)]); at != "" {
					t.Errorf("%s %s has a place as fine as %s mm", name, d.View, at)
				}
			}
			if !strings.Contains(svg, `role="img" aria-label="`) || !strings.Contains(svg, "<desc>") {
				t.Errorf("%s %s is not told in words", name, d.View)
			}
		}
	}
}

// What a customer types comes out as text, whatever it is; a colour that is none is drawn bare.
func TestNothingBreaksOut(t *testing.T) {
	const bad = `"><script>alert('&')</script><g style="`
	spec := kite()
	spec.Name, spec.Rim.Colour, spec.Pieces[0].Name, spec.Pieces[0].Colour, spec.Gems[0].Colour = bad, bad, bad, bad, bad
	has := catalogue()
	has.Liquids = append(has.Liquids, materials.Liquid{Code: "x", Colour: bad})
	s, err := shield.Make(spec, has, shield.UsualBench())
	if err != nil {
		t.Fatal(err)
	}
	for _, hex := range []string{bad, `#1234"`, "#12345g", "red", "", "#+12345", "#1234567"} {
		for _, d := range []drawing.Drawing{drawing.Face(s, map[string]string{bad: hex, "brass": hex}), drawing.Back(s, nil), drawing.Section(s), drawing.Exploded(s, palette())} {
			texts := parsed(t, drawing.SVG(d))
			if !strings.Contains(strings.Join(texts, "\n"), bad) {
				t.Errorf("%s: the name is not there as it was typed", d.View)
			}
		}
	}
}

// Words for who cannot see it.
func TestWords(t *testing.T) {
	s := build(t, kite())
	for view, wants := range map[string][]string{
		drawing.Face(s, nil).Words: {"A kite shield, 560 mm wide along the curve and 542 mm straight across, 880 mm high.", "The face is painted fen blue.", "A rim 45 mm wide, brass.", "Raised: heron, bone.", "Gems: 3 of 56 × 74 mm, moss.", "Studs: 36."},
		drawing.Back(s, nil).Words: {"Seen from behind.", "planks, each 70 mm wide.", "A cover strip 25 mm wide", "To hold it: bar, strap, thumb guard, left hand."},
		drawing.Section(s).Words:   {"3 layers of 10 mm, 40 mm thick in all.", "Off a former of 500 mm radius it is 542 mm straight across and 102 mm deep"},
	} {
		for _, want := range wants {
			if !strings.Contains(view, want) {
				t.Errorf("%q does not say %q", view, want)
			}
		}
	}
}
