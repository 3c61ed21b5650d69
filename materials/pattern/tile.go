package pattern

import (
	"fmt"
	"math"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// tiling is one template over a grid of windows: row by row from the upper left, each overlapping its neighbours.
type tiling struct {
	sheet
	pattern       int
	down, across  int
	origin        geom.Point // upper left corner of the first window, in the template's mm
	stepX, stepY  float64
	width, height float64 // of a window
	printed       []bool
	first         int // row letter of its first row: those of a set go on from template to template
}

// tiled lays a grid over a template and sees which tiles have to be printed. Where the grid has room to spare it is
// shifted to where the fewest are.
func tiled(p Pattern, s sheet) (*tiling, error) {
	w, box := s.window(), padded(p.Bounds(), aroundPattern)
	t := &tiling{sheet: s, width: w.Width(), height: w.Height(), stepX: w.Width() - s.overlap, stepY: w.Height() - s.overlap}
	count := func(size, step float64) int { return max(1, int(math.Ceil((size-s.overlap)/step-1e-9))) }
	// Before it is counted: a drawing may be a hundred metres wide.
	if across, down := box.Width()/t.stepX, box.Height()/t.stepY; !(across*down <= 10*mostPages && across+down <= 2*mostPages) {
		return nil, tooMany(p.Name)
	}
	t.across, t.down = count(box.Width(), t.stepX), count(box.Height(), t.stepY)
	spareX := float64(t.across)*t.stepX + s.overlap - box.Width()
	spareY := float64(t.down)*t.stepY + s.overlap - box.Height()
	tries := shifts()
	if t.across*t.down > worthShifting {
		tries = tries[:1]
	}
	var best tiling
	for _, y := range tries {
		for _, x := range tries {
			t.origin = geom.Point{X: box.Min.X - x*spareX, Y: box.Min.Y - y*spareY}
			t.see(p)
			if n := t.pages(); best.printed == nil || n < best.pages() {
				best = *t
			}
		}
	}
	return &best, nil
}

// shifts are the shares of the room to spare that are left before a template, the even one first.
func shifts() []float64 { return []float64{0.5, 0.25, 0.75, 0, 1} }

// worthShifting is up to how many tiles a page is likely to be spared by shifting.
const worthShifting = 60

func tooMany(name string) error {
	return fault.New(fault.TooLarge, "The templates need more than %d pages; the largest is %q. Use larger paper, or have it printed in one from its SVG.", mostPages, fault.Shorten(name))
}

func padded(r geom.Rect, by float64) geom.Rect {
	return geom.Rect{Min: geom.Point{X: r.Min.X - by, Y: r.Min.Y - by}, Max: geom.Point{X: r.Max.X + by, Y: r.Max.Y + by}}
}

// window of a tile, in the template's mm.
func (t *tiling) tile(row, column int) geom.Rect {
	at := geom.Point{X: t.origin.X + float64(column)*t.stepX, Y: t.origin.Y + float64(row)*t.stepY}
	return geom.Rect{Min: at, Max: geom.Point{X: at.X + t.width, Y: at.Y + t.height}}
}

func (t *tiling) on(row, column int) bool {
	return row >= 0 && column >= 0 && row < t.down && column < t.across && t.printed[row*t.across+column]
}

// see finds the tiles with lines. One whose lines all lie where a neighbour overlaps it is left out, and that
// neighbour stays.
func (t *tiling) see(p Pattern) {
	n := t.down * t.across
	t.printed = make([]bool, n)
	needed := make([]bool, n)
	t.look(p)
	for i := range n {
		row, column := i/t.across, i%t.across
		if !t.printed[i] || needed[i] {
			continue
		}
		core, beside := t.tile(row, column), [4][2]int{{row - 1, column}, {row + 1, column}, {row, column - 1}, {row, column + 1}}
		for k, edge := range [4]*float64{&core.Min.Y, &core.Max.Y, &core.Min.X, &core.Max.X} {
			if t.on(beside[k][0], beside[k][1]) {
				*edge += t.overlap * [4]float64{1, -1, 1, -1}[k]
			}
		}
		if touched(p, core) {
			continue
		}
		t.printed[i] = false
		for _, b := range beside {
			if t.on(b[0], b[1]) {
				needed[b[0]*t.across+b[1]] = true
			}
		}
	}
}

// look marks every tile that a side of a line enters; most sides are far shorter than a tile.
func (t *tiling) look(p Pattern) {
	span := func(a, b, from, step, size float64, n int) (int, int) {
		low, high := math.Min(a, b)-from, math.Max(a, b)-from
		return max(int(math.Floor((low-size)/step)), 0), min(int(math.Floor(high/step)), n-1)
	}
	side := func(p, q geom.Point) {
		c0, c1 := span(p.X, q.X, t.origin.X, t.stepX, t.width, t.across)
		r0, r1 := span(p.Y, q.Y, t.origin.Y, t.stepY, t.height, t.down)
		for r := r0; r <= r1; r++ {
			for c := c0; c <= c1; c++ {
				if k := r*t.across + c; !t.printed[k] {
					t0, t1 := inside(p, q, t.tile(r, c))
					t.printed[k] = t0 < t1
				}
			}
		}
	}
	for _, l := range p.Lines {
		for i, q := range l.Chain[1:] {
			side(l.Chain[i], q)
		}
	}
}

// touched tells whether a template has a line in a box.
func touched(p Pattern, box geom.Rect) bool {
	for _, l := range p.Lines {
		for i, q := range l.Chain[1:] {
			if t0, t1 := inside(l.Chain[i], q, box); t0 < t1 {
				return true
			}
		}
	}
	return false
}

// pages is how many tiles are printed.
func (t *tiling) pages() int {
	n := 0
	for _, on := range t.printed {
		if on {
			n++
		}
	}
	return n
}

// label is the name of a tile, row letter and column number.
func (t *tiling) label(row, column int) string {
	return fmt.Sprintf("%s%d", letter(t.first+row), column+1)
}

// letter counts A to Z, AA, AB and so on from 0.
func letter(n int) string {
	if n < 26 {
		return string(rune('A' + n))
	}
	return letter(n/26-1) + letter(n%26)
}

// better is the tiling with fewer pages, of equal ones the first.
func better(a, b *tiling) *tiling {
	if a.pages() <= b.pages() {
		return a
	}
	return b
}

// draw is the page of one tile: the lines in its window, what joins it to its neighbours.
func (t *tiling) draw(p Pattern, row, column int, l *letters) Page {
	win, tile := t.window(), t.tile(row, column)
	by := geom.Point{X: win.Min.X - tile.Min.X, Y: win.Min.Y - tile.Min.Y}
	page := Page{Width: t.paper.Width, Height: t.paper.Height, Label: t.label(row, column), Shows: p.Name, Window: win, Laid: []Laid{{t.pattern, by}}}
	page.box(frame, win)
	t.seams(&page, row, column)
	page.lay(p, tile, by, l)
	page.name(p, tile, by, l)
	return page
}

// lay draws what of a template lies in a box of it, each line with its words once.
func (p *Page) lay(from Pattern, box geom.Rect, by geom.Point, l *letters) {
	here := geom.Rect{Min: moved([]geom.Point{box.Min}, by)[0], Max: moved([]geom.Point{box.Max}, by)[0]}
	type said struct {
		class Class
		words string
	}
	longest := map[said][]geom.Point{}
	var order []said
	for _, line := range from.Lines {
		for _, piece := range clip(line.Chain, box) {
			chain := moved(piece.chain, by)
			p.Strokes = append(p.Strokes, Stroke{line.Class, chain, piece.from})
			if what := (said{line.Class, line.Words}); line.Words != "" {
				if before := longest[what]; before == nil {
					order, longest[what] = append(order, what), chain
				} else if length(chain) > length(before) {
					longest[what] = chain
				}
			}
		}
	}
	for _, what := range order {
		p.along(longest[what], what.words, here, l)
	}
}
