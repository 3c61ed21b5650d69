package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// named is a part's name beside an exploded view.
type named struct {
	kind         shield.Kind
	number       int
	name, detail string
	at           geom.Point // what it points to
	pointed      bool
}

// labelHigh is how high a name and what is under it are, in sizes of text.
const labelHigh = 2.8

// backPart stands for what is only carved into the back.
const backPart shield.Kind = "back"

// point lets a name point to the place furthest to the right of those it is given.
func (n *named) point(at geom.Point) {
	if !n.pointed || at.X > n.at.X {
		n.at, n.pointed = at, true
	}
}

// counted is how many of what, and what else there is to say.
func counted(n int, of string, more ...string) string {
	words := fmt.Sprintf("%d × %s", n, short(of, 22))
	for _, m := range more {
		if m != "" {
			words += ", " + m
		}
	}
	return words
}

func layered(n int) string {
	if n > 1 {
		return fmt.Sprintf("%d layers", n)
	}
	return ""
}

func mirrored(n int) string {
	if n > 0 {
		return fmt.Sprintf("%d mirrored", n)
	}
	return ""
}

// inPieces says of how many pieces a part is joined.
func inPieces(n int, what string) string {
	if n > 1 {
		return fmt.Sprintf("%d %ss", n, what)
	}
	return ""
}

// short is a text cut to so many letters.
func short(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return strings.TrimSpace(string(r[:most-1])) + "…"
	}
	return s
}

// number gives every name its number in the order of laying up, layers from the back.
func (e *apart) number() {
	order := []shield.Kind{shield.LayerPart, shield.RimPart, shield.EdgePart, shield.PiecePart, shield.GemPart, backPart, shield.CoverPart, shield.BlockPart}
	var all []*named
	for i := range e.floors {
		f := &e.floors[len(e.floors)-1-i]
		for k := range f.named {
			all = append(all, &f.named[k])
		}
	}
	slices.SortStableFunc(all, func(a, b *named) int { return slices.Index(order, a.kind) - slices.Index(order, b.kind) })
	var words []string
	for i, n := range all {
		n.number = i + 1
		words = append(words, fmt.Sprintf("%d: %s, %s.", n.number, n.name, n.detail))
	}
	e.Words = "Pulled apart, in the order of laying up. " + strings.Join(words, " ")
}

// label writes the names on the right, each beside its part or as near as the others leave room, with a line to it.
func (e *apart) label() {
	var all []named
	for _, f := range e.floors {
		all = append(all, f.named...)
	}
	slices.SortStableFunc(all, func(a, b named) int {
		return cmp.Or(cmp.Compare(a.at.Y, b.at.Y), cmp.Compare(b.at.X, a.at.X))
	})
	heights := make([]float64, len(all))
	for i, n := range all {
		heights[i] = n.at.Y
	}
	spread(heights, labelHigh*e.u)
	x := extent(e.Marks).Max.X + 1.2*e.u
	dots := Dots{Class: Dimension, Diameter: 0.3 * e.u}
	lines, rings := Lines{Class: Dimension, Pen: finePen * e.u}, Lines{Class: Dimension, Pen: tickPen * e.u}
	for i, n := range all {
		y := heights[i]
		dots.At = append(dots.At, n.at)
		lines.Chains = append(lines.Chains, []geom.Point{n.at, {X: x, Y: y}, {X: x + 0.6*e.u, Y: y}})
		rings.Chains = append(rings.Chains, closed(circle(geom.Point{X: x + 1.6*e.u, Y: y}, e.u, 22)))
		e.add(Text{Class: Dimension, At: geom.Point{X: x + 1.6*e.u, Y: y + 0.3*e.u}, Size: 0.85 * e.u, Anchor: Middle, Words: fmt.Sprint(n.number)})
		e.text(Dimension, x+3.1*e.u, y-0.12*e.u, Start, short(n.name, 26))
		e.add(Text{Class: Remark, At: geom.Point{X: x + 3.1*e.u, Y: y + e.u}, Size: 0.84 * e.u, Anchor: Start, Words: n.detail})
	}
	e.add(dots, lines, rings)
}

// circle is a round that turns clockwise on the page.
func circle(at geom.Point, radius float64, sides int) (ring geom.Ring) {
	for i := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
		ring = append(ring, geom.Point{X: at.X + radius*cos, Y: at.Y + radius*sin})
	}
	return ring
}

// spread moves heights that are sorted apart by at least so much, as little as it can: where they crowd they
// share the move.
func spread(heights []float64, least float64) {
	type group struct {
		sum   float64 // of where its members would have its first
		count int
	}
	var groups []group
	for i, h := range heights {
		groups = append(groups, group{h - float64(i)*least, 1})
		for n := len(groups); n > 1 && groups[n-1].sum/float64(groups[n-1].count) < groups[n-2].sum/float64(groups[n-2].count); n = len(groups) {
			groups[n-2].sum += groups[n-1].sum
			groups[n-2].count += groups[n-1].count
			groups = groups[:n-1]
		}
	}
	i := 0
	for _, g := range groups {
		for range g.count {
			heights[i] = g.sum/float64(g.count) + float64(i)*least
			i++
		}
	}
}
