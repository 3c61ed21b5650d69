package drawing

import (
	"fmt"
	"strings"

	"foamwright/materials/geom"
)

// entry is a line of the list beside a plan, with a swatch of what it stands for.
type entry struct {
	class Class
	words string
}

// list are the pieces of a sheet by kind, with their numbers in the order of cutting, and the offcuts to keep.
func (c Cut) list(on bench) []entry {
	type as struct {
		kind int
		over bool
	}
	numbers := map[as][]int{}
	var order []as
	heavy := false
	for _, l := range on.pieces {
		k := as{l.kind, l.over}
		if numbers[k] == nil {
			order = append(order, k)
		}
		numbers[k] = append(numbers[k], l.number)
		heavy = heavy || l.seated
	}
	var out []entry
	for _, k := range order {
		p := c.Job.Pieces[k.kind]
		words := ranges(numbers[k]) + ": " + name(p.Label)
		if size := widthByHeight(p.Shape.Outer.Bounds()); !strings.Contains(words, size) {
			words += ", " + size
		}
		if k.over {
			words += ", face down"
		}
		out = append(out, entry{tintOf(k.kind), words})
	}
	if heavy {
		out = append(out, entry{Seam, "the mat’s own edge, not cut"})
	}
	if kept := keptWords(on.offcuts); kept != "" {
		out = append(out, entry{Hatch, kept})
	}
	return out
}

// keptWords are the sizes of the offcuts to keep; nothing where there are none.
func keptWords(offcuts []geom.Shape) string {
	var sizes []string
	for _, o := range offcuts {
		sizes = append(sizes, widthByHeight(o.Outer.Bounds()))
	}
	if len(sizes) == 0 {
		return ""
	}
	return "keep " + strings.Join(sizes, "; ")
}

// mostRanges is how many stretches of numbers are written out.
const mostRanges = 12

// ranges writes ascending numbers as "1–3, 7"; very scattered ones as "40 from 1 to 97".
func ranges(n []int) string {
	var parts []string
	for i := 0; i < len(n); {
		j := i
		for j+1 < len(n) && n[j+1] == n[j]+1 {
			j++
		}
		switch j - i {
		case 0:
			parts = append(parts, fmt.Sprint(n[i]))
		case 1:
			parts = append(parts, fmt.Sprint(n[i]), fmt.Sprint(n[j]))
		default:
			parts = append(parts, fmt.Sprintf("%d–%d", n[i], n[j]))
		}
		i = j + 1
	}
	if len(parts) > mostRanges {
		return fmt.Sprintf("%d from %d to %d", len(n), n[0], n[len(n)-1])
	}
	return strings.Join(parts, ", ")
}

// legend writes entries from a place on, as many side by side as the room takes, and returns where it ends.
func (b *board) legend(x, y, room float64, entries []entry) float64 {
	size := smallWords * b.u
	at := x
	for _, e := range entries {
		box, _ := Text{Size: size, Anchor: Start, Words: e.words}.box()
		if at > x && at+1.3*size+box.Width() > x+room {
			at, y = x, y+1.45*size
		}
		b.swatch(e.class, at, y, size)
		lines := wrapped(e.words, size, room-1.3*size)
		b.paragraph(Dimension, at+1.3*size, y, size, room-1.3*size, e.words)
		if len(lines) > 1 {
			at, y = x, y+(1.45+1.3*float64(len(lines)-1))*size
			continue
		}
		at += box.Width() + 2.6*size
	}
	if at > x {
		y += 1.45 * size
	}
	return y
}

// swatch is a small square of what a line of the legend stands for.
func (b *board) swatch(c Class, x, y, size float64) {
	square := geom.Shape{Outer: geom.Ring{{X: x, Y: y - 0.74*size}, {X: x + 0.8*size, Y: y - 0.74*size}, {X: x + 0.8*size, Y: y + 0.06*size}, {X: x, Y: y + 0.06*size}}}
	switch c {
	case Hatch:
		b.area(Mat, geom.Region{square}, 0, finePen)
		b.add(Lines{Class: Hatch, Chains: hatched(square, 0.27*size), Pen: finePen * b.u})
	case Seam:
		b.add(Lines{Class: Seam, Chains: [][]geom.Point{{{X: x, Y: y - 0.34*size}, {X: x + 0.8*size, Y: y - 0.34*size}}}, Pen: 0.2 * size, True: true})
	default:
		b.area(c, geom.Region{square}, 0, finePen)
	}
}
