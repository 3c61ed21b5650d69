package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The jobs of testdata/nesting/foam were made for this project; their origin is told there.
func TestCutPlanCommand(t *testing.T) {
	folder := t.TempDir()
	for name, c := range map[string]struct {
		file  string
		wants []string
		svgs  string // one that is written
	}{
		"spec": {"demo/designs/heron-kite.json", []string{"Heron kite: cut plan", "Mat 10 mm: ", " sheets of 550 × 550", "Sheet 1 of ", "rim, segment 1", "at the mat’s own edge", "keep", "Half sheet 5 mm: 1 sheet of 1000 × 500", "Checked: "}, "01-mat-10-mm-sheet-01.svg"},
		"job":  {"../../testdata/nesting/foam/foam1_buckler.json", []string{"foam1_buckler: cut plan", " sheets of 550 × 550", "pieces 0.31 m²", "item 0", "Checked: "}, "01-foam1-buckler-sheet-01.svg"},
	} {
		pdf, svgs := filepath.Join(folder, name+".pdf"), filepath.Join(folder, name)
		code, out, problems := ran(t, "", "cutplan", "-check", "-effort", "live", "-out", pdf, "-svg", svgs, c.file)
		if code != 0 || problems != "" {
			t.Fatalf("%s: exit %d\n%s%s", name, code, out, problems)
		}
		for _, want := range c.wants {
			if !strings.Contains(out, want) {
				t.Errorf("%s: no %q in\n%s", name, want, out)
			}
		}
		if doc, err := os.ReadFile(pdf); err != nil || !bytes.HasPrefix(doc, []byte("%PDF-")) {
			t.Errorf("%s: no PDF: %v", name, err)
		}
		for _, file := range []string{"overview.svg", c.svgs} {
			if drawn, err := os.ReadFile(filepath.Join(svgs, file)); err != nil || !bytes.HasPrefix(drawn, []byte("<svg ")) {
				t.Errorf("%s: no %s: %v", name, file, err)
			}
		}
	}
}

// Whoever asks for the impossible is told what, where, and what to do.
func TestCutPlanCommandRefuses(t *testing.T) {
	piece := func(outer string) string {
		return `{"sheet":[550,550],"spacing":3,"rotations":[0,90],"items":[{"demand":1,"outer":` + outer + `}]}`
	}
	for _, c := range []struct{ say, in string }{
		{"items: There is nothing to lay out. Add a piece.", `{"sheet":[550,550],"items":[]}`},
		{"sheet: A sheet is its width and height", `{"items":[{"demand":1,"outer":[[0,0],[9,0],[9,9]]}]}`},
		{"“item 1” measures 700 × 20 mm and fits no sheet", piece(`[[0,0],[700,0],[700,20],[0,20]]`)},
		{"items[0].outer: The outline crosses", piece(`[[0,0],[70,70],[70,0],[0,70]]`)},
		{"items[0].outer: A corner is its x and y", piece(`[[0,0,1],[70,70],[70,0]]`)},
		{"Write a whole number", `{"sheet":[550,550],"items":[{"demand":1.5,"outer":[]}]}`},
		{"sheet: Write a list", `{"sheet":"large","items":[]}`},
		{"is no wider than its two margins", `{"sheet":[550,550],"margin":300,"items":[{"demand":1,"outer":[[0,0],[70,0],[70,20]]}]}`},
		{`items[0].demand "0"`, `{"sheet":[550,550],"items":[{"demand":0,"outer":[[0,0],[70,0],[70,20]]}]}`},
		{`spacing "-1"`, `{"sheet":[550,550],"spacing":-1,"items":[{"demand":1,"outer":[[0,0],[70,0],[70,20]]}]}`},
		{"spacin: A job has no such entry", `{"sheet":[550,550],"items":[],"spacin":3}`},
		{"not JSON", `{"sheet":[550,550],"items":[]} and more`},
		{"outline.shape", `{}`},
		{"A job has at most", `{"items":[]` + strings.Repeat(" ", 1<<20-11) + `}`},
	} {
		if code, _, problems := ran(t, c.in, "cutplan", "-"); code != 2 || !strings.Contains(problems, c.say) {
			t.Errorf("%.80s: exit %d, %s", c.in, code, problems)
		}
	}
	const kite = "demo/designs/heron-kite.json"
	for _, c := range []struct{ say, args string }{
		{"Name one file", ""}, {"no file", "nowhere.json"}, {"live, issue or long", "-effort never " + kite},
		{"cannot be written", "-out nowhere/at/all.pdf " + kite}, {"cannot be made", "-svg " + kite + "/x " + kite}, {"-h to see", "-chek " + kite},
	} {
		if code, _, problems := ran(t, "", append([]string{"cutplan"}, strings.Fields(c.args)...)...); code != 2 || !strings.Contains(problems, c.say) {
			t.Errorf("cutplan %s: exit %d, %s", c.args, code, problems)
		}
	}
}

// No gap between pieces is a gap too: four quarters fill a sheet. A label moves no cursor.
func TestCutPlanCommandWithoutGap(t *testing.T) {
	code, out, problems := ran(t, `{"sheet":[550,550],"items":[{"label":"\u001b[31mquarter","demand":4,"outer":[[0,0],[275,0],[275,275],[0,275]]}]}`, "cutplan", "-check", "-effort", "live", "-")
	if code != 0 || !strings.Contains(out, "1 sheet of 550 × 550, 100") || strings.Contains(out, "\x1b") || !strings.Contains(out, "[31mquarter") {
		t.Errorf("exit %d\n%s%s", code, out, problems)
	}
}
