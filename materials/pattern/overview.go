package pattern

import (
	"fmt"
	"math"

	"foamwright/materials/geom"
)

// Measures of the overview, mm: what stands beside a template's words, and the distance of lines.
const (
	pictureWide  = 50.0
	pictureHigh  = 56.0
	pictureSmall = 18.0
	lead         = 4.4
	betweenBlock = 5.0
)

// overview is the first page of a set, and more where the list is long: every template with its picture, how the
// pages lie, its counts and notes, and how to put pages together.
func (t *set) overview(following int) []Page {
	var pages []Page
	win := t.window()
	y := 0.0
	fresh := func() *Page {
		pages = append(pages, Page{Width: t.paper.Width, Height: t.paper.Height, Window: win, Shows: "Overview"})
		y = win.Min.Y
		return &pages[len(pages)-1]
	}
	p := fresh()
	t.head(p, &y, following)
	for i, from := range t.patterns {
		b := t.block(i, from, win)
		if y+b.height > win.Max.Y && y > win.Min.Y {
			p = fresh()
		}
		b.draw(p, win.Min.X, y)
		y += b.height + betweenBlock
	}
	for i := range pages {
		pages[i].mapRow(t.sheet, i, len(pages))
	}
	return pages
}

// head is the title, how to join pages, and what the lines mean.
func (t *set) head(p *Page, y *float64, following int) {
	win := p.Window
	name := "Templates"
	if len(t.patterns) > 0 && t.patterns[0].Set != "" {
		name = t.patterns[0].Set + ": templates"
	}
	for _, line := range t.wrap(name, titleSize, win.Width()) {
		p.text(win.Min.X, *y+titleSize, titleSize, Start, 0, line)
		*y += titleSize + 1.5
	}
	*y += 1.5
	pages := "1 page follows."
	if following != 1 {
		pages = fmt.Sprintf("%d pages follow.", following)
	}
	say := func(words string) {
		for _, line := range t.wrap(words, textSize, win.Width()) {
			*y += lead
			p.text(win.Min.X, *y, textSize, Start, 40, line)
		}
	}
	say(pages + " Print at 100 % and measure the bar at the foot of a page before you cut anything.")
	if len(t.large) > 0 {
		say(fmt.Sprintf("To join pages, cut off the left and the upper margin along the thin frame wherever another page comes before, and lay each page over the one before by %s mm: cross on cross, and the ringed numbers of a seam on each other. Dotted lines show how far the next page reaches. A page of the map without a frame has nothing on it and is not printed.", mm(t.overlap)))
	}
	*y += 7
	x := win.Min.X
	for _, k := range []struct {
		class Class
		words string
	}{{Cut, "finished edge"}, {Trim, "cut here, level later"}, {Fold, "turn over here"}, {Mark, "only marked"}} {
		wide := 24 + t.width(k.words, fineSize+0.3)
		if x+wide > win.Max.X && x > win.Min.X {
			x, *y = win.Min.X, *y+lead
		}
		p.stroke(k.class, geom.Point{X: x, Y: *y - 1}, geom.Point{X: x + 18, Y: *y - 1})
		p.text(x+20, *y, fineSize+0.3, Start, 40, k.words)
		x += wide
	}
	*y += 9
}

// block is one template of the overview: a picture and words beside it.
type block struct {
	lines  []Text // from the block's upper left corner
	height float64
	draw   func(p *Page, x, y float64)
}

func (t *set) block(i int, from Pattern, win geom.Rect) block {
	pictureHeight, picture := t.picture(i, from)
	var lines []Text
	left, y := pictureWide+6, 0.0
	put := func(words string, size float64, grey int) {
		for _, line := range t.wrap(words, size, win.Width()-left) {
			y += lead
			lines = append(lines, Text{At: geom.Point{X: left, Y: y}, Size: size, Grey: grey, Words: line})
		}
	}
	put(from.Name, nameSize, 0)
	put(from.Cutting(), textSize, 0)
	if len(from.Lines) > 0 {
		put(from.Size()+", "+t.where[i], textSize, 70)
	}
	for _, n := range from.Notes {
		put(n, textSize, 70)
	}
	return block{lines, math.Max(y, pictureHeight), func(p *Page, x, y float64) {
		picture(p, x, y)
		for _, l := range lines {
			l.At.X, l.At.Y = l.At.X+x, l.At.Y+y
			p.Texts = append(p.Texts, l)
		}
	}}
}

// picture is a template made small: over the grid of its tiles with their labels where it takes more than a page.
func (t *set) picture(i int, from Pattern) (height float64, draw func(p *Page, x, y float64)) {
	for _, g := range t.large {
		if g.pattern != i {
			continue
		}
		room := geom.Rect{Max: geom.Point{X: pictureWide, Y: pictureHigh}}
		w, h := cell(room, g.across, g.down, g.stepX/g.stepY, 30)
		return h*float64(g.down) + 1, func(p *Page, x, y float64) {
			x += (pictureWide - w*float64(g.across)) / 2
			g.grid(p, x, y, w, h)
			size := math.Min(3, w/3)
			for k, on := range g.printed {
				if row, column := k/g.across, k%g.across; on {
					p.text(x+w*(float64(column)+0.5), y+h*(float64(row)+0.5)+0.36*size, size, Middle, 110, g.label(row, column))
				}
			}
			p.small(from, g.origin, w/g.stepX, geom.Point{X: x, Y: y})
		}
	}
	if len(from.Lines) == 0 {
		return 0, func(*Page, float64, float64) {}
	}
	box := from.Bounds()
	scale := math.Min(pictureWide*0.8/math.Max(box.Width(), 1e-9), pictureSmall/math.Max(box.Height(), 1e-9))
	scale = math.Min(scale, 0.5)
	return box.Height()*scale + 1, func(p *Page, x, y float64) {
		p.small(from, box.Min, scale, geom.Point{X: x + (pictureWide-box.Width()*scale)/2, Y: y + 0.5})
	}
}
