package pattern

import (
	"cmp"
	"math"
	"slices"

	"foamwright/materials/geom"
)

// small is a template that fits one page with others: its box with the caption below it.
type small struct {
	pattern       int
	box           geom.Rect // of the template's lines, padded
	caption       []Text
	width, height float64
}

// gap between small templates, mm.
const gap = 4.0

// smallOf readies a template for a page; false when the page is too small for it. Its name is written into it, or
// where it does not fit there, below it.
func smallOf(i int, p Pattern, win geom.Rect, l *letters) (small, bool) {
	s := small{pattern: i, box: padded(p.Bounds(), aroundPattern)}
	s.width, s.height = s.box.Width(), s.box.Height()
	if s.width > win.Width() || s.height > win.Height() {
		return s, false
	}
	var scratch Page
	scratch.lay(p, s.box, geom.Point{}, l)
	if !scratch.name(p, s.box, geom.Point{}, l) {
		s.caption = captionOf(p, math.Min(math.Max(s.width, 62), win.Width()), l)
	}
	for _, t := range s.caption {
		s.width = math.Max(s.width, l.width(t.Words, t.Size))
		s.height = s.box.Height() + t.At.Y + 1
	}
	return s, s.width <= win.Width() && s.height <= win.Height()
}

// captionOf is a template's name and what is cut of it, centred below each other.
func captionOf(p Pattern, width float64, l *letters) []Text {
	var lines []Text
	put := func(words string, size float64, grey int) {
		for _, line := range l.wrap(words, size, width) {
			lines = append(lines, Text{At: geom.Point{Y: captionLead * (float64(len(lines)) + 0.8)}, Size: size, Anchor: Middle, Grey: grey, Words: line})
		}
	}
	put(p.Name, textSize, 0)
	put(p.Cutting(), fineSize, 70)
	return lines
}

const captionLead = 4.2

// spot is where a small template goes: page from 0, upper left corner from the window's.
type spot struct {
	small
	page int
	x, y float64
}

// shelved packs small templates on shelves, the highest first, each on the first shelf with room.
func shelved(all []small, win geom.Rect) (spots []spot, pages int) {
	slices.SortStableFunc(all, func(a, b small) int { return cmp.Compare(b.height, a.height) })
	type shelf struct {
		page              int
		top, high, filled float64
	}
	var shelves []shelf
	var foot []float64 // of the lowest shelf of each page
	place := func(s small) *shelf {
		for i, f := range shelves {
			if f.filled+s.width <= win.Width()+1e-9 && s.height <= f.high+1e-9 {
				return &shelves[i]
			}
		}
		page := slices.IndexFunc(foot, func(y float64) bool { return y+s.height <= win.Height()+1e-9 })
		if page < 0 {
			page, foot = len(foot), append(foot, 0)
		}
		shelves = append(shelves, shelf{page: page, top: foot[page], high: s.height})
		foot[page] += s.height + gap
		return &shelves[len(shelves)-1]
	}
	for _, s := range all {
		f := place(s)
		spots = append(spots, spot{s, f.page, f.filled, f.top})
		f.filled += s.width + gap
	}
	return spots, len(foot)
}

// draw puts a small template with its name on a page.
func (s spot) draw(page *Page, p Pattern, l *letters) {
	left, top := page.Window.Min.X+s.x, page.Window.Min.Y+s.y
	by := geom.Point{X: left + (s.width-s.box.Width())/2 - s.box.Min.X, Y: top - s.box.Min.Y}
	page.Laid = append(page.Laid, Laid{s.pattern, by})
	page.lay(p, s.box, by, l)
	if len(s.caption) == 0 {
		page.name(Pattern{Name: p.Name, Count: p.Count, Mirrored: p.Mirrored, Foam: p.Foam, Lines: p.Lines}, s.box, by, l)
	}
	for _, t := range s.caption {
		t.At.X += left + s.width/2
		t.At.Y += top + s.box.Height()
		page.Texts = append(page.Texts, t)
	}
}
