package plot

import (
	"math"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// Curve is values over a number axis, joined in the order they come, each series with a stroke and a mark of its own.
func Curve(c Chart, width float64) drawing.Drawing { return xy(c, width, true) }

// Scatter is values over a number axis, each with its label beside it where there is room.
func Scatter(c Chart, width float64) drawing.Drawing { return xy(c, width, false) }

func xy(c Chart, width float64, joined bool) drawing.Drawing {
	s := &sheet{Chart: c, width: width}
	low, high, any := s.span(true)
	if !any {
		return s.empty()
	}
	y := s.legend(4, func(i int, x, y float64) { s.mark(i, geom.Point{X: x + 7, Y: y + 6}) })
	if s.Names[1] != "" {
		s.text(drawing.Remark, 0, y+10, drawing.Start, small, short(s.Names[1], small, width))
		y += 16
	}
	y += gap
	height := fieldHeight(width)
	f := s.upright(low, high, y, height)
	f.along = s.ground(f, y+height)
	bottom := y + height + 24
	if s.Names[0] != "" {
		s.text(drawing.Remark, width-2, y+height+31, drawing.End, small, short(s.Names[0], small, width))
		bottom += 14
	}
	var taken []geom.Rect
	for i, series := range s.Series {
		chain := make([]geom.Point, len(series.Points))
		for k, p := range series.Points {
			chain[k] = geom.Point{X: f.along.at(p.At.InexactFloat64()), Y: f.up.at(p.Value.InexactFloat64())}
			taken = append(taken, geom.Rect{Min: geom.Point{X: chain[k].X - 4, Y: chain[k].Y - 4}, Max: geom.Point{X: chain[k].X + 4, Y: chain[k].Y + 4}})
		}
		if joined && len(chain) > 1 {
			s.line(tone(i), 1.8, [][]float64{nil, {6, 3}, {2, 3}, {8, 3, 2, 3}}[i%4], chain...)
		}
		for _, at := range chain {
			s.mark(i, at)
		}
	}
	if !joined {
		for i, series := range s.Series {
			for _, p := range series.Points {
				taken = s.beside(i, p, geom.Point{X: f.along.at(p.At.InexactFloat64()), Y: f.up.at(p.Value.InexactFloat64())}, f, y, taken)
			}
		}
	}
	return s.finish(bottom)
}

// ground draws the axis that lies.
func (s *sheet) ground(f field, y float64) scale {
	low, high, any := 0.0, 0.0, false
	for _, series := range s.Series {
		for _, p := range series.Points {
			v := p.At.InexactFloat64()
			if !any {
				low, high, any = v, v, true
			}
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	ticks, from, to := steps(math.Min(0, low), high, 6)
	along := scale{from, to, f.along.from + 6, s.width - 14}
	free := 0.0
	for _, v := range ticks {
		x, words := along.at(v), written(s.Along, v)
		s.line(drawing.Grid, 0.8, nil, geom.Point{X: x, Y: y}, geom.Point{X: x, Y: y + 4})
		if wide := room(words, small); x-wide/2 >= free && x+wide/2 <= s.width {
			s.text(drawing.Remark, x, y+16, drawing.Middle, small, words)
			free = x + wide/2 + gap/2
		}
	}
	return along
}

// mark is the sign of a series: a dot, a box, a wedge, a ring of four strokes.
func (s *sheet) mark(i int, at geom.Point) {
	c := tone(i)
	switch i % 4 {
	case 0:
		s.add(drawing.Dots{Class: c, At: []geom.Point{at}, Diameter: 7})
	case 1:
		s.add(drawing.Area{Class: c, Region: box(at.X-3, at.Y-3, 6, 6)})
	case 2:
		s.add(drawing.Area{Class: c, Region: geom.Region{{Outer: geom.Ring{{X: at.X, Y: at.Y - 4}, {X: at.X + 4, Y: at.Y + 3}, {X: at.X - 4, Y: at.Y + 3}}}}})
	default:
		s.add(drawing.Lines{Class: c, Pen: 1.4, True: true, Chains: [][]geom.Point{{{X: at.X - 3, Y: at.Y - 3}, {X: at.X + 3, Y: at.Y + 3}}, {{X: at.X - 3, Y: at.Y + 3}, {X: at.X + 3, Y: at.Y - 3}}}})
	}
}

// beside writes a label where it covers nothing: to the right, the left, above or below; else it is left out, for the
// table says it too.
func (s *sheet) beside(_ int, p Point, at geom.Point, f field, top float64, taken []geom.Rect) []geom.Rect {
	if p.Label == "" {
		return taken
	}
	words := short(p.Label, small, 0.4*s.width)
	for _, t := range []drawing.Text{
		{At: geom.Point{X: at.X + 7, Y: at.Y + 4}, Anchor: drawing.Start}, {At: geom.Point{X: at.X - 7, Y: at.Y + 4}, Anchor: drawing.End},
		{At: geom.Point{X: at.X, Y: at.Y - 8}, Anchor: drawing.Middle}, {At: geom.Point{X: at.X, Y: at.Y + 16}, Anchor: drawing.Middle},
	} {
		t.Class, t.Size, t.Words = drawing.Dimension, small, words
		r, _ := t.Room()
		free := r.Min.X >= f.along.from && r.Max.X <= s.width && r.Min.Y >= top-gap && r.Max.Y <= f.up.from
		for _, o := range taken {
			free = free && (r.Max.X < o.Min.X || o.Max.X < r.Min.X || r.Max.Y < o.Min.Y || o.Max.Y < r.Min.Y)
		}
		if free {
			s.add(t)
			return append(taken, r)
		}
	}
	return taken
}
