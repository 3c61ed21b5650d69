package pattern

import (
	"math"
	"strings"
	"testing"

	"foamwright/materials/geom"
)

// right is how true to size paper has to be, mm.
const right = 0.2

// The check bar is 100 mm on every page of every paper, as another program draws it.
func TestCheckBarMeasures(t *testing.T) {
	for i, paper := range Papers() {
		patterns := of(t, kite(), Options{})
		if i > 0 {
			patterns = patterns[1:] // one paper with every page of a core is enough
		}
		pages := tile(t, patterns, Layout{Paper: paper.Name})
		for i, pic := range rendered(t, printed(t, pages)) {
			p := pages[i]
			if math.Abs(float64(pic.width)/dots-p.Width) > right || math.Abs(float64(pic.height)/dots-p.Height) > right {
				t.Errorf("%s, page %d is %d × %d pixels, want %v × %v mm", paper.Name, i+1, pic.width, pic.height, p.Width, p.Height)
			}
			top := p.Height - usual - footHeight + 12.5
			first, last := pic.width, 0
			for _, y := range []float64{top + 0.8, top + 2.4} {
				for x := range int(120 * dots) {
					if pic.at(x, int(y*dots)) < 128 {
						first, last = min(first, x), max(last, x+1)
					}
				}
			}
			if got := float64(last-first) / dots; math.Abs(got-100) > right {
				t.Errorf("%s, page %d: the bar measures %.1f mm", paper.Name, i+1, got)
			}
		}
	}
}

// cross is where a registration mark is on a page as drawn: the middles of its most filled column and row near where
// the corner of the window is, in pixels.
func cross(pic picture, near geom.Point) geom.Point {
	const reach = 45
	most := func(filled func(i, k int) byte) float64 {
		var count [2*reach + 1]int
		best := 0
		for i := -reach; i <= reach; i++ {
			for k := -35; k <= 35; k++ {
				if filled(i, k) < 128 {
					count[i+reach]++
				}
			}
			best = max(best, count[i+reach])
		}
		sum, n := 0.0, 0.0
		for i, c := range count {
			if c > best*9/10 {
				sum, n = sum+float64(i-reach)+0.5, n+1
			}
		}
		return sum / n
	}
	x, y := int(near.X*dots), int(near.Y*dots)
	return geom.Point{
		X: float64(x) + most(func(i, k int) byte { return pic.at(x+i, y+k) }),
		Y: float64(y) + most(func(i, k int) byte { return pic.at(x+k, y+i) }),
	}
}

// joined measures an outline over tiles that are laid cross on cross: its extent in mm, without the pen.
func joined(t *testing.T, pages []Page) (width, height float64) {
	t.Helper()
	const half = usual / 2
	pics := rendered(t, printed(t, pages))
	at := map[string]geom.Point{} // of tiles that are laid down: where their corner is, pixels
	index := map[string]int{}
	for i, p := range pages {
		index[p.Label] = i
	}
	corner := func(label string, right, below bool) geom.Point {
		w := pages[index[label]].Window
		near := geom.Point{X: w.Min.X + half, Y: w.Min.Y + half}
		if right {
			near.X = w.Max.X - half
		}
		if below {
			near.Y = w.Max.Y - half
		}
		return cross(pics[index[label]], near)
	}
	box := geom.Rect{Min: geom.Point{X: math.Inf(1), Y: math.Inf(1)}, Max: geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}}
	for i, p := range pages {
		up, left := string(p.Label[0]-1)+p.Label[1:], p.Label[:1]+string(p.Label[1]-1)
		mine := corner(p.Label, false, false)
		var place geom.Point
		if before, ok := at[left]; ok {
			c := corner(left, true, false)
			place = geom.Point{X: before.X + c.X - mine.X, Y: before.Y + c.Y - mine.Y}
		} else if before, ok := at[up]; ok {
			c := corner(up, false, true)
			place = geom.Point{X: before.X + c.X - mine.X, Y: before.Y + c.Y - mine.Y}
		} else if len(at) > 0 {
			t.Fatalf("page %s touches none before it", p.Label)
		}
		at[p.Label] = place
		dark(p, pics[i], func(x, y int) {
			box.Min = geom.Point{X: math.Min(box.Min.X, place.X+float64(x)), Y: math.Min(box.Min.Y, place.Y+float64(y))}
			box.Max = geom.Point{X: math.Max(box.Max.X, place.X+float64(x+1)), Y: math.Max(box.Max.Y, place.Y+float64(y+1))}
		})
	}
	const pen = 0.3
	return box.Width()/dots - pen, box.Height()/dots - pen
}

// dark finds the pixels of outlines and of words, which are inside them: not those of the frame, of crosses and rings.
func dark(p Page, pic picture, found func(x, y int)) {
	w := p.Window
	mid := geom.Point{X: (w.Min.X + w.Max.X) / 2, Y: (w.Min.Y + w.Max.Y) / 2}
	end := func(v, low, high float64) bool { return v < low+usual || v > high-usual }
	for y := int((w.Min.Y + 1) * dots); y < int((w.Max.Y-1)*dots); y++ {
		for x := int((w.Min.X + 1) * dots); x < int((w.Max.X-1)*dots); x++ {
			if pic.at(x, y) >= 128 {
				continue
			}
			a, b := float64(x)/dots, float64(y)/dots
			sideX, sideY := end(a, w.Min.X, w.Max.X), end(b, w.Min.Y, w.Max.Y)
			if sideX && sideY || sideX && math.Abs(b-mid.Y) < 3 || sideY && math.Abs(a-mid.X) < 3 || (sideX || sideY) && dotted(pic, x, y) {
				continue
			}
			found(x, y)
		}
	}
}

// dotted tells whether a pixel is no part of a line of 0.3 mm.
func dotted(pic picture, x, y int) bool {
	n := 0
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			if pic.at(x+dx, y+dy) < 128 {
				n++
			}
		}
	}
	return n < 6
}

// A rectangle and a circle of 400 mm measure right over their tiles.
func TestOutlineMeasuresOverTiles(t *testing.T) {
	for name, d := range map[string]string{
		"rectangle": "M-200 0H200V400H-200Z",
		"circle":    "M0 0A200 200 0 0 1 0 400A200 200 0 0 1 0 0Z",
	} {
		for _, paper := range Papers() {
			pages := tile(t, []Pattern{drawnAs(t, name, d)}, Layout{Paper: paper.Name})[1:]
			if w, h := joined(t, pages); math.Abs(w-400) > right || math.Abs(h-400) > right {
				t.Errorf("%s on %s measures %.2f × %.2f mm", name, paper.Name, w, h)
			} else {
				t.Logf("%s on %s measures %.2f × %.2f mm over %d pages", name, paper.Name, w, h, len(pages))
			}
		}
	}
}

// Every page says what to do, as another program reads it.
func TestSentenceOnEveryPage(t *testing.T) {
	pages := tile(t, of(t, kite(), Options{Rim: true}), Layout{Paper: "letter"})
	texts := strings.Split(poppler(t, printed(t, pages), "pdftotext", "-", "-"), "\f")
	if len(texts) != len(pages)+1 {
		t.Fatalf("%d texts of %d pages", len(texts)-1, len(pages))
	}
	for i, text := range texts[:len(pages)] {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), sentence) {
			t.Errorf("page %d does not say so: %s", i+1, text)
		}
	}
}
