package artwork_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"foamwright/materials/artwork"
	"foamwright/materials/fault"
)

// sheet is a page of 400 × 600 mm with something on it, from line 2.
func sheet(inside string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:b="https://bench.example" width="400mm" height="600mm" viewBox="0 0 400 600">` + "\n" + inside + "\n</svg>")
}

const square = `<path id="outline" d="M0 0h300v300h-300z"/>`

func TestReadRefuses(t *testing.T) {
	inside := map[string]string{
		"":                                     "There is no shape in the file.",
		"<text>Mara</text>":                    "There is no shape in the file.",
		`<g display="none">` + square + "</g>": "There is no shape in the file.",
		`<defs>` + square + "</defs>":          "There is no shape in the file.",
		`<path d="M0 0L300 0L300 300"/>`:       "Line 2: The outline is open: it starts at (0, 0) mm and ends at (300, 300) mm",
		`<g id="outline"><path d="M0 0h300v300h-300z"/>` + "\n" + `<path d="M150 0v300"/></g>`: "Line 3: The outline is open",
		`<g id="outline"><path d="M0 0h300v300h-300z"/>` + "\n" + `<circle r="50"/></g>`:       "Line 3: The outline crosses or touches itself at",
		"\n" + `<path d="M0 0L300 300H0L300 0Z"/>`:                                             "Line 3: The outline crosses or touches itself at (150, 150) mm.",
		square + "\n" + `<path id="piece" d="M10 10L50 50H10L50 10Z"/>`:                        "Line 3: The outline crosses or touches itself at (30, 30) mm.",
		square + "\n" + `<line id="piece" x1="10" x2="20"/>`:                                   "Line 3: The outline is open",
		`<line x2="10"/>`: "The outline is open",
		`<g id="pieces"><rect width="9" height="9"/></g>`:                               "No shape can be taken for the outline.",
		"\n\n" + `<path d="M0 0h300v300h"/>`:                                            "Line 4: At the end: a number is missing here: x.",
		`<path d="M0 0h300v300h-300"`:                                                   "is wrong here",
		`<path d="M0 0h3e5v300h-300z"/>`:                                                "Line 2: Character 6: this number is over 100 000 mm",
		`<path d="M0 0hNaNv300h-300z"/>`:                                                "Line 2: Character 6: a number is missing",
		`<rect width="NaN" height="1"/>`:                                                `"NaN": Line 2: width has to be a plain number`,
		`<rect width="1e400" height="1"/>`:                                              "width has to be a plain number",
		`<rect width="3em" height="1"/>`:                                                "width has to be a plain number, or one with mm",
		`<rect width="-3" height="1"/>`:                                                 "is below zero",
		`<circle r="1e9"/>`:                                                             "Line 2: The outline reaches further than 100 000 mm",
		`<circle r="1" transform="scale(1e9) scale(1e9)"/>`:                             "reaches further than 100 000 mm",
		`<g transform="scale(1e9)"><g transform="scale(1e300)"><circle r="1"/></g></g>`: "The transform goes wrong here",
		`<circle r="9" transform="rotate(45deg)"/>`:                                     `"rotate(45deg)": Line 2: The transform goes wrong here.`,
		`<circle r="9" transform="translate(1,2) spin(3)"/>`:                            `"spin(3)"`,
		`<circle r="9" transform="scale(1,)"/>`:                                         "The transform goes wrong here",
		`<circle r="9" style="transform: scale(2)"/>`:                                   "transform in a style is not read",
		`<circle r="9" transform="scale(2)" transform-origin="5 5"/>`:                   "transform-origin in a style is not read",
		`<style>.a{transform:rotate(3deg)}</style><circle class="a" r="9"/>`:            "transform in a style is not read",
		`<polygon points="0 0 9 0 9"/>`:                                                 "Line 2: The points need two plain numbers each",
		`<polygon points="0,0 9,,0 9,9"/>`:                                              "The points need two plain numbers each",
		`<svg viewBox="0 0 9"><circle r="9"/></svg>`:                                    "The viewBox needs four numbers",
		`<svg width="-1" viewBox="0 0 9 9"><circle r="9"/></svg>`:                       "is below zero",
		`<g id="a"><use href="#a"/></g>`:                                                "which never ends",
		`<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>`:                  "which never ends",
		`<svg><g></svg>`: "Line 2: This is not XML as it has to be",
		`&nbsp;`:         "Line 2: This is not XML as it has to be",
		"\xff":           "This is not XML as it has to be",
	}
	for drawn, want := range inside {
		refused(t, sheet(drawn), fault.Invalid, want)
	}
	files := map[string]string{
		"":                              "This is no SVG file.",
		"M0 0h1v1z":                     "This is no SVG file.",
		"\x89PNG\r\n\x1a\n":             "This is no SVG file.",
		"{}":                            "This is no SVG file.",
		"<html><svg/></html>":           `"html": Line 1: This is no SVG file.`,
		"\x1f\x8b\x08":                  "This is a compressed drawing file.",
		"<svg><g>":                      "Line 1: The file breaks off here",
		"<svg>\n<path d='M0 0":          "The file breaks off here",
		"<svg/>":                        "There is no shape in the file.",
		`<svg xmlns="other"><g/></svg>`: "This is no SVG file.",
		"<!DOCTYPE svg [<!ENTITY a 'b'>]>\n<svg/>":                                                          "Line 1: The file declares entities",
		"<?xml version='1.0'?>\n<!DOCTYPE svg [<!ENTITY % a SYSTEM 'file:///secret'> %a;]>\n<svg>&b;</svg>": "Line 2: The file declares entities",
		"<?xml version='1.0' encoding='utf-16'?><svg/>":                                                     "not written as UTF-8",
		"<?xml version='1.1'?><svg/>":                                                                       "not written as UTF-8 and XML 1.0",
		`<svg width="0mm" viewBox="0 0 1 1"><circle r="9"/></svg>`:                                          "The width of the page has to be a number over 0",
		`<svg height="9 furlongs"><circle r="9"/></svg>`:                                                    "The height of the page has to be",
		`<svg viewBox="0 0 0 9"><circle r="9"/></svg>`:                                                      "The viewBox needs four numbers",
		`<svg transform="scale(2)"><circle r="9"/></svg>`:                                                   "The whole page is transformed",
		`<svg><rect width="50%" height="9"/></svg>`:                                                         "width has to be a plain number",
	}
	for file, want := range files {
		refused(t, []byte(file), fault.Invalid, want)
	}
}

func refused(t *testing.T, file []byte, kind fault.Kind, want string) {
	t.Helper()
	d, err := artwork.Read(file, artwork.Options{})
	var l fault.List
	if internal := l.Take("outline.svg", err); internal != nil || l.Empty() {
		t.Fatalf("%.300s: %v; want a fault with %q", file, err, want)
	}
	if told := l.Err().Error(); fault.KindOf(err) != kind || !strings.Contains(told, want) || len(d.Shapes) > 0 {
		t.Errorf("%.300s: %v; want a fault with %q", file, told, want)
	}
}

func TestReadTellsAllAtOnce(t *testing.T) {
	_, err := artwork.Read(sheet(`<path d="M0"/>`+"\n"+`<circle r="x"/>`+"\n"+square), artwork.Options{})
	if p := fault.ProblemsOf(err); len(p) != 2 || !strings.HasPrefix(p[0].Remedy, "Line 2: ") || !strings.HasPrefix(p[1].Remedy, "Line 3: ") {
		t.Errorf("%v", err)
	}
	_, err = artwork.Read(sheet(strings.Repeat(`<circle r="x"/>`, 500)), artwork.Options{})
	if n := len(fault.ProblemsOf(err)); n != 20 {
		t.Errorf("%d problems", n)
	}
}

// A file that says little and means a great deal is stopped before it costs anything.
func TestReadIsBounded(t *testing.T) {
	doubling := func(inside string, times int) string {
		s := `<g id="g0">` + inside + `</g>`
		for i := range times {
			s += fmt.Sprintf(`<g id="g%d"><use href="#g%d"/><use href="#g%d"/></g>`, i+1, i, i)
		}
		return s
	}
	line := strings.Repeat("h1v1", 10_000)
	for what, drawn := range map[string]string{
		"copies of copies":    doubling(`<circle r="1"/>`, 30),
		"copies of long data": doubling(`<path d="M0 0`+line+`"/>`, 5),
		"copies of blanks":    doubling(`<path d="`+strings.Repeat(" ", 1_000_000)+`M0 0h1v1z"/>`, 3),
		"copies of points":    doubling(`<polygon points="`+strings.Repeat("0 0 1 1 ", 9_000)+`"/>`, 3),
		"elements":            strings.Repeat("<g/>", 20_000),
		"depth":               strings.Repeat("<g>", 64) + strings.Repeat("</g>", 64),
		"foreign depth":       strings.Repeat("<b:g>", 100_000),
	} {
		t.Run(what, func(t *testing.T) { refused(t, sheet(drawn), fault.TooLarge, "holds too much") })
	}
	chain := square
	for i := range 70 {
		chain += fmt.Sprintf(`<g id="c%d"><use href="#c%d"/></g>`, i, i+1)
	}
	refused(t, sheet(chain), fault.TooLarge, "holds too much")
	refused(t, bytes.Repeat([]byte(" "), artwork.MaxBytes+1), fault.TooLarge, "over 2 MB")
	refused(t, sheet(strings.Repeat(`<path d="M0 0h1"/>`, 2_001)), fault.Invalid, "2001 separate outlines")
}
