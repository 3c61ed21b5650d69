package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foamwright/materials/geom"
)

// Where a sheet has very many pieces only the first of each kind bears its letter.
const manyPieces = 60

// mostSheets is how many layouts of one foam are drawn on an overview; more would be too small to see anything.
const mostSheets = 12

// Overview draws the sheets of all foams of an order side by side, in one scale: how many are opened, how the pieces
// lie and what is kept. Sheets laid out alike are drawn once. Pieces carry their name where there is room, else a
// letter that the list below explains. Beyond 12 layouts of a foam the rest is told in words.
func Overview(title string, cuts ...Cut) Drawing {
	var blocks []*block
	widest := 0.0
	for _, c := range cuts {
		for _, o := range c.Plan.Sheets {
			widest = math.Max(widest, outlineOf(c.Job.Sheets[o.Sheet]).Outer.Bounds().Width())
		}
	}
	for _, c := range cuts {
		bl := &block{cut: c}
		for i, group := range c.Alike() {
			if i >= mostSheets {
				bl.more += len(group)
				continue
			}
			on := c.bench(group[0], math.Max(shown, widest/1500)) // closer than a pixel
			on.alike = len(group)
			bl.sheets = append(bl.sheets, on)
		}
		if len(bl.sheets) > 0 {
			blocks = append(blocks, bl)
		}
	}
	if len(blocks) == 0 {
		return nothing("plan", "no foam to cut")
	}
	room, u := roomFor(blocks, widest)
	b := newBoard("plan", "Cut plan of "+name(title), overviewWords(cuts), u)
	b.blocks(blocks, room, b.block)
	return b.finish()
}

// block is a foam of the overview with what is drawn of it.
type block struct {
	cut    Cut
	sheets []bench
	more   int   // sheets that are not drawn
	keys   []int // kinds that go by a letter, in the order of their letters
}

// shareOfPlan is the size of text on an overview as a share of its width: smaller than elsewhere, for there is more
// of it; shareOfPlanHeight is that of its height, should that be more.
const shareOfPlan, shareOfPlanHeight = 0.028, 0.021

// roomFor is how wide the rows of an overview are, and the size of its text, for the sheets to be as large as they
// can be where a page gives the drawing about as much height as width.
func roomFor(all []*block, widest float64) (room, u float64) {
	best := math.Inf(1)
	for _, times := range [12]float64{1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12} {
		wide := times * widest
		b, end := board{u: shareOfPlan * wide}, 0.0
		for range 2 {
			b.u = math.Max(b.u, shareOfPlanHeight*end)
			end = b.blocks(all, wide, func(bl *block, _, y, room float64) float64 { return y + bl.height(room, b.u) })
		}
		if side := math.Max(wide, 0.9*end); side < best {
			best, room, u = side, wide, b.u
		}
	}
	return room, u
}

// height is about how high a block becomes.
func (bl *block) height(room, u float64) float64 {
	rows := bl.rows(room, 1.2*u)
	h := 1.3 * u * float64(len(wrapped(name(bl.cut.Foam), u, room))+len(wrapped(bl.cut.Headline(), smallWords*u, room)))
	for _, r := range rows {
		h += 1.2*u + r.high
	}
	return h + 1.3*u*math.Ceil(float64(len(bl.cut.Job.Pieces))*5*u/room)
}

// row is some sheets of a block side by side.
type row struct {
	sheets     []bench
	wide, high float64 // with the words under sheets that stand for several
}

// rows breaks the sheets of a block into rows no wider than the room.
func (bl *block) rows(room, gap float64) (rows []row) {
	for _, on := range bl.sheets {
		w := on.box.Width()
		if n := len(rows); n == 0 || rows[n-1].wide+gap+w > room+1e-6 {
			rows = append(rows, row{wide: -gap})
		}
		r := &rows[len(rows)-1]
		r.sheets, r.wide, r.high = append(r.sheets, on), r.wide+gap+w, math.Max(r.high, on.box.Height())
		if on.alike > 1 {
			r.high = math.Max(r.high, on.box.Height()+0.9*gap)
		}
	}
	return rows
}

// blocks puts the foams side by side in lines as wide as the room, a low one under another where a high one is beside
// it, draws each, and returns where they end.
func (b *board) blocks(all []*block, room float64, draw func(bl *block, x, y, room float64) float64) float64 {
	type column struct{ x, wide, end float64 }
	gap := 1.2 * b.u
	var columns []column
	x, y, low := 0.0, 0.0, 0.0
	for _, bl := range all {
		wide := math.Min(11*b.u, room)
		for _, r := range bl.rows(room, gap) {
			wide = math.Max(wide, r.wide)
		}
		beside := x == 0 || x+wide <= room+1e-6
		under := slices.IndexFunc(columns, func(c column) bool {
			return wide <= c.wide+1e-6 && (!beside && len(columns) > 1 || c.end+2*b.u+bl.height(c.wide, b.u) <= low)
		})
		if under >= 0 {
			c := &columns[under]
			c.end = draw(bl, c.x, c.end+2*b.u, c.wide)
			low = math.Max(low, c.end)
			continue
		}
		if !beside {
			x, y, columns = 0, low+2*b.u, nil
		}
		c := column{x, wide, draw(bl, x, y, wide)}
		columns = append(columns, c)
		low = math.Max(low, c.end)
		x += wide + 2*gap
	}
	return low
}

