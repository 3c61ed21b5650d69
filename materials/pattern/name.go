package pattern

import (
	"cmp"
	"math"
	"slices"

	"foamwright/materials/geom"
)

// name writes a template's name and what is cut of it where both stay on the template once it is cut out: inside its
// edge, clear of every line and word, as near the middle of what a box shows of it as can be. On a page of its own it
// says whose it is too, where there is room. False when there is no such place.
func (p *Page) name(from Pattern, box geom.Rect, by geom.Point, l *letters) bool {
	words := captionOf(from, 90, l)
	if p.Label == "" || from.Set == "" {
		return p.inside(from, words, box, by, l)
	}
	at := words[len(words)-1].At
	whose := Text{At: geom.Point{Y: at.Y + captionLead}, Size: fineSize, Anchor: Middle, Grey: 70, Words: l.short(from.Set, fineSize, 90)}
	return p.inside(from, append(words, whose), box, by, l) || p.inside(from, words, box, by, l)
}

// inside writes lines of words into a template.
func (p *Page) inside(from Pattern, words []Text, box geom.Rect, by geom.Point, l *letters) bool {
	const clearance, tries = 2.0, 14
	shown := from.Bounds()
	shown = geom.Rect{
		Min: geom.Point{X: math.Max(shown.Min.X, box.Min.X), Y: math.Max(shown.Min.Y, box.Min.Y)},
		Max: geom.Point{X: math.Min(shown.Max.X, box.Max.X), Y: math.Min(shown.Max.Y, box.Max.Y)},
	}
	wide, high := 0.0, 0.0
	for _, t := range words {
		wide, high = math.Max(wide, l.width(t.Words, t.Size)), t.At.Y+1
	}
	wide, high = wide+2*clearance, high+2*clearance
	if wide > shown.Width() || high > shown.Height() {
		return false
	}
	var places []geom.Point
	middle := geom.Point{X: (shown.Min.X + shown.Max.X) / 2, Y: (shown.Min.Y + shown.Max.Y) / 2}
	for i := range tries + 1 {
		for k := range tries + 1 {
			places = append(places, geom.Point{
				X: shown.Min.X + wide/2 + (shown.Width()-wide)*float64(i)/tries,
				Y: shown.Min.Y + high/2 + (shown.Height()-high)*float64(k)/tries,
			})
		}
	}
	// Above or below the middle looks better than beside it.
	far := func(p geom.Point) float64 { return math.Hypot(2*(p.X-middle.X), p.Y-middle.Y) }
	slices.SortStableFunc(places, func(a, b geom.Point) int { return cmp.Compare(far(a), far(b)) })
	free := freeIn(from, shown)
	for _, at := range places {
		room := geom.Rect{Min: geom.Point{X: at.X - wide/2, Y: at.Y - high/2}, Max: geom.Point{X: at.X + wide/2, Y: at.Y + high/2}}
		here := geom.Rect{Min: moved([]geom.Point{room.Min}, by)[0], Max: moved([]geom.Point{room.Max}, by)[0]}
		taken := func(t Text) bool { return meets(here, l.extent(t)) }
		if !free.all(room) || slices.ContainsFunc(p.Texts, taken) || !from.holds(at) {
			continue
		}
		for _, t := range words {
			t.At.X += at.X + by.X
			t.At.Y += room.Min.Y + clearance + by.Y
			p.Texts = append(p.Texts, t)
		}
		return true
	}
	return false
}

// squares are the small squares of a box that no line passes through.
type squares struct {
	box    geom.Rect
	across int
	taken  []bool
}

// square is their side, mm.
const square = 1.5

func freeIn(p Pattern, box geom.Rect) squares {
	s := squares{box: box, across: int(box.Width()/square) + 1}
	s.taken = make([]bool, s.across*(int(box.Height()/square)+1))
	for _, l := range p.Lines {
		for i, q := range l.Chain[1:] {
			p := l.Chain[i]
			t0, t1 := inside(p, q, box)
			if t0 > t1 {
				continue
			}
			// Half a square a step: what it cuts off a corner is less than the words' clearance.
			p, q = between(p, q, t0), between(p, q, t1)
			steps := int(apart(p, q)/(square/2)) + 1
			for k := range steps + 1 {
				at := between(p, q, float64(k)/float64(steps))
				s.taken[int((at.Y-box.Min.Y)/square)*s.across+int((at.X-box.Min.X)/square)] = true
			}
		}
	}
	return s
}

// all tells whether every square of a room in the box is free.
func (s squares) all(room geom.Rect) bool {
	for y := int((room.Min.Y - s.box.Min.Y) / square); y <= int((room.Max.Y-s.box.Min.Y)/square); y++ {
		for x := int((room.Min.X - s.box.Min.X) / square); x <= int((room.Max.X-s.box.Min.X)/square); x++ {
			if k := y*s.across + x; x >= s.across || k >= len(s.taken) || s.taken[k] {
				return false
			}
		}
	}
	return true
}

// holds tells whether a place is inside a template's edge; what is open, as a half is along its centre line, counts as
// closed by a straight line.
func (p Pattern) holds(at geom.Point) bool {
	in := false
	for _, l := range p.Lines {
		if l.Class != Cut {
			continue
		}
		a := l.Chain[len(l.Chain)-1]
		for _, b := range l.Chain {
			if (a.Y > at.Y) != (b.Y > at.Y) && at.X < a.X+(b.X-a.X)*(at.Y-a.Y)/(b.Y-a.Y) {
				in = !in
			}
			a = b
		}
	}
	return in
}
