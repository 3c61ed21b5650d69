package drawing_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"foamwright/materials/cutplan"
	"foamwright/materials/drawing"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

func rectangle(w, h float64) geom.Shape {
	return geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}}
}

func oval(w, h float64) geom.Ring {
	var r geom.Ring
	for i := range 48 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 48)
		r = append(r, geom.Point{X: w / 2 * (1 + cos), Y: h / 2 * (1 + sin)})
	}
	return r
}

// rim is a ring with its hole.
func rim(size, width float64) geom.Shape {
	hole := geom.Region{{Outer: oval(size-2*width, size-2*width)}}.Transform(geom.Translate(width, width))[0].Outer
	slices.Reverse(hole)
	return geom.Shape{Outer: oval(size, size), Holes: []geom.Ring{hole}}
}

func lies(piece, copy, sheet int, x, y, turn float64) cutplan.Placement {
	return cutplan.Placement{Piece: piece, Copy: copy, Sheet: sheet, Pose: cutplan.Pose{Turn: turn, At: geom.Point{X: x, Y: y}}}
}

// laidByHand is a plan with everything that is drawn: a piece in a hole, strips, a panel at its seat, one face down,
// small ones, offcuts, and two sheets alike.
func laidByHand(t testing.TB) drawing.Cut {
	c := drawing.Cut{Foam: "Mat 10 mm"}
	c.Job = cutplan.Job{
		Sheets: []cutplan.Sheet{{Label: "mat", Width: 550, Height: 550, Weight: 1000}}, Spacing: 3, Keep: cutplan.UsualKeep(),
		Pieces: []cutplan.Piece{
			{Label: "rim", Shape: rim(300, 40), Count: 1},
			{Label: "gem & <stone>", Shape: geom.Shape{Outer: oval(90, 110)}, Count: 1},
			{Label: "edge strip", Shape: rectangle(300, 14), Count: 4},
			{Label: "thumb guard", Shape: rectangle(120, 80), Count: 1, Mirror: true},
			{Label: "layer 1, panel 1", Shape: geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 320, Y: 0}, {X: 500, Y: 200}, {X: 500, Y: 550}, {X: 0, Y: 550}}}, Count: 1, On: &cutplan.Seat{}},
			{Label: "block", Shape: rectangle(250, 250), Count: 2},
		},
	}
	guard := lies(3, 0, 0, 425, 0, 0)
	guard.Mirrored = true
	c.Plan = cutplan.Plan{
		Sheets: make([]cutplan.Opened, 4),
		Placements: []cutplan.Placement{
			lies(0, 0, 0, 0, 0, 0), lies(1, 0, 0, 100, 90, 0),
			lies(2, 0, 0, 0, 303, 0), lies(2, 1, 0, 0, 320, 0), lies(2, 2, 0, 0, 337, 0), lies(2, 3, 0, 0, 354, 0), guard,
			lies(4, 0, 1, 0, 0, 0), lies(5, 0, 2, 0, 0, 0), lies(5, 1, 3, 0, 0, 0),
		},
	}
	for _, o := range []struct {
		sheet      int
		x, y, w, h float64
	}{{0, 0, 371, 550, 179}, {2, 253, 0, 297, 550}, {2, 0, 253, 250, 297}, {3, 253, 0, 297, 550}, {3, 0, 253, 250, 297}} {
		shape := geom.Region{rectangle(o.w, o.h)}.Transform(geom.Translate(o.x, o.y))[0]
		c.Plan.Offcuts = append(c.Plan.Offcuts, cutplan.Offcut{Sheet: o.sheet, Shape: shape, Area: o.w * o.h})
	}
	if err := cutplan.Verify(c.Job, c.Plan); err != nil {
		t.Fatal(err)
	}
	return c
}

