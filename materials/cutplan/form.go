package cutplan

import (
	"slices"

	"foamwright/materials/geom"
)

// tolerance is how far an outline of many corners may be moved outwards to lay it out faster, mm. A knife
// in foam is no finer.
const tolerance = 0.5

// fewCorners is how many corners a ring may have before it is simplified.
const fewCorners = 16

// form is a piece as it may lie: in one turn, one side up, about its own origin.
type form struct {
	id, piece int
	pose      Pose
	box       geom.Rect   // of the true outline
	fat       geom.Rect   // of the swollen one
	hull      geom.Ring   // the swollen outline where it is convex, else nil
	levels    []float64   // heights at which the swollen outline turns back: where others may nestle
	middles   []float64   // mid heights of its holes
	square    bool        // the swollen outline is its box
	outline   []geom.Ring // true
	near      []geom.Ring // simplified
	swollen   []geom.Ring // simplified and swollen
	slabs     *[2][]slab  // of outline and swollen, cut when first needed
}

// solid and bare are the slabs of the swollen and of the true outline.
func (f *form) solid() []slab { return f.cut(1, f.swollen) }
func (f *form) bare() []slab  { return f.cut(0, f.outline) }

func (f *form) cut(i int, rs []geom.Ring) []slab {
	if f.slabs[i] == nil {
		f.slabs[i], _ = cut(rs)
	}
	return f.slabs[i]
}

// body is a piece made ready once for all its forms.
type body struct {
	outline []geom.Ring // the true rings, solid on the left
	near    []geom.Ring // simplified
	fat     []geom.Ring // simplified and swollen by half the spacing
}

func newBody(s geom.Shape, spacing float64) body {
	b := body{outline: rings(s)}
	for _, r := range b.outline {
		if len(r) > fewCorners {
			r = simplify(r, tolerance)
		}
		b.near = append(b.near, r)
		b.fat = append(b.fat, swell(r, spacing/2))
	}
	return b
}

// form of a body in a pose; swapped changes x and y about for the layout by the other axis.
func (b body) form(piece int, pose Pose, swapped bool) *form {
	lay := func(rs []geom.Ring) []geom.Ring {
		out := make([]geom.Ring, len(rs))
		for i, r := range rs {
			if out[i] = pose.ring(r); swapped {
				out[i] = swap(out[i])
			}
		}
		return out
	}
	f := &form{piece: piece, pose: pose, outline: lay(b.outline), near: lay(b.near), swollen: lay(b.fat), slabs: new([2][]slab)}
	f.box, f.fat = f.outline[0].Bounds(), f.swollen[0].Bounds()
	return f
}

// ready finds what the placer looks up again and again.
func (f *form) ready() {
	if len(f.swollen) == 1 && convex(f.swollen[0]) {
		f.hull = f.swollen[0]
		f.square = f.hull.Area() > f.fat.Width()*f.fat.Height()*(1-1e-9)
	}
	for i, r := range f.swollen {
		f.levels = append(f.levels, turning(r)...)
		if i > 0 {
			hole := r.Bounds()
			f.middles = append(f.middles, (hole.Min.Y+hole.Max.Y)/2)
		}
	}
}

// mostLevels bounds the heights tried for one neighbour; the outermost come first.
const mostLevels = 8

// turning lists the heights at which a ring turns from rising to falling or back, the extreme ones first.
func turning(r geom.Ring) []float64 {
	box := r.Bounds()
	out := []float64{box.Min.Y, box.Max.Y}
	for i := range r {
		u, v := step(r, i), step(r, i+1)
		if y := r[(i+1)%len(r)].Y; u.Y*v.Y < 0 && y != box.Min.Y && y != box.Max.Y && len(out) < mostLevels {
			out = append(out, y)
		}
	}
	return out
}

// swap changes x and y about and keeps the solid on the left.
func swap(r geom.Ring) geom.Ring {
	out := make(geom.Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = geom.Point{X: p.Y, Y: p.X}
	}
	return out
}

// forms lists the poses worth trying for a piece, without twins.
func (b body) forms(piece int, p Piece, sheets []*ground, swapped bool) []*form {
	turns := p.Turns
	if turns == nil {
		turns = b.turns(sheets)
	}
	var out []*form
	for _, over := range []bool{false, true} {
		if over && !p.Mirror {
			break
		}
		for _, t := range turns {
			f := b.form(piece, Pose{Turn: t, Mirrored: over}, swapped)
			if !slices.ContainsFunc(out, f.twin) {
				f.ready()
				out = append(out, f)
			}
		}
	}
	return out
}
