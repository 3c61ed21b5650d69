package main

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/drawing"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
)

// The drawings that estimate leaves in a folder: every view as SVG and PNG, and a PDF whose pages are as large as what
// is drawn on them, 72 points an inch of 25.4 mm (ISO 32000-1, default user space).
func TestEstimateDraws(t *testing.T) {
	const kite = "demo/designs/heron-kite.json"
	folder := filepath.Join(t.TempDir(), "pictures")
	if code, out, problems := ran(t, "", "estimate", "-drawings", folder, kite); code != 0 || problems != "" || !strings.Contains(out, "Heron kite") {
		t.Fatalf("exit %d\n%s%s", code, out, problems)
	}
	views := kiteViews(t, kite)
	for _, v := range views {
		svg, err := os.ReadFile(filepath.Join(folder, v.View+".svg"))
		if err != nil || xml.Unmarshal(svg, new(struct{})) != nil {
			t.Errorf("%s.svg: %v", v.View, err)
		}
		file, err := os.ReadFile(filepath.Join(folder, v.View+".png"))
		if err != nil {
			t.Error(err)
			continue
		}
		c, err := png.DecodeConfig(bytes.NewReader(file))
		if err != nil || max(c.Width, c.Height) != pixels {
			t.Errorf("%s.png: %v × %v, %v", v.View, c.Width, c.Height, err)
		}
	}
	about, err := exec.Command("pdfinfo", "-l", "9", filepath.Join(folder, "drawings.pdf")).CombinedOutput()
	if err != nil {
		t.Fatalf("pdfinfo (Debian: apt-get install poppler-utils): %v %s", err, about)
	}
	sizes := regexp.MustCompile(`Page +\d+ size: +([\d.]+) x ([\d.]+) pts`).FindAllStringSubmatch(string(about), -1)
	if len(sizes) != len(views) {
		t.Fatalf("%d pages of %d views: %s", len(sizes), len(views), about)
	}
	for i, v := range views {
		for k, want := range []float64{v.Sheet.Width(), v.Sheet.Height()} {
			if pt, err := strconv.ParseFloat(sizes[i][k+1], 64); err != nil || math.Abs(pt*25.4/72-want) > 0.2 {
				t.Errorf("page of the %s: %v points, %v; want %.1f mm", v.View, sizes[i][k+1], err, want)
			}
		}
	}
	prop := filepath.Join(t.TempDir(), "prop")
	if code, _, problems := ran(t, `{"kind":"prop","parts":[{"name":"board","foam":"sheet-10","width":"40 cm","height":"30 cm"}]}`, "estimate", "-drawings", prop, "-"); code != 0 {
		t.Error(problems)
	}
	if files, err := os.ReadDir(prop); err != nil || len(files) != 3 {
		t.Errorf("a prop has a face and a PDF: %v, %v", files, err)
	}
	if code, _, problems := ran(t, "", "estimate", "-drawings", kite+"/x", kite); code != 2 || !strings.Contains(problems, "cannot be made") {
		t.Errorf("exit %d, %s", code, problems)
	}
}

func kiteViews(t *testing.T, file string) []drawing.Drawing {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	spec, err := orderform.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	snap, err := demo.Snapshot(thursday())
	if err != nil {
		t.Fatal(err)
	}
	s, err := shield.Make(spec, snap.Catalogue, snap.Bench)
	if err != nil {
		t.Fatal(err)
	}
	palette := snap.Catalogue.Swatches()
	return []drawing.Drawing{drawing.Face(s, palette), drawing.Back(s, palette), drawing.Section(s), drawing.Exploded(s, palette)}
}
