package drawing

import (
	"math"

	"foamwright/materials/geom"
)

// level draws a dimension line at height y, measuring across from one place to another, with words above it and
// quieter ones below it. Words wider than the line all stand above it, clear of its ends.
func (b *board) level(y float64, from, to geom.Point, above, below string) {
	b.measured(geom.Point{X: from.X, Y: y}, geom.Point{X: to.X, Y: y}, from, to)
	x := (from.X + to.X) / 2
	words := []Text{{Class: Dimension, Words: above}, {Class: Remark, Words: below}}
	heights := [2]float64{y - 0.36*b.u, y + 1.06*b.u}
	for i := range words {
		words[i].Size, words[i].Anchor = b.u, Middle
		if box, any := words[i].box(); any && box.Width() > to.X-from.X-b.u {
			heights = [2]float64{y - 0.85*b.u, y - 0.85*b.u}
			if below != "" {
				heights[0] -= 1.25 * b.u
			}
		}
	}
	for i, t := range words {
		if t.Words != "" {
			b.text(t.Class, x, heights[i], Middle, t.Words)
		}
	}
}

// upright draws a dimension line at x, measuring down, with words read from the right on its left. Words longer
// than the line stand level on its right, or, where what is measured is on the right, clear of its ends.
func (b *board) upright(x float64, from, to geom.Point, words string) {
	b.measured(geom.Point{X: x, Y: from.Y}, geom.Point{X: x, Y: to.Y}, from, to)
	t := Text{Class: Dimension, At: geom.Point{X: x - 0.36*b.u, Y: (from.Y + to.Y) / 2}, Size: b.u, Turn: -90, Anchor: Middle, Words: words}
	if box, _ := t.box(); box.Height() > to.Y-from.Y-b.u {
		if x > from.X {
			b.text(Dimension, x+0.7*b.u, t.At.Y+0.34*b.u, Start, words)
			return
		}
		t.At.X = x - 0.85*b.u
	}
	b.add(t)
}

// measured draws a dimension line from p to q with a slanted tick at either end, and thin lines to it from the
// places measured, which start a little off the work and end a little past the line.
func (b *board) measured(p, q, from, to geom.Point) {
	chains := [][]geom.Point{{p, q}}
	for _, e := range [2][2]geom.Point{{from, p}, {to, q}} {
		if d := distance(e[0], e[1]); d > 0.5*b.u {
			chains = append(chains, []geom.Point{toward(e[0], e[1], 0.4*b.u), toward(e[1], e[0], -0.4*b.u)})
		}
	}
	b.add(Lines{Class: Dimension, Chains: chains, Pen: finePen * b.u})
	slant := math.Min(0.27*b.u, 0.3*distance(p, q))
	b.add(Lines{Class: Dimension, Pen: tickPen * b.u, Chains: [][]geom.Point{
		{{X: p.X - slant, Y: p.Y + slant}, {X: p.X + slant, Y: p.Y - slant}},
		{{X: q.X - slant, Y: q.Y + slant}, {X: q.X + slant, Y: q.Y - slant}},
	}})
}

// leader draws a dot upon bare foam, a line out over the work's edge to a place, and words there: centred over a
// line from below, else to the left of it.
func (b *board) leader(dot, edge, out geom.Point, words string) {
	b.add(Dots{Class: Guide, At: []geom.Point{dot}, Diameter: 0.26 * b.u, Fill: upon(foam)})
	if distance(dot, edge) > 0 {
		b.add(Lines{Class: Guide, Chains: [][]geom.Point{{dot, edge}}, Colour: upon(foam), Pen: finePen * b.u})
	}
	b.line(Dimension, finePen, edge, out)
	b.add(b.led(dot, out, words))
}

// steep is how much of its height a leader may lean for its words to stand over its end, not before it.
const steep = 0.25

