package plot

import (
	"math"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// field is the part of a plot that values stand in.
type field struct{ up, along scale }

// upright draws the axis that goes up, with a line at each step; a field is a third as high as its sheet is wide, but
// never low.
func (s *sheet) upright(e extent, top float64) field {
	ticks, from, to := e.steps(5)
	wide := 0.0
	for _, v := range ticks {
		wide = math.Max(wide, room(written(s.Unit, v), small))
	}
	left := math.Min(wide, 0.4*s.width) + gap
	f := field{scale{from, to, top + math.Max(160, s.width/3), top}, scale{0, 1, left, s.width - 6}}
	for _, v := range ticks {
		y, class := f.up.at(v), drawing.Grid
		if v == 0 {
			class = drawing.Axis
		}
		s.line(class, 0.8, nil, geom.Point{X: left, Y: y}, geom.Point{X: f.along.to, Y: y})
		s.text(drawing.Remark, left-gap/2, y+4, drawing.End, small, short(written(s.Unit, v), small, left-gap/2))
	}
	return f
}

// aim draws the line at a value, over what stands in the field.
func (s *sheet) aim(f field) {
	if s.Rule.Valid {
		y := f.up.at(s.Rule.Decimal.InexactFloat64())
		s.line(drawing.Axis, 1, aimed(), geom.Point{X: f.along.from, Y: y}, geom.Point{X: f.along.to, Y: y})
	}
}

// Columns are upright columns, those of several series side by side at each label. Labels that would cover others are
// left out.
func Columns(c Chart, width float64) drawing.Drawing {
	s := newSheet(c, width)
	e := s.values()
	if !e.any {
		return s.empty()
	}
	f := s.upright(e, s.legend(4, func(i int, x, y float64) { s.bar(i, x, y, 14, 11) })+gap)
	each := (f.along.to - f.along.from) / float64(s.rows())
	wide := math.Min(each*0.8/float64(len(s.Series)), 34)
	free := 0.0 // labels begin here at the earliest
	for g := range s.rows() {
		mid := f.along.from + (float64(g)+0.5)*each
		x := mid - wide*float64(len(s.Series))/2
		for i, series := range s.Series {
			if g < len(series.Points) {
				p := series.Points[g]
				v, nought := f.up.at(p.Value.InexactFloat64()), f.up.at(0)
				s.bar(i, x, v, wide-math.Min(1, wide/4), nought-v)
				s.mast(p, f, x+wide/2)
			}
			x += wide
		}
		label := short(s.label(g), small, math.Max(each-gap/2, 60))
		if room := room(label, small); mid-room/2 >= free && mid+room/2 <= width {
			s.text(drawing.Remark, mid, f.up.from+17, drawing.Middle, small, label)
			free = mid + room/2 + gap/2
		}
	}
	s.aim(f)
	return s.finish(f.up.from + 24)
}

// mast is the interval of a value that stands upright.
func (s *sheet) mast(p Point, f field, x float64) {
	if p.Low.Valid && p.High.Valid {
		s.interval(geom.Point{X: x, Y: f.up.at(p.Low.Decimal.InexactFloat64())}, geom.Point{X: x, Y: f.up.at(p.High.Decimal.InexactFloat64())})
	}
}
