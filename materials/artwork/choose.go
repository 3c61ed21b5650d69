package artwork

import (
	"math"

	"foamwright/materials/geom"
)

// choose makes the largest unmarked shape the outline where none is marked, and tells whether anything is.
func (r *reader) choose(half bool) (marked bool) {
	best, most := -1, -1.0
	for i, s := range r.shapes {
		if s.Role == Outline {
			return true
		}
		marked = marked || s.Role != Unmarked
		if size := extent(s.Path); s.Role == Unmarked && size > most && (!half || open(s.Path)) {
			best, most = i, size
		}
	}
	if best < 0 {
		r.refuse(0, "", "No shape can be taken for the outline. Name the layer it is in, or the shape itself, outline.")
		return marked
	}
	r.shapes[best].Role = Outline
	r.note("Nothing is marked as the outline, so the largest shape was taken for it.", r.shapes[best].Line)
	return marked
}

// pieces makes pieces of the closed shapes in the outline of a drawing without any mark.
func (r *reader) pieces(outline geom.Path) {
	inside := outline.Flatten(0.5)
	for i, s := range r.shapes {
		if s.Role == Unmarked && !open(s.Path) && touches(inside, s.Path) {
			r.shapes[i].Role = Piece
			r.note("Nothing is marked, so closed shapes in the outline were taken for pieces.", s.Line)
		}
	}
}

// extent is the area of the largest subpath in mm²; open ones count as closed, so that an outline with a gap is
// not passed over for a piece on it.
func extent(p geom.Path) float64 {
	most := 0.0
	for _, s := range p {
		most = max(most, geom.Path{s}.Area())
	}
	return most
}

func open(p geom.Path) bool {
	for _, s := range p {
		if from, to := s.Ends(); !s.Closed && math.Hypot(from.X-to.X, from.Y-to.Y) > 1e-6 {
			return true
		}
	}
	return false
}

// touches tells whether one of the first few corners of a path lies in a region.
func touches(r geom.Region, p geom.Path) bool {
	left := 16
	for _, s := range p {
		for _, g := range s.Segments {
			if from, _ := g.Ends(); left > 0 && r.ContainsPoint(from) {
				return true
			}
			left--
		}
	}
	return false
}
