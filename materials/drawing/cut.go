package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foamwright/materials/cutplan"
	"foamwright/materials/geom"
)

// Classes of a cut plan. Their colours belong to the page too.
const (
	Mat   Class = "mat"    // the sheet of foam, waste where nothing covers it
	Tint1 Class = "tint-1" // the pieces, neighbours in the job in different tints
	Tint2 Class = "tint-2"
	Tint3 Class = "tint-3"
	Tint4 Class = "tint-4"
	Hatch Class = "hatch" // over offcuts that are kept
	Seam  Class = "seam"  // a panel's edge that is the mat's own and is not cut
)

// Cut is one foam with its job and a plan that cutplan.Verify passes.
type Cut struct {
	Foam string
	Job  cutplan.Job
	Plan cutplan.Plan
}

// shown is how closely outlines of a cut plan are drawn, mm: a sheet is hundreds of times as large.
const shown = 0.5

// laid is a piece as it lies.
type laid struct {
	kind   int // index into Job.Pieces
	turn   float64
	over   bool // face down
	seated bool
	number int // its place in the order of cutting, from 1
	shape  geom.Shape
}

// tintOf is the tint of a kind of piece.
func tintOf(kind int) Class { return [4]Class{Tint1, Tint2, Tint3, Tint4}[kind%4] }

// bench is one opened sheet with what lies on it.
type bench struct {
	alike   int // how many sheets are laid out like this
	mat     geom.Shape
	box     geom.Rect // of the mat
	pieces  []laid    // in the order of cutting
	offcuts []geom.Shape
}

// outlineOf is the outline of a sheet in its own coordinates.
func outlineOf(s cutplan.Sheet) geom.Shape {
	if len(s.Shape.Outer) > 0 {
		return simplified(s.Shape, shown)
	}
	return geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: s.Width, Y: 0}, {X: s.Width, Y: s.Height}, {X: 0, Y: s.Height}}}
}

// simplified is a shape with as few corners as the eye needs.
func simplified(s geom.Shape, tol float64) geom.Shape {
	out := geom.Shape{Outer: thinned(s.Outer, tol, true)}
	for _, h := range s.Holes {
		if h := thinned(h, tol, true); len(h) > 2 {
			out.Holes = append(out.Holes, h)
		}
	}
	if len(out.Outer) < 3 { // less than a line is wide
		out.Outer = s.Outer
	}
	return out
}

// bench lays out one opened sheet, outlines within so many mm of their own.
func (c Cut) bench(sheet int, tol float64) bench {
	kind := c.Plan.Sheets[sheet].Sheet
	b := bench{alike: 1, mat: outlineOf(c.Job.Sheets[kind])}
	b.box = b.mat.Outer.Bounds()
	type key struct {
		kind int
		turn float64
		over bool
	}
	turned := map[key]geom.Shape{}
	for i, at := range c.Order(sheet) {
		p := c.Plan.Placements[at]
		k := key{p.Piece, p.Turn, p.Mirrored}
		shape, known := turned[k]
		if !known {
			shape = simplified(cutplan.Pose{Turn: p.Turn, Mirrored: p.Mirrored}.Apply(c.Job.Pieces[p.Piece].Shape), tol)
			turned[k] = shape
		}
		b.pieces = append(b.pieces, laid{
			kind: p.Piece, turn: p.Turn, over: p.Mirrored, number: i + 1, seated: c.Job.Pieces[p.Piece].On != nil,
			shape: moved(shape, p.At),
		})
	}
	for _, o := range c.Plan.Offcuts {
		if o.Sheet == sheet {
			b.offcuts = append(b.offcuts, o.Shape)
		}
	}
	return b
}

func moved(s geom.Shape, by geom.Point) geom.Shape {
	return geom.Region{s}.Transform(geom.Translate(by.X, by.Y))[0]
}

// at is the bench with the corner of its mat at a place.
func (b bench) at(p geom.Point) bench {
	by := geom.Point{X: p.X - b.box.Min.X, Y: p.Y - b.box.Min.Y}
	out := bench{alike: b.alike, mat: moved(b.mat, by), box: geom.Rect{Min: p, Max: geom.Point{X: b.box.Max.X + by.X, Y: b.box.Max.Y + by.Y}}}
	for _, l := range b.pieces {
		l.shape = moved(l.shape, by)
		out.pieces = append(out.pieces, l)
	}
	for _, o := range b.offcuts {
		out.offcuts = append(out.offcuts, moved(o, by))
	}
	return out
}

// Alike groups the opened sheets that are laid out in one way, which is drawn and explained once; all groups and the
// sheets in each are in the order of the plan.
func (c Cut) Alike() (groups [][]int) {
	type lie struct {
		piece int
		pose  cutplan.Pose
	}
	lies := make([][]lie, len(c.Plan.Sheets))
	for _, p := range c.Plan.Placements { // in the order of the pieces on every sheet
		lies[p.Sheet] = append(lies[p.Sheet], lie{p.Piece, p.Pose})
	}
	for i, l := range lies {
		g := slices.IndexFunc(groups, func(g []int) bool {
			return c.Plan.Sheets[g[0]] == c.Plan.Sheets[i] && slices.Equal(lies[g[0]], l)
		})
		if g < 0 {
			groups = append(groups, []int{i})
		} else {
			groups[g] = append(groups[g], i)
		}
	}
	return groups
}

// netOf is the area of a shape without its holes, mm².
func netOf(s geom.Shape) float64 {
	a := math.Abs(s.Outer.Area())
	for _, h := range s.Holes {
		a -= math.Abs(h.Area())
	}
	return a
}

// Use is what of the opened sheets becomes pieces: the areas of both, mm². A negative sheet means all of them.
func (c Cut) Use(sheet int) (pieces, sheets float64) {
	for i, o := range c.Plan.Sheets {
		if sheet < 0 || i == sheet {
			sheets += netOf(outlineOf(c.Job.Sheets[o.Sheet]))
		}
	}
	area := make(map[int]float64)
	for _, p := range c.Plan.Placements {
		if sheet < 0 || p.Sheet == sheet {
			if _, known := area[p.Piece]; !known {
				area[p.Piece] = netOf(c.Job.Pieces[p.Piece].Shape)
			}
			pieces += area[p.Piece]
		}
	}
	return pieces, sheets
}

// percent is a share without decimals; what is used is never 100 % when there is waste to see.
func percent(part, whole float64) string {
	if whole <= 0 {
		return "0\u00a0%"
	}
	return fmt.Sprintf("%.0f\u00a0%%", math.Floor(100*part/whole+1e-9))
}

// squareMetres of mm², to a hundredth.
func squareMetres(area float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", area/1e6), "0"), ".") + "\u00a0m²"
}

// widthByHeight of a box, to a whole mm.
func widthByHeight(b geom.Rect) string {
	return mm(math.Round(b.Width())) + " × " + mm(math.Round(b.Height()))
}
