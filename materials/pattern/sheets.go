package pattern

import (
	"fmt"
	"strings"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// set is all the pages of a set of templates in the making.
type set struct {
	sheet
	*letters
	patterns []Pattern
	large    []*tiling
	upright  bundle // of small templates
	lying    bundle // of small ones that are too wide for upright paper
	where    []string
	pages    []Page
}

// bundle is small templates that share pages.
type bundle struct {
	sheet
	all   []small
	spots []spot
	pages int
}

// Tile lays patterns on pages: an overview first, then those larger than a page tile by tile on paper lying whichever
// way needs fewer pages, then the small ones together. A set that needs too many pages, and a layout that cannot be,
// is a fault.
func Tile(patterns []Pattern, layout Layout) ([]Page, error) {
	s, err := layout.sheet()
	if err != nil {
		return nil, err
	}
	l, err := newLetters()
	if err != nil {
		return nil, err
	}
	t := &set{sheet: s, letters: l, patterns: patterns, where: make([]string, len(patterns))}
	t.upright.sheet, t.lying.sheet = s, s.turned()
	if err := t.sort(); err != nil {
		return nil, err
	}
	for _, g := range t.large {
		t.drawLarge(g)
	}
	t.drawSmall(&t.lying, t.drawSmall(&t.upright, 1))
	pages := append(t.overview(len(t.pages)), t.pages...)
	for i := range pages {
		p := &pages[i]
		sheet := t.sheet
		if p.Width > p.Height {
			sheet = sheet.turned()
		}
		name := ""
		if len(patterns) > 0 {
			name = patterns[0].Set
		}
		p.foot(sheet, l, name, p.Shows, i+1, len(pages))
	}
	return pages, nil
}

// sort tells small templates from those that take more than a page.
func (t *set) sort() error {
	count, row, points := 0, 0, 0
	for i, p := range t.patterns {
		for _, l := range p.Lines {
			points += len(l.Chain)
		}
		if points > mostPoints {
			return fault.New(fault.TooLarge, "The templates have more than %d corners up to %q. Draw it with fewer or smoother lines.", mostPoints, fault.Shorten(p.Name))
		}
		if len(p.Lines) == 0 {
			continue
		}
		if s, ok := smallOf(i, p, t.window(), t.letters); ok {
			t.upright.all = append(t.upright.all, s)
			continue
		}
		if s, ok := smallOf(i, p, t.lying.window(), t.letters); ok {
			t.lying.all = append(t.lying.all, s)
			continue
		}
		a, err := tiled(p, t.sheet)
		if err != nil {
			return err
		}
		b, err := tiled(p, t.turned())
		if err != nil {
			return err
		}
		g := better(a, b)
		g.pattern, g.first = i, row
		row += g.down
		t.large = append(t.large, g)
		if count += g.pages(); count > mostPages {
			return tooMany(p.Name)
		}
	}
	for _, b := range [2]*bundle{&t.upright, &t.lying} {
		b.spots, b.pages = shelved(b.all, b.window())
		if count += b.pages; count > mostPages {
			return tooMany(t.patterns[b.all[0].pattern].Name)
		}
	}
	return nil
}

func (t *set) drawLarge(g *tiling) {
	p := t.patterns[g.pattern]
	var labels []string
	for i, on := range g.printed {
		if row, column := i/g.across, i%g.across; on {
			page := g.draw(p, row, column, t.letters)
			g.mapped(&page, p, row, column)
			t.pages = append(t.pages, page)
			labels = append(labels, page.Label)
		}
	}
	n := len(labels)
	t.where[g.pattern] = "page " + labels[0]
	if n > 1 {
		t.where[g.pattern] = fmt.Sprintf("%d pages, %s to %s", n, labels[0], labels[n-1])
	}
}

// drawSmall draws the pages of a bundle; they are numbered on from first.
func (t *set) drawSmall(b *bundle, first int) int {
	for k := range b.pages {
		page := Page{Width: b.paper.Width, Height: b.paper.Height, Label: fmt.Sprint(first + k), Window: b.window()}
		var names []string
		for _, s := range b.spots {
			if s.page == k {
				s.draw(&page, t.patterns[s.pattern], t.letters)
				names = append(names, t.patterns[s.pattern].Name)
				t.where[s.pattern] = "page " + page.Label
			}
		}
		page.Shows = strings.Join(names, ", ")
		page.mapRow(b.sheet, k, b.pages)
		t.pages = append(t.pages, page)
	}
	return first + b.pages
}

// mapRow is the map of pages that are not joined: a row of them, this one filled.
func (p *Page) mapRow(s sheet, k, n int) {
	room := p.mapRoom(s)
	w, h := cell(room, n, 1, s.paper.Width/s.paper.Height, 9)
	left, top := room.Max.X-w*float64(n), room.Min.Y+(room.Height()-h)/2
	p.fill(170, left+w*float64(k), top, w, h)
	for i := range n {
		x := left + w*float64(i)
		p.box(frame, geom.Rect{Min: geom.Point{X: x, Y: top}, Max: geom.Point{X: x + w, Y: top + h}})
	}
}
