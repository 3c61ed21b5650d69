package plot

import (
	"math"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// Bars are lying bars, a row for each label, with its value written at the end.
func Bars(c Chart, width float64) drawing.Drawing {
	s := &sheet{Chart: c, width: width}
	low, high, any := s.span(true)
	if !any {
		return s.empty()
	}
	rows := 0
	names, values := 0.0, 0.0
	for _, series := range s.Series {
		rows = max(rows, len(series.Points))
		for _, p := range series.Points {
			names, values = math.Max(names, room(p.Label, size)), math.Max(values, room(s.value(p), small))
		}
	}
	above := width < 500 // the name stands above its bars
	left := math.Min(names, 0.34*width) + gap
	if above {
		left = 0
	}
	minus := 0.0
	if low < 0 {
		minus = values + gap
	}
	x := scale{low, high, left + minus, width - values - gap}
	const thick = 12.0
	y := s.legend(4, func(i int, x, y float64) { s.bar(i, x, y, 14, 11) })
	for r := range rows {
		name := ""
		for _, series := range s.Series {
			if r < len(series.Points) && name == "" {
				name = series.Points[r].Label
			}
		}
		if above {
			s.text(drawing.Dimension, 0, y+11, drawing.Start, size, short(name, size, width))
			y += 16
		} else {
			s.text(drawing.Dimension, left-gap, y+float64(len(s.Series))*thick/2+4, drawing.End, size, short(name, size, left-gap))
		}
		for i, series := range s.Series {
			if r >= len(series.Points) {
				y += thick
				continue
			}
			p := series.Points[r]
			v := p.Value.InexactFloat64()
			from, to := x.at(0), x.at(v)
			s.bar(i, from, y+1, to-from, thick-2)
			end := s.whisker(p, x, y+thick/2)
			if v < 0 {
				s.text(drawing.Dimension, math.Min(to, end)-4, y+10, drawing.End, small, s.value(p))
			} else {
				s.text(drawing.Dimension, math.Max(to, end)+4, y+10, drawing.Start, small, s.value(p))
			}
			y += thick
		}
		s.nought(x, y-thick*float64(len(s.Series)), y)
		y += 7
	}
	return s.finish(y + 2)
}

// nought draws the line that bars begin at, and the one that is aimed at, beside one row.
func (s *sheet) nought(x scale, top, bottom float64) {
	up := func(at float64, dash []float64) {
		s.line(drawing.Axis, 1, dash, geom.Point{X: at, Y: top - 2}, geom.Point{X: at, Y: bottom + 2})
	}
	up(x.at(0), nil)
	if s.Rule.Valid {
		up(x.at(s.Rule.Decimal.InexactFloat64()), []float64{4, 3})
	}
}

// whisker is the interval of a value on a lying bar; it gives the end of it.
func (s *sheet) whisker(p Point, x scale, y float64) (end float64) {
	if !p.Low.Valid || !p.High.Valid {
		return x.at(p.Value.InexactFloat64())
	}
	a, b := x.at(p.Low.Decimal.InexactFloat64()), x.at(p.High.Decimal.InexactFloat64())
	s.add(drawing.Lines{Class: drawing.Ink, Pen: 1, Chains: [][]geom.Point{
		{{X: a, Y: y}, {X: b, Y: y}}, {{X: a, Y: y - 4}, {X: a, Y: y + 4}}, {{X: b, Y: y - 4}, {X: b, Y: y + 4}},
	}})
	if p.Value.IsNegative() {
		return a
	}
	return b
}

// value is what a point is worth, written.
func (s *sheet) value(p Point) string {
	if s.Unit == nil {
		return p.Value.String()
	}
	return s.Unit(p.Value)
}
