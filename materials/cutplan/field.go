package cutplan

import (
	"cmp"
	"fmt"
	"slices"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// field is a checked job made ready for laying out along one axis; swapped, x and y are changed about, so
// that "leftmost" fills a sheet from the top instead of from the left.
type field struct {
	swapped bool
	grounds []*ground
	forms   [][]*form // by piece; for a seated piece the one form of its seat
	never   [][]bool  // by sheet and piece: no place was found on an empty one
	outs    map[[2]int]*keepOut
	spans   map[pairing][]span
	held    int // bytes of outs and spans
}

// bodies are made once and shared by the fields of both axes.
func (j Job) bodies(like []int) []body {
	out := make([]body, len(j.Pieces))
	for i, p := range j.Pieces {
		if like[i] < i {
			out[i] = out[like[i]]
		} else {
			out[i] = newBody(p.Shape, j.Spacing)
		}
	}
	return out
}

func (j Job) grounds(swapped bool) []*ground {
	out := make([]*ground, len(j.Sheets))
	for i, s := range j.Sheets {
		out[i] = s.ground(j.Margin, swapped)
	}
	return out
}

func (j Job) field(bodies []body, like []int, upright []*ground, swapped bool) *field {
	f := &field{swapped: swapped, grounds: j.grounds(swapped), outs: map[[2]int]*keepOut{}, spans: map[pairing][]span{}}
	id := 0
	for i, p := range j.Pieces {
		var forms []*form
		if like[i] < i {
			f.forms = append(f.forms, copied(f.forms[like[i]], i))
			continue
		}
		if p.On != nil {
			forms = []*form{bodies[i].form(i, Pose{Turn: p.On.Turn, Mirrored: p.On.Mirrored}, swapped)}
			forms[0].ready()
		} else {
			forms = bodies[i].forms(i, p, upright, swapped)
		}
		for _, x := range forms {
			x.id = id
			id++
		}
		f.forms = append(f.forms, forms)
	}
	for range j.Sheets {
		f.never = append(f.never, make([]bool, len(j.Pieces)))
	}
	return f
}

// misfits notes every piece whose box fits no sheet in any allowed turn, and every panel beyond its sheet.
func (j Job) misfits(f *field) error {
	var l fault.List
	for i, p := range j.Pieces {
		name := fmt.Sprintf("pieces[%d]", i)
		box := p.Shape.Outer.Bounds()
		if p.On != nil {
			x, g := f.forms[i][0], f.grounds[p.On.Sheet]
			if !g.holds(x, f.at(p.On.At)) {
				l.Add(name, size(box), fmt.Sprintf("The panel “%s” reaches beyond its sheet “%s” of %s. Move it or use a larger sheet.",
					p.Label, j.Sheets[p.On.Sheet].Label, size(f.real(g.box))))
			}
			continue
		}
		fits := slices.ContainsFunc(f.grounds, func(g *ground) bool {
			return slices.ContainsFunc(f.forms[i], func(x *form) bool { return g.spare(x.box) >= -eps })
		})
		if !fits {
			l.Add(name, size(box), j.tooLarge(p, f))
		}
	}
	return l.Err()
}

// tooLarge names a piece that fits no sheet, its size, the sheet's size and what to do.
func (j Job) tooLarge(p Piece, f *field) string {
	largest := slices.MaxFunc(f.grounds, func(a, b *ground) int {
		return cmp.Compare(a.inner.Width()*a.inner.Height(), b.inner.Width()*b.inner.Height())
	})
	k := slices.Index(f.grounds, largest)
	if largest.frame != nil && largest.spare(p.Shape.Outer.Bounds()) >= -eps {
		return fmt.Sprintf("“%s” measures %s and fits no sheet: “%s” is as wide and as high, but not everywhere. Cut the piece into panels, allow it to turn, or add a larger sheet.",
			p.Label, size(p.Shape.Outer.Bounds()), j.Sheets[k].Label)
	}
	return fmt.Sprintf("“%s” measures %s and fits no sheet; the largest, “%s”, leaves %s inside its margin. Cut the piece into panels, allow it to turn, or add a larger sheet.",
		p.Label, size(p.Shape.Outer.Bounds()), j.Sheets[k].Label, size(f.real(largest.inner)))
}

// at is a point of the job in the field's axes, and the other way round.
func (f *field) at(p geom.Point) geom.Point {
	if f.swapped {
		return geom.Point{X: p.Y, Y: p.X}
	}
	return p
}

func (f *field) real(r geom.Rect) geom.Rect {
	return geom.Rect{Min: f.at(r.Min), Max: f.at(r.Max)}
}

// holds tells whether a seated form lies within the sheet, whose edges it may share.
func (g *ground) holds(x *form, at geom.Point) bool {
	if at.X+x.box.Min.X < g.box.Min.X-eps || at.X+x.box.Max.X > g.box.Max.X+eps ||
		at.Y+x.box.Min.Y < g.box.Min.Y-eps || at.Y+x.box.Max.Y > g.box.Max.Y+eps {
		return false
	}
	return g.frame == nil || past(kept(nil, g.edge, x.bare(), at.Y), at.X) == at.X
}
