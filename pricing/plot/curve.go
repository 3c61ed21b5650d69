package plot

import (
	"math"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// Curve is values over a number axis, joined in the order they come, each series with a stroke and a mark of its own.
func Curve(c Chart, width float64) drawing.Drawing {
	s, f, bottom := across(c, width)
	if f == nil {
		return s.empty()
	}
	for i, series := range s.Series {
		chain := make([]geom.Point, len(series.Points))
		for k, p := range series.Points {
			chain[k] = f.spot(p)
		}
		if len(chain) > 1 {
			s.line(tone(i), 1.4, [most][]float64{nil, {6, 3}, {2, 3}, {8, 3, 2, 3}}[i], chain...)
		}
	}
	for i, series := range s.Series {
		for _, p := range series.Points {
			s.mast(p, *f, f.spot(p).X)
			s.mark(i, f.spot(p))
		}
	}
	s.aim(*f)
	return s.finish(bottom)
}

// across is a sheet with two number axes and their names, and where it ends; no field without any value.
func across(c Chart, width float64) (s *sheet, f *field, bottom float64) {
	s = newSheet(c, width)
	e := s.values()
	if !e.any {
		return s, nil, 0
	}
	y := s.legend(4, func(i int, x, y float64) { s.mark(i, geom.Point{X: x + 7, Y: y + 6}) })
	if up := s.Names[1]; up != "" {
		s.text(drawing.Remark, 0, y+11, drawing.Start, small, short(up, small, width))
		y += 18
	}
	upright := s.upright(e, y+gap)
	upright.along = s.ground(upright)
	bottom = upright.up.from + 24
	if along := s.Names[0]; along != "" {
		s.text(drawing.Remark, width-2, bottom+9, drawing.End, small, short(along, small, width-2))
		bottom += 16
	}
	return s, &upright, bottom
}

// ground draws the axis that lies.
func (s *sheet) ground(f field) scale {
	ticks, from, to := s.places().steps(6)
	along, y, free := scale{from, to, f.along.from + 6, s.width - 14}, f.up.from, 0.0
	for _, v := range ticks {
		x, words := along.at(v), written(s.Along, v)
		s.line(drawing.Axis, 0.8, nil, geom.Point{X: x, Y: y}, geom.Point{X: x, Y: y + 4})
		wide := room(words, small)
		mid := math.Min(x, s.width-wide/2)
		if mid-wide/2 >= free && mid-wide/2 >= 0 {
			s.text(drawing.Remark, mid, y+17, drawing.Middle, small, words)
			free = mid + wide/2 + gap/2
		}
	}
	return along
}

// spot is where a point stands.
func (f *field) spot(p Point) geom.Point {
	return geom.Point{X: f.along.at(p.At.InexactFloat64()), Y: f.up.at(p.Value.InexactFloat64())}
}

// mark is the sign of a series: a dot, a box, a wedge, a cross.
func (s *sheet) mark(i int, at geom.Point) {
	c := tone(i)
	switch i {
	case 0:
		s.add(drawing.Dots{Class: c, At: []geom.Point{at}, Diameter: 7})
	case 1:
		s.add(drawing.Area{Class: c, Region: box(at.X-3, at.Y-3, 6, 6)})
	case 2:
		s.add(drawing.Area{Class: c, Region: geom.Region{{Outer: geom.Ring{{X: at.X, Y: at.Y - 4}, {X: at.X + 4, Y: at.Y + 3}, {X: at.X - 4, Y: at.Y + 3}}}}})
	default:
		s.add(drawing.Lines{Class: c, Pen: 1.6, True: true, Chains: [][]geom.Point{{{X: at.X - 3, Y: at.Y - 3}, {X: at.X + 3, Y: at.Y + 3}}, {{X: at.X - 3, Y: at.Y + 3}, {X: at.X + 3, Y: at.Y - 3}}}})
	}
}