func sheet(t testing.TB, c drawing.Cut, i int) drawing.Drawing {
	t.Helper()
	d, err := c.Sheet(i)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestCutPlanGolden(t *testing.T) {
	c := laidByHand(t)
	for name, d := range map[string]drawing.Drawing{"cut-sheet": sheet(t, c, 0), "cut-panel": sheet(t, c, 1), "cut-overview": drawing.Overview("Heron kite", c)} {
		file := filepath.Join("testdata", name+".svg")
		got := drawing.SVG(d)
		parsed(t, got)
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
		if err := overlap(d); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func words(d drawing.Drawing) (all []string) {
	for _, m := range d.Marks {
		if t, ok := m.(drawing.Text); ok {
			all = append(all, t.Words)
		}
	}
	return all
}

// What the maker reads: names as they were typed, numbers, sizes, what is kept, what is alike.
func TestCutPlanWords(t *testing.T) {
	c := laidByHand(t)
	for what, k := range map[string]struct {
		d     drawing.Drawing
		wants []string
	}{
		"sheet":    {sheet(t, c, 0), []string{"Mat 10 mm, sheet 1 of 4", "7 pieces · 22\u00a0% used · knife gap 3 mm, margin 0 mm", "2 rim", "1: gem & <stone>, 90 × 110", "7: thumb guard, 120 × 80, face down", "keep 550 × 179", "550"}},
		"panel":    {sheet(t, c, 1), []string{"1 layer 1, panel 1", "the mat’s own edge, not cut"}},
		"alike":    {sheet(t, c, 3), []string{"Mat 10 mm, sheets 3, 4 of 4, laid out alike"}},
		"overview": {drawing.Overview("Heron kite", c), []string{"Mat 10 mm", "2 alike", "rim", "4 sheets of 550 × 550, 37\u00a0% used, 0.57\u00a0m² kept"}},
	} {
		have := strings.Join(words(k.d), "\n")
		for _, want := range k.wants {
			if !strings.Contains(have, want) && !strings.Contains(strings.ReplaceAll(have, "\n", " "), want) {
				t.Errorf("%s: no %q among\n%s", what, want, have)
			}
		}
	}
}

// What lies in a hole goes before what is round it; strips a straight cut frees go first; the knife starts away from
// what is kept.
func TestCutOrder(t *testing.T) {
	c := laidByHand(t)
	// The upper left is furthest from the offcut below, and a guillotine cut down frees rim and strips of the guard.
	if got, want := fmt.Sprint(c.Order(0)), "[1 0 2 3 4 5 6]"; got != want {
		t.Errorf("order %s, want %s", got, want)
	}
	c.Plan.Offcuts[0].Shape = geom.Region{rectangle(100, 100)}.Transform(geom.Translate(0, 0))[0]
	if got := c.Order(0); got[0] != 5 { // from the lower right: the lowest strip
		t.Errorf("order %v does not start at the lower right", got)
	}
}

// anyCut is a job that was planned: pieces of some kinds, some with holes, on sheets they fit.
func anyCut(t *rapid.T) drawing.Cut {
	c := drawing.Cut{Foam: rapid.SampledFrom([]string{"Mat", "<b>&\"' a foam with a name that is long enough to need a second line", ""}).Draw(t, "foam")}
	w, h := rapid.Float64Range(300, 2000).Draw(t, "width"), rapid.Float64Range(300, 2000).Draw(t, "height")
	c.Job = cutplan.Job{Sheets: []cutplan.Sheet{{Width: w, Height: h, Weight: 1000}}, Spacing: 3, Keep: cutplan.UsualKeep(), CreditShare: 500}
	side := math.Min(w, h)
	for i := range rapid.IntRange(1, 5).Draw(t, "kinds") {
		size := side * rapid.Float64Range(0.02, 0.9).Draw(t, "size")
		shape := []geom.Shape{rectangle(size, size/3), rim(size, size/6), {Outer: oval(size, size/2)}, rectangle(size, size/30)}[rapid.IntRange(0, 3).Draw(t, "shape")]
		c.Job.Pieces = append(c.Job.Pieces, cutplan.Piece{
			Label: fmt.Sprintf("part %d, layer %d", i, i*i), Shape: shape, Count: rapid.IntRange(1, 6).Draw(t, "count"),
			Turns: [][]float64{nil, {0, 90}}[rapid.IntRange(0, 1).Draw(t, "turns")], Mirror: rapid.Bool().Draw(t, "mirror"),
		})
	}
	var err error
	if c.Plan, err = cutplan.New().Plan(t.Context(), c.Job, cutplan.Budget{Evaluations: 2000, Seed: 1}); err != nil {
		t.Fatal(err)
	}
	return c
}

// Every placement is drawn once, inside its sheet, with its own area; the order names each once; all of it can be
// written. Outlines are followed within half a millimetre.
func TestCutPlanDrawsThePlan(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := anyCut(rt)
		total := 0
		for i := range c.Plan.Sheets {
			d := sheet(t, c, i)
			order := c.Order(i)
			total += len(order)
			slices.Sort(order)
			if len(slices.Compact(order)) != len(c.Order(i)) {
				rt.Fatalf("sheet %d: order %v", i, c.Order(i))
			}
			drawn, count, slack := 0.0, 0, 0.0
			for _, m := range d.Marks {
				a, ok := m.(drawing.Area)
				if !ok || !strings.HasPrefix(string(a.Class), "tint-") || a.Region.Area() < 0 || len(a.Region) == 0 || inLegend(a, c) {
					continue
				}
				drawn, count, slack = drawn+a.Region.Area(), count+len(a.Region), slack+0.4*a.Region.Length()
				b := a.Region.Bounds()
				if b.Min.X < -1e-6 || b.Min.Y < -1e-6 || b.Max.X > c.Job.Sheets[0].Width+1e-6 || b.Max.Y > c.Job.Sheets[0].Height+1e-6 {
					rt.Fatalf("sheet %d: a piece at %v", i, b)
				}
			}
			want, _ := c.Use(i)
			if count != len(order) || math.Abs(drawn-want) > slack+1e-6 {
				rt.Fatalf("sheet %d: %d pieces of %v mm² drawn, want %d of %v", i, count, drawn, len(order), want)
			}
			if err := onPaper(d); err != nil {
				rt.Fatalf("sheet %d: %v", i, err)
			}
			parsed(t, drawing.SVG(d))
		}
		if total != len(c.Plan.Placements) {
			rt.Fatalf("%d of %d placements have a place in the order", total, len(c.Plan.Placements))
		}
		over := drawing.Overview(c.Foam, c)
		if err := onPaper(over); err != nil {
			rt.Fatal(err)
		}
		parsed(t, drawing.SVG(over))
		if _, err := drawing.PNG(over, 400); err != nil {
			rt.Fatal(err)
		}
	})
}

// inLegend tells the swatches beside the sheet from the pieces on it.
func inLegend(a drawing.Area, c drawing.Cut) bool {
	b := a.Region.Bounds()
	return b.Min.Y >= c.Job.Sheets[0].Height || b.Min.X >= c.Job.Sheets[0].Width
}

// onPaper is overlap without texts upon pieces, which may be too small for their numbers.
func onPaper(d drawing.Drawing) error {
	var marks []drawing.Mark
	for _, m := range d.Marks {
		if t, ok := m.(drawing.Text); !ok || t.Class != drawing.Dimension || t.Anchor != drawing.Middle {
			marks = append(marks, m)
		}
	}
	d.Marks = marks
	return overlap(d)
}

// manySheets is ten mats of twelve round pieces with four dozen corners each, no two mats alike.
func manySheets() drawing.Cut {
	c := drawing.Cut{Foam: "Mat", Job: cutplan.Job{Sheets: []cutplan.Sheet{{Width: 550, Height: 550}}}}
	for s := range 10 {
		c.Plan.Sheets = append(c.Plan.Sheets, cutplan.Opened{})
		c.Job.Pieces = append(c.Job.Pieces, cutplan.Piece{Label: fmt.Sprint("gem ", s), Shape: geom.Shape{Outer: oval(120, 150)}, Count: 12})
		for i := range 12 {
			c.Plan.Placements = append(c.Plan.Placements, lies(s, i, s, float64(i%4)*125, float64(i/4)*155+float64(s), 0))
		}
	}
	return c
}

func TestCutPlanIsSmall(t *testing.T) {
	if n := len(drawing.SVG(drawing.Overview("Heron kite", manySheets()))); n > 80_000 {
		t.Errorf("an overview of ten mats has %d bytes", n)
	}
}

func TestCutPlanRefuses(t *testing.T) {
	c := laidByHand(t)
	for _, i := range []int{-1, 4} {
		if _, err := c.Sheet(i); fault.KindOf(err) != fault.Invalid {
			t.Errorf("sheet %d: %v", i, err)
		}
	}
	parsed(t, drawing.SVG(drawing.Overview("nothing", drawing.Cut{})))
}

// The PDF: the same bytes each time, a page a drawing, words that can be searched, A4 or the size of the sheet.
func TestPDF(t *testing.T) {
	c := laidByHand(t)
	c.Foam = "Mat ≤ 10 mm 🛡 <&>"
	p := drawing.Print{Title: "Cut plan of Heron kite", Author: "foamwright", Made: time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)}
	pages := []drawing.Drawing{drawing.Overview("Heron kite", c), sheet(t, c, 0), drawing.Face(build(t, kite()), palette())}
	for _, p.True = range []bool{false, true} {
		first, err := drawing.PDF(p, pages...)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := drawing.PDF(p, pages...)
		if !bytes.Equal(first, again) {
			t.Error("two files of the same drawings differ")
		}
		file := filepath.Join(t.TempDir(), "plan.pdf")
		if err := os.WriteFile(file, first, 0o644); err != nil {
			t.Fatal(err)
		}
		about, err := exec.Command("pdfinfo", "-l", "3", file).CombinedOutput()
		if err != nil {
			t.Fatalf("pdfinfo: %v %s", err, about)
		}
		for _, want := range []string{"Pages:           3", "Title:           Cut plan of Heron kite"} {
			if !strings.Contains(string(about), want) {
				t.Errorf("no %q in\n%s", want, about)
			}
		}
		if strings.Contains(string(about), "A4") == p.True {
			t.Errorf("true size %v:\n%s", p.True, about)
		}
		text, err := exec.Command("pdftotext", file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{"Mat ≤ 10 mm □ <&>, sheet 1 of 4", "gem & <stone>", "keep 550 × 179"} {
			if !strings.Contains(string(text), want) {
				t.Errorf("no %q in\n%s", want, text)
			}
		}
	}
	huge := drawing.Drawing{Title: "Hall", Sheet: geom.Rect{Max: geom.Point{X: 6000, Y: 10}}, Text: 1}
	for name, err := range map[string]error{"nothing": second(drawing.PDF(p)), "too long": second(drawing.PDF(p, huge))} {
		if fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func second(_ []byte, err error) error { return err }

func BenchmarkCutPlan(b *testing.B) {
	c := manySheets()
	b.Run("overview", func(b *testing.B) {
		for b.Loop() {
			drawing.SVG(drawing.Overview("", c))
		}
	})
	b.Run("sheet", func(b *testing.B) {
		for b.Loop() {
			drawing.SVG(sheet(b, c, 0))
		}
	})
	b.Run("PDF", func(b *testing.B) {
		d := drawing.Overview("", c)
		for b.Loop() {
			if _, err := drawing.PDF(drawing.Print{}, d); err != nil {
				b.Fatal(err)
			}
		}
	})
}