// led are the words at the end of a leader.
func (b *board) led(dot, out geom.Point, words string) Text {
	t := Text{Class: Dimension, At: geom.Point{X: out.X - 0.3*b.u, Y: out.Y + 0.34*b.u}, Size: b.u, Anchor: End, Words: words}
	if math.Abs(out.X-dot.X) < steep*math.Abs(out.Y-dot.Y) {
		t.At, t.Anchor = geom.Point{X: out.X, Y: out.Y - 0.3*b.u}, Middle
	}
	return t
}

// across measures a band of a width along an edge: a guide with ticks drawn upon it, in what can be seen there,
// and from it a line out to the words. It stands where nothing else is measured, low on the left, and clear of the
// raised parts it is given.
func (b *board) across(edge geom.Ring, width float64, on Colour, words string, raised []geom.Rect) {
	at, out := b.lowLeft(edge, raised)
	in := geom.Point{X: at.X - out.X*width, Y: at.Y - out.Y*width}
	tick := func(p geom.Point) []geom.Point {
		return []geom.Point{{X: p.X - out.Y*0.35*b.u, Y: p.Y + out.X*0.35*b.u}, {X: p.X + out.Y*0.35*b.u, Y: p.Y - out.X*0.35*b.u}}
	}
	b.add(Lines{Class: Guide, Chains: [][]geom.Point{{in, at}, tick(in)}, Colour: upon(on), Pen: detailPen * b.u})
	far := b.off(at, out)
	b.line(Dimension, finePen, at, far, geom.Point{X: far.X - 0.7*b.u, Y: far.Y})
	b.add(Lines{Class: Dimension, Chains: [][]geom.Point{tick(at)}, Pen: tickPen * b.u})
	b.text(Dimension, far.X-0.95*b.u, far.Y+0.34*b.u, End, words)
}

// off is where a line out to words turns level.
func (b *board) off(at, out geom.Point) geom.Point {
	return geom.Point{X: at.X + out.X*2*b.u, Y: at.Y + out.Y*2*b.u}
}

// lowLeft is a place on a ring low down on its left, clear of corners and of raised parts, and the way out from it.
func (b *board) lowLeft(ring geom.Ring, raised []geom.Rect) (at, out geom.Point) {
	box := ring.Bounds()
	goal := geom.Point{X: box.Min.X + 0.14*box.Width(), Y: box.Max.Y - 0.06*box.Height()}
	clear := 1.5 * b.u
	walk := newWalk(ring)
	best := math.Inf(1)
	const tries = 240
	for i := range tries {
		d := walk.length * float64(i) / tries
		p, before, after := walk.at(d), walk.at(d-clear), walk.at(d+clear)
		was, will := math.Atan2(p.Y-before.Y, p.X-before.X), math.Atan2(after.Y-p.Y, after.X-p.X)
		along := distance(before, after)
		// Outer rings run clockwise on the page, so out is to the left of the way.
		way := geom.Point{X: (after.Y - before.Y) / along, Y: -(after.X - before.X) / along}
		cost := distance(p, goal)
		if math.Abs(math.Remainder(will-was, 2*math.Pi)) > math.Pi/6 {
			cost += box.Width() + box.Height()
		}
		far := b.off(p, way)
		for _, r := range raised {
			// The line and the room of its words, six sizes long.
			if meets(r, geom.Rect{Min: geom.Point{X: far.X - 6*b.u, Y: far.Y - b.u}, Max: geom.Point{X: math.Max(far.X, p.X), Y: far.Y + b.u}}) {
				cost += box.Width() + box.Height()
			}
		}
		if cost < best {
			best, at, out = cost, p, way
		}
	}
	return at, out
}

func meets(a, b geom.Rect) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

func distance(p, q geom.Point) float64 { return math.Hypot(q.X-p.X, q.Y-p.Y) }

// toward is the place so many mm from p on the way to q.
func toward(p, q geom.Point, by float64) geom.Point {
	d := distance(p, q)
	return geom.Point{X: p.X + (q.X-p.X)*by/d, Y: p.Y + (q.Y-p.Y)*by/d}
}
