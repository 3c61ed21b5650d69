package plot

import (
	"math"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// fieldHeight is how high the field of columns, curves and points is.
func fieldHeight(width float64) float64 { return math.Max(160, width/3) }

// field is the part of a plot that values stand in, with lines at whole steps.
type field struct{ up, along scale }

// upright draws the axis that goes up: its steps and what they are worth.
func (s *sheet) upright(low, high, top, height float64) field {
	ticks, from, to := steps(low, high, 5)
	wide := 0.0
	for _, v := range ticks {
		wide = math.Max(wide, room(written(s.Unit, v), small))
	}
	left := wide + gap
	f := field{scale{from, to, top + height, top}, scale{0, 1, left, s.width - 2}}
	for _, v := range ticks {
		y := f.up.at(v)
		class := drawing.Grid
		if v == 0 {
			class = drawing.Axis
		}
		s.line(class, 0.8, nil, geom.Point{X: left, Y: y}, geom.Point{X: s.width - 2, Y: y})
		s.text(drawing.Remark, left-gap/2, y+4, drawing.End, small, written(s.Unit, v))
	}
	if s.Rule.Valid {
		y := f.up.at(s.Rule.Decimal.InexactFloat64())
		s.line(drawing.Axis, 1, []float64{4, 3}, geom.Point{X: left, Y: y}, geom.Point{X: s.width - 2, Y: y})
	}
	return f
}

// Columns are upright columns, those of several series side by side at each label.
func Columns(c Chart, width float64) drawing.Drawing {
	s := &sheet{Chart: c, width: width}
	low, high, any := s.span(true)
	if !any {
		return s.empty()
	}
	groups := 0
	for _, series := range s.Series {
		groups = max(groups, len(series.Points))
	}
	y := s.legend(4, func(i int, x, y float64) { s.bar(i, x, y, 14, 11) }) + gap
	height := fieldHeight(width)
	f := s.upright(low, high, y, height)
	each := (f.along.to - f.along.from) / float64(groups)
	thick := math.Min(each*0.8/float64(len(s.Series)), 34)
	free := 0.0 // labels begin here at the earliest
	for g := range groups {
		mid := f.along.from + (float64(g)+0.5)*each
		x := mid - thick*float64(len(s.Series))/2
		label := ""
		for i, series := range s.Series {
			if g < len(series.Points) {
				p := series.Points[g]
				label = p.Label
				v, nought := f.up.at(p.Value.InexactFloat64()), f.up.at(0)
				s.bar(i, x, v, thick-math.Min(1, thick/4), nought-v)
				s.mast(p, f, x+thick/2)
			}
			x += thick
		}
		if wide := room(label, small); mid-wide/2 >= free && mid+wide/2 <= width {
			s.text(drawing.Remark, mid, y+height+16, drawing.Middle, small, label)
			free = mid + wide/2 + gap/2
		}
	}
	return s.finish(y + height + 24)
}

// mast is the interval of a value that stands upright.
func (s *sheet) mast(p Point, f field, x float64) {
	if !p.Low.Valid || !p.High.Valid {
		return
	}
	a, b := f.up.at(p.Low.Decimal.InexactFloat64()), f.up.at(p.High.Decimal.InexactFloat64())
	s.add(drawing.Lines{Class: drawing.Ink, Pen: 1, Chains: [][]geom.Point{
		{{X: x, Y: a}, {X: x, Y: b}}, {{X: x - 4, Y: a}, {X: x + 4, Y: a}}, {{X: x - 4, Y: b}, {X: x + 4, Y: b}},
	}})
}
