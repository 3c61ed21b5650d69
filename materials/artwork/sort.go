package artwork

import (
	"fmt"

	"foamwright/materials/geom"
)

// sort decides what each shape is for, looks whether it can be cut, and moves all to the outline's top centre.
func (r *reader) sort(o Options) (Drawing, error) {
	if len(r.shapes) == 0 {
		return Drawing{}, refuse(0, "", "There is no shape in the file. Lettering, pictures and hidden layers do not count: draw the outline as a path or a basic shape.")
	}
	if !r.take(0, r.paths(func(Shape) bool { return true }).Measurable()) {
		return Drawing{}, r.err()
	}
	r.fill()
	marked := r.choose(o.Half)
	if o.Half && r.problems.Empty() {
		r.mirror()
	}
	if r.problems.Empty() {
		r.check(Outline)
	}
	if err := r.err(); err != nil {
		return Drawing{}, err
	}
	outline := r.paths(func(s Shape) bool { return s.Role == Outline })
	if !marked {
		r.pieces(outline)
	}
	r.check(Piece)
	if err := r.err(); err != nil {
		return Drawing{}, err
	}
	return r.drawing(outline.Bounds()), nil
}

// fill makes the even-odd rule fill what the drawing shows filled. Grooves are lines.
func (r *reader) fill() {
	for i, s := range r.shapes {
		if !s.nonzero || s.Role == Groove || len(s.Path) == 1 {
			continue
		}
		if kept := s.Path.Nonzero(); len(kept) > 0 && len(kept) < len(s.Path) {
			r.shapes[i].Path = kept
			r.note("A ring within another that is no hole in the drawing was left out. To have a hole, set the fill rule to even-odd.", s.Line)
		}
	}
}

// check notes what cannot be cut of a role; outlines as one, so that one may be a hole in another.
func (r *reader) check(role Role) {
	count, last, before := 0, 0, r.problems.Len()
	for _, s := range r.shapes {
		if s.Role == role {
			count, last = count+1, s.Line
			r.take(s.Line, s.Path.Check())
		}
	}
	if role == Outline && count > 1 && r.problems.Len() == before {
		r.take(last, r.paths(func(s Shape) bool { return s.Role == Outline }).Check())
	}
}

// paths are those of some shapes as one.
func (r *reader) paths(of func(Shape) bool) geom.Path {
	var all geom.Path
	for _, s := range r.shapes {
		if of(s.Shape) {
			all = append(all, s.Path...)
		}
	}
	return all
}

// drawing is what was read, moved to the top centre of the outline's box.
func (r *reader) drawing(outline geom.Rect) Drawing {
	d := Drawing{Origin: geom.Point{X: (outline.Min.X + outline.Max.X) / 2, Y: outline.Min.Y}}
	for _, s := range r.shapes {
		s.Path = s.Path.Transform(geom.Translate(-d.Origin.X, -d.Origin.Y))
		d.Shapes = append(d.Shapes, s.Shape)
		if s.Role == Unmarked {
			r.note("What is not marked was left without a use. Name its layer pieces, or grooves for lines to carve.", s.Line)
		}
	}
	if r.guessed {
		r.note(fmt.Sprintf("The file states no size in mm or inches. 96 units were taken for an inch, which makes the outline %.1f × %.1f mm. If that is wrong, say what one unit is, or save the file with its size in mm.", outline.Width(), outline.Height()), 0)
	}
	if r.sheet.passed {
		r.note("Style rules for anything but one kind of element, one class or one id were passed over.", 0)
	}
	for _, n := range r.notes {
		d.Notes = append(d.Notes, n.String())
	}
	return d
}
