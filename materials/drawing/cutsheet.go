package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Sizes of words on a cut plan, as shares of the usual one, and its heaviest pen.
const (
	leastWords  = 0.62 // names upon pieces
	leastNumber = 0.5  // numbers upon pieces; where even that has no room they stand in a disc over the piece
	heavy       = 0.01 // of the mat's own edges, in widths of the mat
	smallWords  = 0.85 // everything beside the sheet but its title
)

// Sheet draws one opened sheet of a plan as it is cut: the pieces in quiet tints by their kind, numbered in the order
// of cutting with their names where there is room, a list of all beside them, holes open, kept offcuts hatched, the
// edges that panels share with their mat heavy. Sheets count from 0; a fault names one that is not opened.
func (c Cut) Sheet(sheet int) (Drawing, error) {
	if sheet < 0 || sheet >= len(c.Plan.Sheets) {
		return Drawing{}, fault.New(fault.Invalid, "The plan opens %s; there is no sheet %d.", count(len(c.Plan.Sheets), "sheet"), sheet+1)
	}
	return c.sheet(sheet), nil
}

// Pages are the drawings to print: the overview where there is more than one layout, then each layout once.
func Pages(title string, cuts ...Cut) (pages []Drawing) {
	for _, c := range cuts {
		for _, group := range c.Alike() {
			pages = append(pages, c.sheet(group[0]))
		}
	}
	if len(pages) > 1 {
		pages = append([]Drawing{Overview(title, cuts...)}, pages...)
	}
	return pages
}

func (c Cut) sheet(sheet int) Drawing {
	on := c.bench(sheet, shown)
	w, h := on.box.Width(), on.box.Height()
	title := name(c.Foam) + ", " + c.SheetTitle(sheet)
	b := newBoard("plan", title, c.sheetWords(on, sheet), math.Max(0.026*w, 0.0175*h))
	b.lay(on)
	b.numbers(on, c)
	b.level(on.box.Min.Y-1.6*b.u, on.box.Min, geom.Point{X: on.box.Max.X, Y: on.box.Min.Y}, mm(w), "")
	b.upright(on.box.Min.X-1.6*b.u, on.box.Min, geom.Point{X: on.box.Min.X, Y: on.box.Max.Y}, mm(h))

	left, small := on.box.Min.X-3*b.u, smallWords*b.u
	x, y, room := on.box.Min.X, on.box.Max.Y+1.8*b.u, w
	foot := y
	if h > 1.25*w { // a tall sheet has room on its right
		x, y, room = on.box.Max.X+1.6*b.u, on.box.Min.Y+b.u, math.Max(0.45*w, 15*b.u)
		foot = math.Max(foot, b.legend(x, y, room, c.list(on))+0.6*b.u)
	} else {
		foot = b.legend(x, y, room, c.list(on)) + 0.6*b.u
	}
	total := x + room - left
	_, where := c.corner(sheet)
	b.paragraph(Remark, left, foot, small, total, orderWords(where))

	pieces, whole := c.Use(sheet)
	head := fmt.Sprintf("%s · %s used · knife gap %s mm, margin %s mm", count(len(on.pieces), "piece"), percent(pieces, whole), mm(c.Job.Spacing), mm(c.Job.Margin))
	lines := wrapped(title, 1.2*b.u, total)
	above := wrapped(head, small, total)
	y = on.box.Min.Y - 3.4*b.u - 1.3*small*float64(len(above)-1)
	b.paragraph(Remark, left, y, small, total, head)
	b.paragraph(Dimension, left, y-1.5*b.u-1.56*b.u*float64(len(lines)-1), 1.2*b.u, total, title)
	return b.finish()
}

// SheetTitle is "sheet 2 of 3", or "sheets 2, 3 of 3, laid out alike"; of an offcut with what is written on it.
func (c Cut) SheetTitle(sheet int) string {
	for _, g := range c.Alike() {
		if len(g) > 1 && slices.Contains(g, sheet) {
			from := make([]int, len(g))
			for i, k := range g {
				from[i] = k + 1
			}
			return fmt.Sprintf("sheets %s of %d, laid out alike", ranges(from), len(c.Plan.Sheets))
		}
	}
	title := fmt.Sprintf("sheet %d of %d", sheet+1, len(c.Plan.Sheets))
	if s := c.Job.Sheets[c.Plan.Sheets[sheet].Sheet]; s.Offcut {
		title += ", the offcut “" + strings.Join(strings.Fields(s.Label), " ") + "”"
	}
	return title
}

// lay puts sheet, pieces, offcuts and heavy edges on the board.
func (b *board) lay(on bench) {
	b.area(Mat, geom.Region{on.mat}, 0, outlinePen)
	var tints [4]geom.Region
	var own [][]geom.Point
	for _, l := range on.pieces {
		tints[l.kind%4] = append(tints[l.kind%4], l.shape)
		if l.seated {
			own = append(own, shared(l.shape.Outer, on.box, 0.03*on.box.Width())...)
		}
	}
	for i, r := range tints {
		b.area(tintOf(i), r, 0, detailPen)
	}
	for _, o := range on.offcuts {
		b.add(Lines{Class: Hatch, Chains: hatched(o, 0.8*b.u), Pen: finePen * b.u},
			Lines{Class: Hatch, Chains: [][]geom.Point{append(o.Outer[:len(o.Outer):len(o.Outer)], o.Outer[0])}, Pen: detailPen * b.u, Dash: []float64{0.5 * b.u, 0.3 * b.u}})
	}
	if len(own) > 0 {
		b.add(Lines{Class: Seam, Chains: own, Pen: math.Max(heavy*on.box.Width(), 0.15*b.u), True: true})
	}
}

