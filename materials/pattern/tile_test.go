package pattern

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// anyPattern is a few random chains, open and closed, anywhere near.
func anyPattern(t *rapid.T, name string) Pattern {
	p := Pattern{Set: "Random", Name: name, Count: 1}
	size := rapid.SampledFrom([]float64{20, 150, 400, 900}).Draw(t, "size")
	at := geom.Point{X: rapid.Float64Range(-500, 500).Draw(t, "x"), Y: rapid.Float64Range(-500, 500).Draw(t, "y")}
	place := rapid.Custom(func(t *rapid.T) geom.Point {
		return geom.Point{X: at.X + rapid.Float64Range(0, size).Draw(t, "dx"), Y: at.Y + rapid.Float64Range(0, size).Draw(t, "dy")}
	})
	for range rapid.IntRange(1, 3).Draw(t, "lines") {
		chain := rapid.SliceOfN(place, 2, 9).Draw(t, "chain")
		if rapid.Bool().Draw(t, "closed") {
			chain = append(chain, chain[0])
		}
		p.Lines = append(p.Lines, Line{rapid.SampledFrom([]Class{Cut, Trim, Fold, Mark}).Draw(t, "class"), rapid.SampledFrom([]string{"", "edge"}).Draw(t, "words"), chain})
	}
	return p
}

func anyLayout(t *rapid.T) Layout {
	return Layout{
		Paper:  rapid.SampledFrom([]string{"a4", "A3", "Letter"}).Draw(t, "paper"),
		Margin: rapid.Float64Range(least, mostMargin).Draw(t, "margin"), Overlap: rapid.Float64Range(least, mostOverlap).Draw(t, "overlap"),
	}
}

// shows tells whether a page has a stroke through a place of a template, inside its window.
func (p Page) shows(pattern int, c Class, at geom.Point) bool {
	for _, l := range p.Laid {
		q := geom.Point{X: at.X + l.By.X, Y: at.Y + l.By.Y}
		if l.Pattern != pattern || !meets(padded(geom.Rect{Min: q, Max: q}, 1e-6), p.Window) {
			continue
		}
		for _, s := range p.Strokes {
			for i := 1; s.Class == c && i < len(s.Chain); i++ {
				if beside(q, s.Chain[i-1], s.Chain[i]) < 1e-6 {
					return true
				}
			}
		}
	}
	return false
}

// Every place of every line is drawn on a page, and nothing is drawn outside its window.
func TestEveryPlaceIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var patterns []Pattern
		for i := range rapid.IntRange(1, 4).Draw(t, "patterns") {
			patterns = append(patterns, anyPattern(t, fmt.Sprintf("part %d", i+1)))
		}
		pages, err := Tile(patterns, anyLayout(t))
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range patterns {
			for _, l := range p.Lines {
				for k, q := range l.Chain[1:] {
					for _, share := range []float64{0, 0.013, 0.37, 0.5, 0.81, 1} {
						at := between(l.Chain[k], q, share)
						if !slices.ContainsFunc(pages, func(page Page) bool { return page.shows(i, l.Class, at) }) {
							t.Fatalf("%v of %q is on no page", at, p.Name)
						}
					}
				}
			}
		}
		for _, page := range pages {
			for _, s := range page.Strokes {
				if s.Class == Cut || s.Class == Trim || s.Class == Fold || s.Class == Mark {
					for _, q := range s.Chain {
						if !meets(padded(geom.Rect{Min: q, Max: q}, 1e-6), page.Window) {
							t.Fatalf("%v of page %s is outside its window", q, page.Label)
						}
					}
				}
			}
			paper := geom.Rect{Min: geom.Point{X: 0, Y: 0}, Max: geom.Point{X: page.Width, Y: page.Height}}
			for _, w := range page.Texts {
				if !meets(padded(geom.Rect{Min: w.At, Max: w.At}, 1e-6), paper) {
					t.Fatalf("%q of page %s is off the paper", w.Words, page.Label)
				}
			}
		}
	})
}

