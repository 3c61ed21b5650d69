package plot

import (
	"strings"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

const (
	size  = 13.0 // of names
	small = 12.0 // of all other words
	gap   = 8.0
)

// sheet is a plot while it is drawn.
type sheet struct {
	Chart
	width float64
	marks []drawing.Mark
}

// most is how many series can be told apart.
const most = 4

func newSheet(c Chart, width float64) *sheet {
	c.Series = c.Series[:min(most, len(c.Series))]
	if c.Words == "" {
		c.Words = told(c)
	}
	return &sheet{Chart: c, width: width}
}

func (s *sheet) add(m ...drawing.Mark) { s.marks = append(s.marks, m...) }

// finish makes the drawing of so many units height.
func (s *sheet) finish(height float64) drawing.Drawing {
	ground := drawing.Area{Class: drawing.Ground, Region: box(0, 0, s.width, height)}
	return drawing.Drawing{
		View: "plot", Title: s.Title, Words: s.Words, Text: size, Marks: append([]drawing.Mark{ground}, s.marks...),
		Sheet: geom.Rect{Max: geom.Point{X: s.width, Y: height}},
	}
}

// nothing is what an empty plot says.
const nothing = "Nothing to plot yet."

func (s *sheet) empty() drawing.Drawing {
	s.text(drawing.Remark, s.width/2, 30, drawing.Middle, size, nothing)
	return s.finish(48)
}

func (s *sheet) text(c drawing.Class, x, y float64, a drawing.Anchor, size float64, words string) {
	if words != "" {
		s.add(drawing.Text{Class: c, At: geom.Point{X: x, Y: y}, Size: size, Anchor: a, Words: words})
	}
}

func (s *sheet) line(c drawing.Class, pen float64, dash []float64, points ...geom.Point) {
	s.add(drawing.Lines{Class: c, Chains: [][]geom.Point{points}, Pen: pen, Dash: dash})
}

// room is how wide words are at most.
func room(words string, size float64) float64 {
	r, _ := drawing.Text{Words: words, Size: size, Anchor: drawing.Start}.Room()
	return r.Width()
}

// short cuts words to a width.
func short(words string, size, width float64) string {
	if room(words, size) <= width {
		return words
	}
	runes := []rune(words)
	for len(runes) > 1 && room(string(runes)+"…", size) > width {
		runes = runes[:len(runes)-1]
	}
	return strings.TrimSpace(string(runes)) + "…"
}

func box(x, y, w, h float64) geom.Region {
	return geom.Region{{Outer: geom.Ring{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}}}
}

// tone is the class of a series.
func tone(i int) drawing.Class {
	return [...]drawing.Class{drawing.Series1, drawing.Series2, drawing.Series3, drawing.Series4}[i]
}

// bar is a filled box in the tone and pattern of a series: full, lying strokes, upright strokes, an open box.
func (s *sheet) bar(i int, x, y, w, h float64) {
	c := tone(i)
	if w < 0 {
		x, w = x+w, -w
	}
	if h < 0 {
		y, h = y+h, -h
	}
	if i == 0 {
		s.add(drawing.Area{Class: c, Region: box(x, y, w, h)})
		return
	}
	var strokes [][]geom.Point
	switch pitch := 3.0; i {
	case 1:
		for v := y + pitch/2; v < y+h; v += pitch {
			strokes = append(strokes, []geom.Point{{X: x, Y: v}, {X: x + w, Y: v}})
		}
	case 2:
		for v := x + pitch/2; v < x+w; v += pitch {
			strokes = append(strokes, []geom.Point{{X: v, Y: y}, {X: v, Y: y + h}})
		}
	}
	strokes = append(strokes, []geom.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}, {X: x, Y: y}})
	s.add(drawing.Lines{Class: c, Chains: strokes, Pen: 1.2, True: true})
}

// legend names the series where there are several, and the line that is drawn at a value, and gives the place below.
func (s *sheet) legend(y float64, key func(i int, x, y float64)) float64 {
	x, any := 0.0, false
	entry := func(name string, draw func(x, y float64)) {
		wide := 20 + room(name, small) + 2*gap
		if x > 0 && x+wide-2*gap > s.width {
			x, y = 0, y+18
		}
		draw(x, y)
		s.text(drawing.Dimension, x+20, y+10, drawing.Start, small, short(name, small, s.width-x-20))
		x, any = x+wide, true
	}
	if len(s.Series) > 1 {
		for i, series := range s.Series {
			entry(series.Name, func(x, y float64) { key(i, x, y) })
		}
	}
	if s.Rule.Valid && s.RuleName != "" {
		entry(s.RuleName, func(x, y float64) {
			s.line(drawing.Axis, 1, aimed(), geom.Point{X: x, Y: y + 6}, geom.Point{X: x + 15, Y: y + 6})
		})
	}
	if !any {
		return y
	}
	return y + 22
}

// aimed are the dashes of the line at a value.
func aimed() []float64 { return []float64{4, 3} }

// interval is drawn as a line from end to end with a stroke across each, clear of what it crosses.
func (s *sheet) interval(a, b geom.Point) {
	const arm = 4.0
	across := geom.Point{X: arm}
	if a.Y == b.Y {
		across = geom.Point{Y: arm}
	}
	end := func(p geom.Point) []geom.Point {
		return []geom.Point{{X: p.X - across.X, Y: p.Y - across.Y}, {X: p.X + across.X, Y: p.Y + across.Y}}
	}
	chains := [][]geom.Point{{a, b}, end(a), end(b)}
	s.add(drawing.Lines{Class: drawing.Halo, Pen: 4, True: true, Chains: chains}, drawing.Lines{Class: drawing.Ink, Pen: 1.2, True: true, Chains: chains})
}
