package pattern

import (
	"fmt"
	"math"
	"slices"

	"foamwright/materials/geom"
)

// sentence is what every page says below its check bar.
const sentence = "Measure this bar: 100 mm. Print at 100 %, not 'fit to page'."

// Sizes of type, mm.
const (
	fineSize  = 2.5
	textSize  = 3.2
	nameSize  = 3.9
	labelSize = 9.0
	titleSize = 7.0
)

// bar draws the check bar from its upper left corner: two rows of filled centimetres, so that both its ends are edges
// of a filled one and no pen's width adds to it.
func (p *Page) bar(left, top float64) {
	const high = 1.6
	for i := range 10 {
		p.fill(0, left+float64(i)*10, top+high*float64(i%2), 10, high)
	}
}

// foot is what stands below the window of every page: what it is, the check bar, its label and its number.
func (p *Page) foot(s sheet, l *letters, set, what string, number, of int) {
	top, right := p.Height-s.margin-footHeight, p.Width-s.margin
	p.text(s.margin, top+6, nameSize, Start, 0, l.short(what, nameSize, checkBar))
	p.text(s.margin, top+10, fineSize, Start, 70, l.short(set, fineSize, checkBar))
	p.bar(s.margin, top+12.5)
	p.text(s.margin, top+20, fineSize+0.3, Start, 0, sentence)
	x := s.margin + checkBar + 6
	p.text(x, top+12, labelSize, Start, 0, p.Label)
	p.text(x, top+20, fineSize+0.3, Start, 70, l.short(fmt.Sprintf("page %d of %d", number, of), fineSize+0.3, math.Min(right-x, 23)))
}

// mapRoom is the box of the page map, at the foot's right end.
func (p *Page) mapRoom(s sheet) geom.Rect {
	right, top := p.Width-s.margin, p.Height-s.margin-footHeight+3
	left := math.Max(right-46, s.margin+checkBar+30) // clear of the label
	return geom.Rect{Min: geom.Point{X: left, Y: top}, Max: geom.Point{X: right, Y: top + footHeight - 4}}
}

// cell is the size of a cell of a map in a room, never larger than a given one.
func cell(room geom.Rect, across, down int, shape, most float64) (w, h float64) {
	h = math.Min(most, math.Min(room.Height()/float64(down), room.Width()/float64(across)/shape))
	return h * shape, h
}

// mapped draws the page map: every tile of the template, empty ones only dotted, this one filled, and the template
// itself across them.
func (t *tiling) mapped(p *Page, from Pattern, row, column int) {
	room := p.mapRoom(t.sheet)
	w, h := cell(room, t.across, t.down, t.stepX/t.stepY, 9)
	left, top := room.Max.X-w*float64(t.across), room.Min.Y+(room.Height()-h*float64(t.down))/2
	p.fill(170, left+w*float64(column), top+h*float64(row), w, h)
	// So many cells are too small to tell apart, and on every page they would be a million lines: only the template
	// stays, and where on it this page is.
	if len(t.printed) <= mostCells {
		t.grid(p, left, top, w, h)
	}
	p.small(from, t.origin, w/t.stepX, geom.Point{X: left, Y: top})
}

// mostCells is how many cells a page map draws one by one.
const mostCells = 400

// grid draws the cells of the tiles: whole lines round printed ones, dotted round empty ones.
func (t *tiling) grid(p *Page, left, top, w, h float64) {
	for i, on := range t.printed {
		x, y := left+w*float64(i%t.across), top+h*float64(i/t.across)
		c := seam
		if on {
			c = frame
		}
		p.box(c, geom.Rect{Min: geom.Point{X: x, Y: y}, Max: geom.Point{X: x + w, Y: y + h}})
	}
}

// mostSmall is about how many places a line keeps where it is drawn smaller.
const mostSmall = 1000

// small draws a template's cut and fold lines smaller, or all of one that has nothing to cut.
func (p *Page) small(from Pattern, origin geom.Point, scale float64, at geom.Point) {
	cut := slices.ContainsFunc(from.Lines, func(l Line) bool { return l.Class == Cut })
	for _, l := range from.Lines {
		if cut && (l.Class == Trim || l.Class == Mark) {
			continue
		}
		var chain []geom.Point
		for i, q := range l.Chain {
			q = geom.Point{X: at.X + (q.X-origin.X)*scale, Y: at.Y + (q.Y-origin.Y)*scale}
			// Places closer than a tenth of a mm are not told apart here, nor is every one of thousands.
			if n := len(chain); n == 0 || i == len(l.Chain)-1 || i%(1+len(l.Chain)/mostSmall) == 0 && apart(chain[n-1], q) > 0.1 {
				chain = append(chain, q)
			}
		}
		p.stroke(thin, chain...)
	}
}

// seams draws what joins a tile to the next: a cross in each corner's overlap, and on each seam a ring with its
// number. Each is at the same place of the template on all the pages that show it, so they fall on each other. A
// dotted line shows how far the next page reaches.
func (t *tiling) seams(p *Page, row, column int) {
	win, half := p.Window, t.overlap/2
	arm := math.Min(4, half)
	for _, x := range [2]float64{win.Min.X + half, win.Max.X - half} {
		for _, y := range [2]float64{win.Min.Y + half, win.Max.Y - half} {
			p.stroke(register, geom.Point{X: x - arm, Y: y}, geom.Point{X: x + arm, Y: y})
			p.stroke(register, geom.Point{X: x, Y: y - arm}, geom.Point{X: x, Y: y + arm})
		}
	}
	midX, midY := (win.Min.X+win.Max.X)/2, (win.Min.Y+win.Max.Y)/2
	for _, s := range [4]struct {
		row, column, number int
		at                  geom.Point
	}{
		{row, column - 1, t.seam(row, column-1, 0), geom.Point{X: win.Min.X + half, Y: midY}},
		{row, column + 1, t.seam(row, column, 0), geom.Point{X: win.Max.X - half, Y: midY}},
		{row - 1, column, t.seam(row-1, column, 1), geom.Point{X: midX, Y: win.Min.Y + half}},
		{row + 1, column, t.seam(row, column, 1), geom.Point{X: midX, Y: win.Max.Y - half}},
	} {
		if t.on(s.row, s.column) {
			p.ring(s.at, fmt.Sprint(s.number))
		}
	}
	if t.on(row, column+1) {
		p.stroke(seam, geom.Point{X: win.Max.X - t.overlap, Y: win.Min.Y}, geom.Point{X: win.Max.X - t.overlap, Y: win.Max.Y})
	}
	if t.on(row+1, column) {
		p.stroke(seam, geom.Point{X: win.Min.X, Y: win.Max.Y - t.overlap}, geom.Point{X: win.Max.X, Y: win.Max.Y - t.overlap})
	}
}

// seam numbers the seams row by row: to the right (0) or below (1) of a tile.
func (t *tiling) seam(row, column, way int) int {
	n := 0
	for i := range t.printed {
		r, c := i/t.across, i%t.across
		for w, next := range [2][2]int{{r, c + 1}, {r + 1, c}} {
			if t.on(r, c) && t.on(next[0], next[1]) {
				n++
			}
			if r == row && c == column && w == way {
				return n
			}
		}
	}
	return n
}

// ring is a seam's number in a ring.
func (p *Page) ring(at geom.Point, number string) {
	const radius, sides = 2.2, 32
	var round []geom.Point
	for i := range sides + 1 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / sides)
		round = append(round, geom.Point{X: at.X + radius*c, Y: at.Y + radius*s})
	}
	p.stroke(register, round...)
	p.text(at.X, at.Y+0.36*fineSize, fineSize, Middle, 0, number)
}