// Neighbouring tiles show the same strip of a template, as wide as the overlap.
func TestTilesOverlapExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, layout := anyPattern(t, "part"), anyLayout(t)
		pages, err := Tile([]Pattern{p}, layout)
		if err != nil {
			t.Fatal(err)
		}
		windows := map[string]geom.Rect{}
		for _, page := range pages {
			if len(page.Label) < 2 {
				continue
			}
			by := page.Laid[0].By
			windows[page.Label] = geom.Rect{Min: geom.Point{X: page.Window.Min.X - by.X, Y: page.Window.Min.Y - by.Y}, Max: geom.Point{X: page.Window.Max.X - by.X, Y: page.Window.Max.Y - by.Y}}
		}
		for label, w := range windows {
			var column int
			if _, err := fmt.Sscanf(label[1:], "%d", &column); err != nil {
				t.Fatal(err)
			}
			if next, ok := windows[fmt.Sprintf("%c%d", label[0], column+1)]; ok {
				if math.Abs(w.Max.X-next.Min.X-layout.Overlap) > 1e-9 || math.Abs(w.Min.Y-next.Min.Y) > 1e-9 {
					t.Fatalf("%s ends at %v, the next begins at %v; overlap %v", label, w.Max, next.Min, layout.Overlap)
				}
			}
			if next, ok := windows[fmt.Sprintf("%c%d", label[0]+1, column)]; ok {
				if math.Abs(w.Max.Y-next.Min.Y-layout.Overlap) > 1e-9 || math.Abs(w.Min.X-next.Min.X) > 1e-9 {
					t.Fatalf("%s ends at %v, the next begins at %v; overlap %v", label, w.Max, next.Min, layout.Overlap)
				}
			}
		}
	})
}

// A cross, and a ring with its number, is at the same place of the template on every page that shows it.
func TestMarksFallOnEachOther(t *testing.T) {
	pages := tile(t, []Pattern{drawnAs(t, "board", "M0 0H600V700H0Z")}, Layout{})
	numbers := map[string][]geom.Point{}
	crosses := map[geom.Point]int{}
	rounded := func(p geom.Point, by geom.Point) geom.Point {
		return geom.Point{X: math.Round((p.X - by.X) * 1e6), Y: math.Round((p.Y - by.Y) * 1e6)}
	}
	for _, p := range pages[1:] {
		by := p.Laid[0].By
		for _, w := range p.Texts {
			if w.Size == fineSize && w.Anchor == Middle && strings.Trim(w.Words, "0123456789") == "" {
				numbers[w.Words] = append(numbers[w.Words], rounded(w.At, by))
			}
		}
		for _, s := range p.Strokes {
			if s.Class == register && len(s.Chain) == 2 && s.Chain[0].Y == s.Chain[1].Y {
				crosses[rounded(between(s.Chain[0], s.Chain[1], 0.5), by)]++
			}
		}
	}
	if len(numbers) == 0 {
		t.Fatal("no seam has a number")
	}
	for number, at := range numbers {
		if len(at) != 2 || at[0] != at[1] {
			t.Errorf("seam %s is at %v", number, at)
		}
	}
	shared := 0
	for _, n := range crosses {
		if n > 4 {
			t.Errorf("%d pages show one cross", n)
		}
		if n > 1 {
			shared++
		}
	}
	if shared < 4 {
		t.Errorf("%d crosses are shared", shared)
	}
}

// The middle of a large ring is not printed, and a small template never takes a page of its own.
func TestEmptyTilesAndSharedPages(t *testing.T) {
	ring := drawnAs(t, "ring", "M0 0A1500 1500 0 0 1 0 3000A1500 1500 0 0 1 0 0Z")
	pages := tile(t, []Pattern{ring}, Layout{})
	grid := 17 * 13
	if n := len(pages) - 1; n > grid/2 || n < 9425/277 {
		t.Errorf("3 m round takes %d pages", n)
	}
	var gems []Pattern
	for i := range 12 {
		gems = append(gems, drawnAs(t, fmt.Sprintf("gem %d", i+1), "M0 0A10 10 0 0 1 0 20A10 10 0 0 1 0 0Z"))
	}
	if pages := tile(t, gems, Layout{}); len(pages) != 2 || pages[len(pages)-1].Label != "1" || len(pages[len(pages)-1].Laid) != 12 {
		t.Errorf("twelve gems of 20 mm take %d pages", len(pages))
	}
	// 240 × 150 mm fits paper that lies, and needs no joining.
	if pages := tile(t, []Pattern{drawnAs(t, "plate", "M0 0H240V150H0Z")}, Layout{}); len(pages) != 2 || pages[1].Width < pages[1].Height {
		t.Errorf("a plate takes %d pages", len(pages))
	}
}