// shared are the edges of a ring, but for short ones, that lie on the sides of a box.
func shared(ring geom.Ring, box geom.Rect, least float64) (out [][]geom.Point) {
	const near = 2 * shown
	on := func(a, b, side float64) bool { return math.Abs(a-side) < near && math.Abs(b-side) < near }
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if distance(p, q) < least {
			continue
		}
		if on(p.X, q.X, box.Min.X) || on(p.X, q.X, box.Max.X) || on(p.Y, q.Y, box.Min.Y) || on(p.Y, q.Y, box.Max.Y) {
			out = append(out, []geom.Point{p, q})
		}
	}
	return out
}

// hatched are slanting lines over a shape, so far from each other.
func hatched(s geom.Shape, step float64) (out [][]geom.Point) {
	turned := geom.Region{s}.Transform(geom.Rotate(-45))
	box := turned.Bounds()
	back := geom.Rotate(45)
	for k := math.Ceil(box.Min.X / step); k*step < box.Max.X; k++ {
		for _, v := range spans(turned, k*step) {
			line := geom.Region{{Outer: geom.Ring{{X: k * step, Y: v[0]}, {X: k * step, Y: v[1]}}}}.Transform(back)
			out = append(out, line[0].Outer)
		}
	}
	return out
}

// numbers writes on every piece its place in the order, and its name where there is room.
func (b *board) numbers(on bench, c Cut) {
	found := spots{}
	var discs []laid
	for _, l := range on.pieces {
		number := fmt.Sprint(l.number)
		texts := found.on(l, len(number), func() []Text {
			full := number + " " + name(c.Job.Pieces[l.kind].Label)
			return b.within(l.shape, wish{full, []float64{1, 0.8}}, wish{broken(full), []float64{0.9, leastWords}}, wish{full, []float64{leastWords}}, wish{number, []float64{0.8, 0.65, leastNumber}})
		})
		if len(texts) == 0 {
			discs = append(discs, l)
			continue
		}
		texts[0].Words = number + texts[0].Words[len(number):]
		for _, t := range texts {
			b.add(t)
		}
	}
	b.discs(discs)
	b.sizes(on, 1, 0.8, leastWords)
}

// discs number the pieces that are too small or slender: in a disc over the piece, clear of the other discs where the
// piece is long enough.
func (b *board) discs(pieces []laid) {
	var taken []geom.Rect
	for _, l := range pieces {
		t := Text{Class: Dimension, Size: leastNumber * b.u, Anchor: Middle, Words: fmt.Sprint(l.number)}
		box, _ := t.box()
		half := geom.Point{X: box.Width()/2 + 0.1*t.Size, Y: 0.62 * t.Size}
		var best geom.Rect
		least := math.Inf(1)
		for _, p := range middles(l.shape) {
			room := geom.Rect{Min: geom.Point{X: p.X - half.X, Y: p.Y - half.Y}, Max: geom.Point{X: p.X + half.X, Y: p.Y + half.Y}}
			hidden := 0.0
			for _, r := range taken {
				hidden += math.Max(0, math.Min(r.Max.X, room.Max.X)-math.Max(r.Min.X, room.Min.X)) * math.Max(0, math.Min(r.Max.Y, room.Max.Y)-math.Max(r.Min.Y, room.Min.Y))
			}
			if hidden < least {
				best, least = room, hidden
			}
		}
		taken = append(taken, best)
		b.area(Ground, geom.Region{{Outer: rounded(best)}}, 0, finePen)
		t.At = geom.Point{X: (best.Min.X + best.Max.X) / 2, Y: (best.Min.Y + best.Max.Y) / 2}
		b.add(t.stacked([]string{t.Words})[0])
	}
}

// rounded is a box with half round ends.
func rounded(r geom.Rect) geom.Ring {
	radius := math.Min(r.Width(), r.Height()) / 2
	var out geom.Ring
	for i := range 20 {
		turn := math.Pi * (float64(i%10)/9 - 0.5)
		x := r.Max.X - radius
		if i >= 10 {
			turn += math.Pi
			x = r.Min.X + radius
		}
		sin, cos := math.Sincos(turn)
		out = append(out, geom.Point{X: x + radius*cos, Y: (r.Min.Y+r.Max.Y)/2 + radius*sin})
	}
	return out
}

// sizes writes upon kept offcuts how large they are.
func (b *board) sizes(on bench, shares ...float64) {
	for _, o := range on.offcuts {
		size := widthByHeight(o.Outer.Bounds())
		texts := b.within(o, wish{"keep " + size, shares}, wish{"keep\n" + size, shares}, wish{size, []float64{leastWords, leastNumber}})
		var box geom.Rect
		for i, t := range texts { // where there are none the list has it
			room, _ := t.box()
			box = joined(box, room, i > 0)
		}
		b.area(Mat, geom.Region{{Outer: geom.Ring{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}}}}, 0, 0)
		for _, t := range texts {
			b.add(t)
		}
	}
}

// count is "1 piece", "3 pieces".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// sheetWords says what lies on a sheet.
func (c Cut) sheetWords(on bench, sheet int) string {
	pieces, whole := c.Use(sheet)
	w := []string{fmt.Sprintf("A sheet of %s mm with %s, %s used.", widthByHeight(on.box), count(len(on.pieces), "piece"), percent(pieces, whole))}
	for _, e := range c.list(on) {
		w = append(w, e.words+".")
	}
	return strings.Join(w, " ")
}
