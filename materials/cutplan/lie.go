package cutplan

import (
	"cmp"
	"slices"

	"foamwright/materials/geom"
)

// lie is a way a piece may lie, made ready for the separation: in one turn, one side up.
type lie struct {
	pose  Pose      // without a place
	box   geom.Rect // of the true outline, which keeps to the margin
	solid *solid    // swollen by half the spacing, against other pieces
	bare  *solid    // true, against what surrounds an odd-shaped sheet; nil where there is none
}

// stock is a job made ready for the separation: the lies of every piece and what surrounds the sheets.
type stock struct {
	job     Job
	grounds []*ground
	lies    [][]*lie // by piece; for a seated piece the one of its seat
	frames  []*solid // by sheet; nil for a rectangle
	areas   []float64
	units   []unit // seated ones first, then by area, the largest first
	seated  int    // units that are
	pairs   [][]*pair
	held    int // bytes of pairs remembered
	solids  int
	made    float64 // what making all this ready took, as looks of the separation
}

func newStock(job Job, bodies []body, like []int, grounds []*ground, f *field, areas []float64) *stock {
	s := &stock{job: job, grounds: grounds, areas: areas}
	for _, g := range grounds {
		var frame *solid
		if g.frame != nil {
			frame = s.solid(nil, g.frame)
		}
		s.frames = append(s.frames, frame)
	}
	shaped := slices.ContainsFunc(s.frames, func(x *solid) bool { return x != nil })
	for i, p := range job.Pieces {
		var lies []*lie
		forms := f.forms[i]
		if p.On == nil && p.Turns == nil {
			forms = bodies[i].slanting(forms)
		}
		if like[i] < i {
			lies, forms = s.lies[like[i]], nil
		}
		for _, x := range forms {
			lies = append(lies, s.lie(x, shaped))
		}
		s.lies = append(s.lies, lies)
		for c := range p.Count {
			s.units = append(s.units, unit{i, c})
		}
		if p.On != nil {
			s.seated += p.Count
		}
	}
	slices.SortStableFunc(s.units, func(a, b unit) int {
		return cmp.Or(cmp.Compare(rank(job.Pieces[a.piece].On != nil), rank(job.Pieces[b.piece].On != nil)), cmp.Compare(areas[b.piece], areas[a.piece]))
	})
	return s
}

// slanting adds to the forms of a piece that may turn freely those half a quarter further.
func (b body) slanting(forms []*form) []*form {
	out := slices.Clone(forms)
	for _, x := range forms {
		if s := b.form(x.piece, Pose{Turn: x.pose.Turn + 45, Mirrored: x.pose.Mirrored}, false); !slices.ContainsFunc(out, s.twin) {
			out = append(out, s)
		}
	}
	return out
}

func (s *stock) lie(x *form, shaped bool) *lie {
	l := &lie{pose: x.pose, box: x.box}
	l.pose.At = geom.Point{}
	l.solid = s.solid(x.swollen, x.solid())
	if shaped {
		l.bare = s.solid(x.outline, x.bare())
	}
	return l
}

func (s *stock) solid(rs []geom.Ring, slabs []slab) *solid {
	x := newSolid(s.solids, rs, slabs)
	s.solids++
	s.made += 20 + 10*float64(len(slabs))
	return x
}

// mostHeld bounds the pairs remembered, in bytes. When they are more all are forgotten: what is made again is the
// same again, so only the budget feels it.
const mostHeld = 64 << 20

// pair of two solids, remembered.
func (s *stock) pair(a, b *solid) *pair {
	if s.pairs == nil {
		s.pairs = make([][]*pair, s.solids)
	}
	if row := s.pairs[a.id]; row != nil && row[b.id] != nil {
		return row[b.id]
	}
	p := newPair(a, b)
	s.made += 2 + 8*float64(len(p.fits))
	if s.held += p.bytes(); s.held > mostHeld {
		clear(s.pairs)
		s.held = p.bytes()
	}
	if s.pairs[a.id] == nil {
		s.pairs[a.id] = make([]*pair, s.solids)
		s.held += 8 * s.solids
	}
	s.pairs[a.id][b.id] = p
	return p
}

// room is where the origin of a lie may be on a sheet less its margin; false where its box does not fit.
func (l *lie) room(inner geom.Rect) (geom.Rect, bool) {
	r := geom.Rect{
		Min: geom.Point{X: inner.Min.X - l.box.Min.X, Y: inner.Min.Y - l.box.Min.Y},
		Max: geom.Point{X: inner.Max.X - l.box.Max.X, Y: inner.Max.Y - l.box.Max.Y},
	}
	if r.Width() < -eps || r.Height() < -eps {
		return r, false
	}
	r.Max.X, r.Max.Y = max(r.Min.X, r.Max.X), max(r.Min.Y, r.Max.Y)
	return r, true
}
