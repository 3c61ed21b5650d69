package cutplan

import (
	"slices"

	"foamwright/materials/geom"
)

// alike tells for every piece which is the first that is cut and may lie as it does, perhaps itself: what is found
// out for one holds for all of them. Panels are alike to none.
func (j Job) alike() []int {
	out := make([]int, len(j.Pieces))
	for i, p := range j.Pieces {
		out[i] = i
		for k, q := range j.Pieces[:i] {
			if out[k] == k && p.On == nil && q.On == nil && p.Mirror == q.Mirror && (p.Turns == nil) == (q.Turns == nil) && slices.Equal(p.Turns, q.Turns) && same(p.Shape, q.Shape) {
				out[i] = k
				break
			}
		}
	}
	return out
}

func same(a, b geom.Shape) bool {
	return slices.Equal(a.Outer, b.Outer) && slices.EqualFunc(a.Holes, b.Holes, slices.Equal[geom.Ring])
}

// copied are the forms of one piece as those of another alike to it.
func copied(forms []*form, piece int) []*form {
	out := make([]*form, len(forms))
	for i, f := range forms {
		c := *f
		c.piece = piece
		out[i] = &c
	}
	return out
}
