package plot

import (
	"strconv"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// Scatter is values over a number axis, each with its label beside it. Where there is no room for a label a number
// stands there, and the labels of numbers are listed below; a point hidden among others has neither.
func Scatter(c Chart, width float64) drawing.Drawing {
	s, f, bottom := across(c, width)
	if f == nil {
		return s.empty()
	}
	var taken []geom.Rect
	if s.Rule.Valid {
		y := f.up.at(s.Rule.Decimal.InexactFloat64())
		taken = append(taken, geom.Rect{Min: geom.Point{X: f.along.from, Y: y - 1}, Max: geom.Point{X: f.along.to, Y: y + 1}})
	}
	for i, series := range s.Series {
		for _, p := range series.Points {
			at := f.spot(p)
			s.mast(p, *f, at.X)
			s.mark(i, at)
			taken = append(taken, geom.Rect{Min: geom.Point{X: at.X - 4, Y: at.Y - 4}, Max: geom.Point{X: at.X + 4, Y: at.Y + 4}})
		}
	}
	s.aim(*f)
	var listed []string
	for _, series := range s.Series {
		for _, p := range series.Points {
			if p.Label == "" || room(p.Label, small) <= 0.4*s.width && s.beside(p.Label, f, f.spot(p), &taken) {
				continue
			}
			if n := strconv.Itoa(len(listed) + 1); s.beside(n, f, f.spot(p), &taken) {
				listed = append(listed, n+" "+p.Label)
			}
		}
	}
	return s.finish(s.list(listed, bottom))
}

// beside writes words beside a point where they cover nothing; false where there is no such place.
func (s *sheet) beside(words string, f *field, at geom.Point, taken *[]geom.Rect) bool {
	for _, t := range []drawing.Text{
		{At: geom.Point{X: 7, Y: 4}, Anchor: drawing.Start}, {At: geom.Point{X: -7, Y: 4}, Anchor: drawing.End},
		{At: geom.Point{Y: -8}, Anchor: drawing.Middle}, {At: geom.Point{Y: 16}, Anchor: drawing.Middle},
		{At: geom.Point{X: 6, Y: -8}, Anchor: drawing.Start}, {At: geom.Point{X: 6, Y: 16}, Anchor: drawing.Start},
		{At: geom.Point{X: -6, Y: -8}, Anchor: drawing.End}, {At: geom.Point{X: -6, Y: 16}, Anchor: drawing.End},
	} {
		t.At = geom.Point{X: at.X + t.At.X, Y: at.Y + t.At.Y}
		t.Class, t.Size, t.Words = drawing.Dimension, small, words
		r, _ := t.Room()
		free := r.Min.X >= f.along.from && r.Max.X <= s.width && r.Min.Y >= f.up.to-gap && r.Max.Y <= f.up.from
		for _, o := range *taken {
			free = free && (r.Max.X < o.Min.X || o.Max.X < r.Min.X || r.Max.Y < o.Min.Y || o.Max.Y < r.Min.Y)
		}
		if free {
			s.add(t)
			*taken = append(*taken, r)
			return true
		}
	}
	return false
}

// list writes the labels of numbers in lines below a plot and gives where it ends.
func (s *sheet) list(labels []string, y float64) float64 {
	x := 0.0
	for i, words := range labels {
		words = short(words, small, s.width)
		wide := room(words, small)
		if i == 0 {
			y += 6
		}
		if i == 0 || x+wide > s.width {
			x, y = 0, y+17
		}
		s.text(drawing.Dimension, x, y-4, drawing.Start, small, words)
		x += wide + 2*gap
	}
	return y
}
