package plot

import (
	"math"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// thick is the room of a lying bar.
const thick = 13.0

// Bars are lying bars, a row for each label, with its value written at the end. On a narrow sheet a label stands above
// its bars.
func Bars(c Chart, width float64) drawing.Drawing {
	s := newSheet(c, width)
	e := s.values()
	if !e.any {
		return s.empty()
	}
	names, values, plain := 0.0, 0.0, 0.0
	for _, series := range s.Series {
		for _, p := range series.Points {
			names, values, plain = math.Max(names, room(p.Label, size)), math.Max(values, room(s.worded(p), small)), math.Max(plain, room(s.value(p.Value), small))
		}
	}
	above := width < 500
	left := math.Min(names, 0.34*width) + gap
	if above {
		left = 1
	}
	say, sides := s.worded, 1.0
	if e.low < 0 {
		sides = 2
	}
	if sides*values > (width-left)/2 { // intervals are written where bars have room beside them
		say, values = func(p Point) string { return s.value(p.Value) }, plain
	}
	minus := 0.0
	if e.low < 0 {
		minus = values + gap
	}
	x := scale{e.low, e.high, left + minus, width - values - gap}
	y := s.legend(4, func(i int, x, y float64) { s.bar(i, x, y, 14, 11) })
	for r := range s.rows() {
		name := s.label(r)
		if above {
			s.text(drawing.Dimension, 0, y+12, drawing.Start, size, short(name, size, width))
			y += 17
		} else {
			s.text(drawing.Dimension, left-gap, y+float64(len(s.Series))*thick/2+4.5, drawing.End, size, short(name, size, left-gap))
		}
		top := y
		for i, series := range s.Series {
			if r < len(series.Points) {
				s.lying(i, series.Points[r], say(series.Points[r]), x, y)
			}
			y += thick
		}
		s.line(drawing.Axis, 1, nil, geom.Point{X: x.at(0), Y: top - 2}, geom.Point{X: x.at(0), Y: y + 2})
		if s.Rule.Valid {
			at := x.at(s.Rule.Decimal.InexactFloat64())
			s.line(drawing.Axis, 1, aimed(), geom.Point{X: at, Y: top - 2}, geom.Point{X: at, Y: y + 2})
		}
		y += 7
	}
	return s.finish(y + 2)
}

// lying is one bar with its interval and words at its end.
func (s *sheet) lying(i int, p Point, words string, x scale, y float64) {
	from, to := x.at(0), x.at(p.Value.InexactFloat64())
	s.bar(i, from, y+1, to-from, thick-2)
	least, most := math.Min(from, to), math.Max(from, to)
	if p.Low.Valid && p.High.Valid {
		low, high := x.at(p.Low.Decimal.InexactFloat64()), x.at(p.High.Decimal.InexactFloat64())
		s.interval(geom.Point{X: low, Y: y + thick/2}, geom.Point{X: high, Y: y + thick/2})
		least, most = math.Min(least, low), math.Max(most, high)
	}
	wide, rule := room(words, small), math.Inf(1)
	if s.Rule.Valid {
		rule = x.at(s.Rule.Decimal.InexactFloat64())
	}
	if p.Value.IsNegative() {
		at := least - 4
		if rule > at-wide-3 && rule < at+3 { // words stand beside the line, not on it
			at = rule - 4
		}
		s.text(drawing.Dimension, at, y+10.5, drawing.End, small, words)
		return
	}
	at := most + 4
	if rule > at-3 && rule < at+wide+3 {
		at = rule + 4
	}
	s.text(drawing.Dimension, at, y+10.5, drawing.Start, small, words)
}

// rows is how many labels there are.
func (s *sheet) rows() (n int) {
	for _, series := range s.Series {
		n = max(n, len(series.Points))
	}
	return n
}

// label is the name of a row: the first that a series has for it.
func (s *sheet) label(row int) string {
	for _, series := range s.Series {
		if row < len(series.Points) && series.Points[row].Label != "" {
			return series.Points[row].Label
		}
	}
	return ""
}