// block draws one foam from a place on and returns where it ends.
func (b *board) block(bl *block, x, y, room float64) float64 {
	gap, small := 1.2*b.u, smallWords*b.u
	y = b.paragraph(Dimension, x, y, b.u, room, name(bl.cut.Foam))
	y = b.paragraph(Remark, x, y, small, room, bl.cut.Headline()) - 0.5*small
	low, found := y-gap, spots{}
	for _, r := range bl.rows(room, gap) {
		at, top := x, low+gap
		for _, on := range r.sheets {
			on = on.at(geom.Point{X: at, Y: top})
			b.lay(on)
			b.letters(bl, found, on)
			b.sizes(on, smallWords, leastWords)
			if on.alike > 1 {
				b.add(Text{Class: Remark, At: geom.Point{X: (on.box.Min.X + on.box.Max.X) / 2, Y: on.box.Max.Y + b.u}, Size: small, Anchor: Middle, Words: fmt.Sprintf("%d alike", on.alike)})
			}
			at, low = on.box.Max.X+gap, math.Max(low, top+r.high)
		}
	}
	var entries []entry
	for i, kind := range bl.keys {
		entries = append(entries, entry{tintOf(kind), letter(i) + ": " + name(bl.cut.Job.Pieces[kind].Label)})
	}
	for _, on := range bl.sheets {
		if len(on.offcuts) > 0 {
			entries = append(entries, entry{Hatch, "kept"})
			break
		}
	}
	for _, p := range bl.cut.Job.Pieces {
		if p.On != nil {
			entries = append(entries, entry{Seam, "mat’s own edge"})
			break
		}
	}
	if bl.more > 0 {
		low += 1.3 * b.u
		b.add(Text{Class: Remark, At: geom.Point{X: x, Y: low}, Size: small, Anchor: Start, Words: "and " + count(bl.more, "more sheet")})
	}
	if len(entries) == 0 {
		return low
	}
	return b.legend(x, low+1.3*b.u, room, entries) - 1.3*small
}

// letters writes names upon the pieces of a sheet, or letters where names have no room; where a letter has none
// either the tint must do.
func (b *board) letters(bl *block, found spots, on bench) {
	named := map[int]bool{}
	for _, l := range on.pieces {
		if named[l.kind] && len(on.pieces) > manyPieces {
			continue
		}
		named[l.kind] = true
		for _, t := range found.on(l, 0, func() []Text {
			label := name(bl.cut.Job.Pieces[l.kind].Label)
			if texts := b.within(l.shape, wish{label, []float64{0.85, leastWords}}, wish{broken(label), []float64{0.85, leastWords}}); texts != nil {
				return texts
			}
			return b.within(l.shape, wish{bl.key(l.kind), []float64{0.8, 0.65, leastNumber}})
		}) {
			b.add(t)
		}
	}
}

// key is the letter of a kind, the next one for a kind that has none yet.
func (bl *block) key(kind int) string {
	for i, k := range bl.keys {
		if k == kind {
			return letter(i)
		}
	}
	bl.keys = append(bl.keys, kind)
	return letter(len(bl.keys) - 1)
}

// letter is A to Z, then AA.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

// Headline is a foam's plan in a line: "2 sheets of 1000 × 2000, 63 % used, 0.4 m² kept".
func (c Cut) Headline() string {
	type kind struct{ what, size string }
	kinds := map[kind]int{}
	var order []kind
	for _, o := range c.Plan.Sheets {
		s := c.Job.Sheets[o.Sheet]
		k := kind{"sheet", widthByHeight(outlineOf(s).Outer.Bounds())}
		if s.Offcut {
			k.what = "offcut"
		}
		if kinds[k]++; kinds[k] == 1 {
			order = append(order, k)
		}
	}
	sizes := make([]string, len(order))
	for i, k := range order {
		sizes[i] = count(kinds[k], k.what) + " of " + k.size
	}
	pieces, whole := c.Use(-1)
	words := strings.Join(sizes, ", ") + ", " + percent(pieces, whole) + " used"
	kept := 0.0
	for _, o := range c.Plan.Offcuts {
		kept += o.Area
	}
	if kept > 0 {
		words += ", " + squareMetres(kept) + " kept"
	}
	return words
}

// overviewWords says what the overview shows.
func overviewWords(cuts []Cut) string {
	var w []string
	for _, c := range cuts {
		if len(c.Plan.Sheets) > 0 {
			w = append(w, name(c.Foam)+": "+c.Headline()+".")
		}
	}
	return strings.Join(w, " ")
}
