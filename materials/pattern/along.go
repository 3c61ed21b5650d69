package pattern

import (
	"math"

	"foamwright/materials/geom"
)

// alongSize is the size of the words on a line, mm; they stand off it by a third of that.
const alongSize = 2.5

// along writes words beside a chain where it is straightest, to be read from below or from the right, inside a box
// and clear of the words already there; nowhere when there is no such place.
func (p *Page) along(chain []geom.Point, words string, box geom.Rect, l *letters) {
	width, long := l.width(words, alongSize), length(chain)
	if long < width+4 {
		return
	}
	const tries = 24
	best, found := Text{}, false
	bend := 0.35 * alongSize // more than this off the line is no straight place
	for k := range tries + 1 {
		// From the middle outwards, so that of equally straight places the middle wins.
		share := 0.5 + float64((k+1)/2)*float64(1-2*(k%2))/(tries+2)
		at := share * long
		if at < width/2+2 || at > long-width/2-2 {
			continue
		}
		a, b, off := chord(chain, at-width/2, at+width/2)
		if math.Abs(apart(a, b)-width) > 0.1*width || off >= bend-1e-6 {
			continue
		}
		if t := beneath(a, b, off, words); l.clear(t, box, p.Texts) {
			best, bend, found = t, off, true
		}
	}
	if found {
		p.Texts = append(p.Texts, best)
	}
}

// chord is the places at two lengths along a chain and how far the chain strays from between them.
func chord(chain []geom.Point, from, to float64) (a, b geom.Point, off float64) {
	var passed []geom.Point
	at := 0.0
	for i, q := range chain[1:] {
		p := chain[i]
		long := apart(p, q)
		if at <= from && from <= at+long {
			a = between(p, q, (from-at)/math.Max(long, 1e-12))
		}
		if at > from && at < to {
			passed = append(passed, p)
		}
		if at <= to && to <= at+long {
			b = between(p, q, (to-at)/math.Max(long, 1e-12))
			break
		}
		at += long
	}
	for _, p := range passed {
		off = math.Max(off, beside(p, a, b))
	}
	return a, b, off
}

// beneath puts words above the line from a to b as they are read.
func beneath(a, b geom.Point, off float64, words string) Text {
	turn := math.Atan2(b.Y-a.Y, b.X-a.X)
	if turn > math.Pi/2-1e-9 || turn < -math.Pi/2-1e-9 {
		turn += math.Pi
	}
	s, c := math.Sincos(turn)
	gap := alongSize/3 + off
	return Text{
		At:   geom.Point{X: (a.X+b.X)/2 + s*gap, Y: (a.Y+b.Y)/2 - c*gap},
		Size: alongSize, Turn: turn * 180 / math.Pi, Anchor: Middle, Grey: 70, Words: words,
	}
}

// extent is the box around a text as it lies.
func (l *letters) extent(t Text) geom.Rect {
	w := l.width(t.Words, t.Size)
	left := -w * float64(t.Anchor) / 2
	s, c := math.Sincos(t.Turn * math.Pi / 180)
	var corners geom.Ring
	for _, x := range [2]float64{left, left + w} {
		for _, y := range [2]float64{-0.75 * t.Size, 0.25 * t.Size} {
			corners = append(corners, geom.Point{X: t.At.X + c*x - s*y, Y: t.At.Y + s*x + c*y})
		}
	}
	return corners.Bounds()
}

// clear tells whether a text lies in a box and on no other.
func (l *letters) clear(t Text, box geom.Rect, others []Text) bool {
	b := l.extent(t)
	if b.Min.X < box.Min.X || b.Min.Y < box.Min.Y || b.Max.X > box.Max.X || b.Max.Y > box.Max.Y {
		return false
	}
	for _, o := range others {
		if meets(b, l.extent(o)) {
			return false
		}
	}
	return true
}

func meets(a, b geom.Rect) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}
