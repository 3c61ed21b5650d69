package cutplan

import (
	"cmp"
	"slices"

	"foamwright/materials/geom"
)

// layout is a sequence laid out.
type layout struct {
	sequence sequence
	boards   []*board
	score    Score
	offcuts  []Offcut
}

// judge finds the remnants and the score of a finished layout.
func (d *decoder) judge(f *field, l *layout) {
	opened := make([]Opened, len(l.boards))
	boxes := make([][]geom.Rect, len(l.boards))
	for i, b := range l.boards {
		opened[i].Sheet = b.kind
		for _, it := range b.items {
			boxes[i] = append(boxes[i], f.real(geom.Rect{
				Min: geom.Point{X: it.x + it.form.box.Min.X, Y: it.y + it.form.box.Min.Y},
				Max: geom.Point{X: it.x + it.form.box.Max.X, Y: it.y + it.form.box.Max.Y},
			}))
		}
	}
	l.offcuts, l.score.Left = d.job.remnants(d.upright, opened, boxes)
	l.score.Around = d.job.around(d.upright, opened, boxes)
	l.score.Cost = d.job.cost(d.upright, opened, l.offcuts)
}

// plan is the layout as the caller sees it, its placements in the order of the job's pieces.
func (d *decoder) plan(l *layout) Plan {
	p := Plan{Offcuts: l.offcuts, Evaluations: d.slider.evals}
	f := d.field(l.sequence.swapped)
	for i, b := range l.boards {
		p.Sheets = append(p.Sheets, Opened{Sheet: b.kind})
		for _, it := range b.items {
			pose := it.form.pose
			pose.At = f.at(geom.Point{X: it.x, Y: it.y})
			p.Placements = append(p.Placements, Placement{Piece: it.form.piece, Copy: it.copy, Sheet: i, Pose: pose})
		}
	}
	slices.SortStableFunc(p.Placements, func(a, b Placement) int {
		return cmp.Or(cmp.Compare(a.Piece, b.Piece), cmp.Compare(a.Copy, b.Copy))
	})
	return p
}
