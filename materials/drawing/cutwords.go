package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"foamwright/materials/geom"
)

// longest name that is written upon a piece or beside it, in letters.
const longest = 40

// name of a piece, cut short; one without a name is a piece.
func name(label string) string {
	label = strings.Join(strings.Fields(label), " ")
	if label == "" {
		return "piece"
	}
	if utf8.RuneCountInString(label) > longest {
		return strings.TrimSpace(string([]rune(label)[:longest-1])) + "…"
	}
	return label
}

// wish is words that may be written upon a piece, one line or more, and the sizes they may have as shares of the
// usual one.
type wish struct {
	words string
	sizes []float64
}

// line is the height of one line of words upon a piece, in sizes.
const line = 1.12

// within finds room inside a shape for the first of the wishes that fits, level or read from the right. There may be
// none.
func (b *board) within(s geom.Shape, wishes ...wish) []Text {
	box, area := s.Outer.Bounds(), netOf(s)
	var places []geom.Point
	for _, w := range wishes {
		lines := strings.Split(w.words, "\n")
		for _, size := range w.sizes {
			t := Text{Class: Dimension, Size: size * b.u, Anchor: Middle}
			wide, high := 0.0, line*t.Size*float64(len(lines))
			for _, t.Words = range lines {
				room, _ := t.box()
				wide = math.Max(wide, room.Width()+0.1*t.Size)
			}
			if wide*high > area {
				continue
			}
			for _, t.Turn = range [2]float64{0, -90} {
				if t.Turn != 0 {
					wide, high = high, wide
				}
				if wide > box.Width() || high > box.Height() {
					continue
				}
				if places == nil {
					places = middles(s)
				}
				for _, t.At = range places {
					if holds(s, geom.Rect{Min: geom.Point{X: t.At.X - wide/2, Y: t.At.Y - high/2}, Max: geom.Point{X: t.At.X + wide/2, Y: t.At.Y + high/2}}) {
						return t.stacked(lines)
					}
				}
			}
		}
	}
	return nil
}

// stacked are lines with their middle where the text's is.
func (t Text) stacked(lines []string) (out []Text) {
	for i, words := range lines {
		at := t
		at.Words = words
		off := 0.36*t.Size + line*t.Size*(float64(i)-float64(len(lines)-1)/2)
		if t.Turn == 0 {
			at.At.Y += off
		} else {
			at.At.X += off
		}
		out = append(out, at)
	}
	return out
}

// broken is words in two lines, broken at the space nearest to their middle.
func broken(words string) string {
	best := -1
	for i, r := range words {
		if r == ' ' && (best < 0 || math.Abs(float64(i)-float64(len(words))/2) < math.Abs(float64(best)-float64(len(words))/2)) {
			best = i
		}
	}
	if best < 0 {
		return words
	}
	return strings.TrimSpace(words[:best]) + "\n" + strings.TrimSpace(words[best:])
}

// middles are places inside a shape: the middles of its stretches along some level and upright lines, those nearest
// to the middle of its box first.
func middles(s geom.Shape) []geom.Point {
	const lines = 9
	box := s.Outer.Bounds()
	r := geom.Region{s}
	flipped := r.Transform(geom.MirrorX().Then(geom.Rotate(-90))) // x and y changed for one another
	var out []geom.Point
	for i := range lines {
		share := (float64(i) + 0.5) / lines
		x, y := box.Min.X+share*box.Width(), box.Min.Y+share*box.Height()
		for _, v := range spans(r, x) {
			out = append(out, geom.Point{X: x, Y: (v[0] + v[1]) / 2})
		}
		for _, v := range spans(flipped, y) {
			out = append(out, geom.Point{X: (v[0] + v[1]) / 2, Y: y})
		}
	}
	mid := geom.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}
	slices.SortStableFunc(out, func(p, q geom.Point) int {
		return cmp.Compare(distance(p, mid), distance(q, mid))
	})
	return out
}

// holds tells whether a box whose middle is inside a shape lies all in it: no edge enters it.
func holds(s geom.Shape, box geom.Rect) bool {
	for _, ring := range append([]geom.Ring{s.Outer}, s.Holes...) {
		for i, p := range ring {
			if passes(p, ring[(i+1)%len(ring)], box) {
				return false
			}
		}
	}
	return true
}

// passes tells whether a line has a stretch inside a box (Liang and Barsky's clipping, from memory).
func passes(p, q geom.Point, c geom.Rect) bool {
	if math.Max(p.X, q.X) <= c.Min.X || math.Min(p.X, q.X) >= c.Max.X || math.Max(p.Y, q.Y) <= c.Min.Y || math.Min(p.Y, q.Y) >= c.Max.Y {
		return false
	}
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{{p.X - q.X, p.X - c.Min.X}, {q.X - p.X, c.Max.X - p.X}, {p.Y - q.Y, p.Y - c.Min.Y}, {q.Y - p.Y, c.Max.Y - p.Y}} {
		switch d, far := e[0], e[1]; {
		case d == 0 && far <= 0:
			return false
		case d < 0:
			t0 = math.Max(t0, far/d)
		case d > 0:
			t1 = math.Min(t1, far/d)
		}
	}
	return t1 > t0
}

// wrapped breaks words into lines no wider than the room; a single word that is wider stands alone.
func wrapped(words string, size, room float64) []string {
	var lines []string
	now := ""
	for _, word := range strings.Split(words, " ") { // a space that binds stays
		longer := strings.TrimSpace(now + " " + word)
		if box, _ := (Text{Size: size, Anchor: Start, Words: longer}).box(); now != "" && box.Width() > room {
			lines, longer = append(lines, now), word
		}
		now = longer
	}
	return append(lines, now)
}

// paragraph writes words below one another from a place on and returns where the next would stand.
func (b *board) paragraph(c Class, x, y, size, room float64, words string) float64 {
	for _, words := range wrapped(words, size, room) {
		b.add(Text{Class: c, At: geom.Point{X: x, Y: y}, Size: size, Anchor: Start, Words: words})
		y += 1.3 * size
	}
	return y
}

// spots remembers where words stand on pieces that lie alike, so that each is looked for once.
type spots map[spot][]Text

// spot is a kind as it lies, and how many letters of its words differ from copy to copy.
type spot struct {
	kind, digits int
	turn         float64
	over         bool
}

// on are the words upon a piece, found for a piece like it and moved to this one.
func (m spots) on(l laid, digits int, find func() []Text) []Text {
	k, corner := spot{l.kind, digits, l.turn, l.over}, l.shape.Outer.Bounds().Min
	found, known := m[k]
	if !known {
		for _, t := range find() {
			t.At.X, t.At.Y = t.At.X-corner.X, t.At.Y-corner.Y
			found = append(found, t)
		}
		m[k] = found
	}
	out := make([]Text, len(found))
	for i, t := range found {
		t.At.X, t.At.Y = t.At.X+corner.X, t.At.Y+corner.Y
		out[i] = t
	}
	return out
}
