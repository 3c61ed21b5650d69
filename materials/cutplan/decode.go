package cutplan

import "context"

// unit is one copy of a piece that the placer has to place.
type unit struct{ piece, copy int }

// sequence is what one layout is made from: the order of the pieces, the axis, and which sheet is opened next.
type sequence struct {
	order   []unit
	swapped bool
	lean    float64 // how much a mm down weighs against a mm to the right
	byArea  bool    // open the sheet of least weight per area; else the one of least weight
}

// decoder lays out sequences for one job.
type decoder struct {
	job     Job
	bodies  []body
	like    []int // by piece, see alike
	upright []*ground
	fields  [2]*field // by axis, made when first needed
	slider  slider
	areas   []float64  // of the pieces
	plains  []sequence // see plain
	sheets  [2][]int   // the order of opening, by weight and by weight per area
	budget  int
	tell    func() // called for every unit
}

// field for an axis.
func (d *decoder) field(swapped bool) *field {
	i := 0
	if swapped {
		i = 1
	}
	if d.fields[i] == nil {
		d.fields[i] = d.job.field(d.bodies, d.like, d.upright, swapped)
	}
	return d.fields[i]
}

// why a layout came to nothing.
type failure int

const (
	done   failure = iota
	spent          // the budget ended first
	ended          // the context ended first
	noRoom         // a piece lies on no sheet, however empty
	runOut         // the sheets it would lie on are used up
)

// decode makes the layout of a sequence. A bounded one stops when the budget is spent. The unit is the one
// that could not be placed.
func (d *decoder) decode(ctx context.Context, q sequence, bounded bool) (*layout, failure, unit) {
	f := d.field(q.swapped)
	d.slider.field = f
	out := &layout{sequence: q}
	used := make([]int, len(d.job.Sheets))
	for i, p := range d.job.Pieces {
		for c := 0; p.On != nil && c < p.Count; c++ {
			if l := d.job.Sheets[p.On.Sheet].Limit; l > 0 && used[p.On.Sheet] == l {
				return nil, runOut, unit{i, c}
			}
			used[p.On.Sheet]++
			b := d.open(f, p.On.Sheet)
			at := f.at(p.On.At)
			b.put(f.forms[i][0], c, at.X, at.Y, d.areas[i])
			out.boards = append(out.boards, b)
		}
	}
	for _, u := range q.order {
		d.tell()
		if ctx.Err() != nil {
			return nil, ended, u
		}
		if bounded && d.slider.evals > d.budget {
			return nil, spent, u
		}
		if d.onOpen(f, out.boards, u, q) {
			continue
		}
		b, why := d.onFresh(f, used, u, q)
		if why != done {
			return nil, why, u
		}
		out.boards = append(out.boards, b)
	}
	d.judge(f, out)
	return out, done, unit{}
}

func (d *decoder) open(f *field, kind int) *board {
	g := f.grounds[kind]
	return &board{kind: kind, g: g, free: g.area, full: make([]bool, len(d.job.Pieces))}
}

// onOpen places a unit on the first opened sheet with room.
func (d *decoder) onOpen(f *field, boards []*board, u unit, q sequence) bool {
	for _, b := range boards {
		if b.full[d.like[u.piece]] || b.free < d.areas[u.piece]-1e-6 {
			continue
		}
		if x, px, py := d.slider.place(b, f.forms[u.piece], q.lean); x != nil {
			b.put(x, u.copy, px, py, d.areas[u.piece])
			return true
		}
		b.full[d.like[u.piece]] = true
	}
	return false
}

// onFresh opens a sheet for a unit.
func (d *decoder) onFresh(f *field, used []int, u unit, q sequence) (*board, failure) {
	sheets, why := d.sheets[0], noRoom
	if q.byArea {
		sheets = d.sheets[1]
	}
	for _, kind := range sheets {
		if f.never[kind][d.like[u.piece]] {
			continue
		}
		if l := d.job.Sheets[kind].Limit; l > 0 && used[kind] == l {
			why = runOut
			continue
		}
		b := d.open(f, kind)
		x, px, py := d.slider.place(b, f.forms[u.piece], q.lean)
		if x == nil {
			f.never[kind][d.like[u.piece]] = true
			continue
		}
		b.put(x, u.copy, px, py, d.areas[u.piece])
		used[kind]++
		return b, done
	}
	return nil, why
}