func TestLayoutsThatCannotBe(t *testing.T) {
	board := []Pattern{drawnAs(t, "board", "M0 0H600V700H0Z")}
	for field, l := range map[string]Layout{
		"paper": {Paper: "foolscap"}, "overlap": {Overlap: 4.9}, "margin": {Margin: 41}, "overlap ": {Overlap: math.NaN()}, "margin ": {Margin: math.Inf(1)},
	} {
		_, err := Tile(board, l)
		if problems := fault.ProblemsOf(err); len(problems) != 1 || problems[0].Field != strings.TrimSpace(field) {
			t.Errorf("%s: %v", field, err)
		}
	}
	huge := drawnAs(t, "road", "M0 0H100000V90000H0Z")
	if _, err := Tile([]Pattern{huge}, Layout{}); fault.KindOf(err) != fault.TooLarge {
		t.Errorf("a road: %v", err)
	}
	dense := Pattern{Name: "dust", Lines: []Line{{Class: Cut, Chain: make([]geom.Point, mostPoints+1)}}}
	if _, err := Tile([]Pattern{dense}, Layout{}); fault.KindOf(err) != fault.TooLarge {
		t.Errorf("dust: %v", err)
	}
	many := slices.Repeat([]Pattern{drawnAs(t, "board", "M0 0H1800V2700H0Z")}, 20)
	if _, err := Tile(many, Layout{}); fault.KindOf(err) != fault.TooLarge {
		t.Errorf("twenty boards: %v", err)
	}
}

// Equal sets give equal bytes, at any time and beside any other.
func TestSamePagesSameBytes(t *testing.T) {
	first := printed(t, tile(t, of(t, kite(), Options{}), Layout{}))
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 2 {
				if again := printed(t, tile(t, of(t, kite(), Options{}), Layout{})); !bytes.Equal(again, first) {
					t.Error("the document came out otherwise")
				}
			}
		})
	}
	wg.Wait()
	info := strings.Join(strings.Fields(poppler(t, first, "pdfinfo", "-isodates", "-")), " ")
	for _, want := range []string{"Title: Heron kite: templates", "Author: Kestrel Yard Propworks", "CreationDate: 2026-05-11T09:30:00", "ModDate: 2026-05-11T09:30:00", "Creator: foamwright"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not say %q: %s", want, info)
		}
	}
	for _, want := range []string{"/Lang (en)", "/PrintScaling /None"} {
		if !bytes.Contains(first, []byte(want)) {
			t.Errorf("the file has no %s", want)
		}
	}
	for _, doc := range []string{"", "\nxref\n\nstartxref\n/Type /Catalog\n"} {
		if _, err := finish([]byte(doc)); err == nil {
			t.Errorf("%q was finished", doc)
		}
	}
	if _, err := PDF(head, nil); err == nil {
		t.Error("no pages were printed")
	}
}

// BenchmarkKite is the ornate kite from its shield to the finished document.
func BenchmarkKite(b *testing.B) {
	s := build(b, kite())
	b.ReportAllocs()
	for b.Loop() {
		patterns, err := Of(s, Options{})
		if err != nil {
			b.Fatal(err)
		}
		printed(b, tile(b, patterns, Layout{}))
	}
}

// ISO 216, table of trimmed sizes: A3 is 297 × 420 mm, A4 210 × 297 mm. Letter is 8 1/2 × 11 in (ANSI/ASME Y14.1, size A),
// an inch is 25.4 mm.
func TestPapers(t *testing.T) {
	standard := map[string][2]float64{"a4": {210, 297}, "a3": {297, 420}, "letter": {8.5 * 25.4, 11 * 25.4}}
	for _, p := range Papers() {
		want := standard[p.Name]
		delete(standard, p.Name)
		near(t, p.Name+" width", p.Width, want[0], 1e-9)
		near(t, p.Name+" height", p.Height, want[1], 1e-9)
		for _, page := range tile(t, of(t, kite(), Options{}), Layout{Paper: p.Name}) {
			near(t, p.Name+" page", min(page.Width, page.Height), want[0], 1e-9)
			near(t, p.Name+" page", max(page.Width, page.Height), want[1], 1e-9)
		}
	}
	if len(standard) > 0 {
		t.Errorf("no paper for %v", standard)
	}
}
