package shield

import (
	"slices"

	"foamwright/materials/geom"
)

// alongside takes what was drawn on the outline as it was written to where it lies on the template, which is wider
// where the outline was drawn as it stands straight across, and starts lower where the outline is that of the finished
// shield. What was drawn in its place, grooves and pieces that have no place of their own, is stretched with the
// outline; pieces and grooves that are put somewhere and gems keep their size, and their middles move.
func (m *making) alongside(moved geom.Matrix) {
	if moved == geom.Translate(0, 0) {
		return
	}
	shift := func(at geom.Point) geom.Point {
		to := moved.Apply(at)
		return geom.Point{X: to.X - at.X, Y: to.Y - at.Y}
	}
	m.Spec.Pieces = slices.Clone(m.Spec.Pieces)
	for i := range m.Spec.Pieces {
		p := &m.Spec.Pieces[i]
		drawn, err := geom.ParsePath(p.D)
		switch {
		case err != nil: // it is said where pieces are made
		case p.At == nil:
			p.D, p.Turn = drawn.Transform(geom.Rotate(p.Turn).Then(moved)).D(), 0
		default:
			by := shift(middle(drawn.Transform(geom.Rotate(p.Turn).Then(geom.Translate(p.At.X, p.At.Y))).Bounds()))
			p.At = &geom.Point{X: p.At.X + by.X, Y: p.At.Y + by.Y}
		}
	}
	m.Spec.Gems = slices.Clone(m.Spec.Gems)
	for i := range m.Spec.Gems {
		g := &m.Spec.Gems[i]
		g.At = slices.Clone(g.At)
		for k, at := range g.At {
			g.At[k] = moved.Apply(at)
		}
	}
	m.Spec.Grooves = slices.Clone(m.Spec.Grooves)
	for i := range m.Spec.Grooves {
		g := &m.Spec.Grooves[i]
		line, err := geom.ParsePath(g.D)
		switch {
		case err != nil || g.D == "":
		case g.At == nil:
			g.D = line.Transform(moved).D()
		default:
			by := shift(middle(line.Transform(geom.Translate(g.At.X, g.At.Y)).Bounds()))
			g.At = &geom.Point{X: g.At.X + by.X, Y: g.At.Y + by.Y}
		}
	}
}

func middle(box geom.Rect) geom.Point {
	return geom.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}
}
