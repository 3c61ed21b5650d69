// Package plot draws figures as plots: lying bars, upright columns, curves and points, as drawings that go on a page
// and on paper alike.
//
// Units: one unit of a drawing is one pixel of a page at its own width (Wide or Narrow), and of text 12 are a line.
// Values become floats here and nowhere else; what is written beside a mark is written by the chart's own Unit.
// Series are told apart by tone and by pattern or mark, and named in a legend. Limits: at most four series; bars and
// columns begin at nought; an axis has between three and seven steps of 1, 2 or 5.
package plot

import (
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
)

// The widths that plots are made for.
const (
	Wide   = 720.0
	Narrow = 330.0
)

// Point is one value. At is where it stands along the axis of a curve or a scatter; Low and High, where they are known,
// are the ends of its interval.
type Point struct {
	Label     string
	At, Value decimal.Decimal
	Low, High decimal.NullDecimal
}

// Series are values of one kind.
type Series struct {
	Name   string
	Points []Point
}

// Chart is what is plotted. Points of several series with the same place in their lists belong together.
type Chart struct {
	Title  string
	Words  string                       // the same in words, for who cannot see it
	Unit   func(decimal.Decimal) string // writes a value
	Along  func(decimal.Decimal) string // writes a place along the other axis of a curve or a scatter
	Names  [2]string                    // of the axes of a curve or a scatter: along, and up
	Series []Series
	Rule   decimal.NullDecimal // a value that a line is drawn at, as a margin that is aimed at
}

const (
	size  = 12.0 // of text
	small = 11.0
	gap   = 8.0
)

// sheet is a plot while it is drawn.
type sheet struct {
	Chart
	width float64
	marks []drawing.Mark
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

// empty says that there is nothing to plot.
func (s *sheet) empty() drawing.Drawing {
	s.text(drawing.Remark, s.width/2, 30, drawing.Middle, size, "Nothing to plot yet.")
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
	return [...]drawing.Class{drawing.Series1, drawing.Series2, drawing.Series3, drawing.Series4}[i%4]
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
	if i%4 == 0 {
		s.add(drawing.Area{Class: c, Region: box(x, y, w, h)})
		return
	}
	var strokes [][]geom.Point
	switch pitch := 3.0; i % 4 {
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

// legend names the series where there are several, and gives the height it took.
func (s *sheet) legend(y float64, key func(i int, x, y float64)) float64 {
	if len(s.Series) < 2 {
		return y
	}
	x := 0.0
	for i, series := range s.Series {
		wide := 20 + room(series.Name, small) + 2*gap
		if x > 0 && x+wide > s.width {
			x, y = 0, y+18
		}
		key(i, x, y)
		s.text(drawing.Dimension, x+20, y+10, drawing.Start, small, short(series.Name, small, s.width-x-20))
		x += wide
	}
	return y + 22
}

// scale turns values into places between two ends of an axis.
type scale struct{ low, high, from, to float64 }

func (s scale) at(v float64) float64 {
	if s.high == s.low {
		return s.from
	}
	return s.from + (v-s.low)/(s.high-s.low)*(s.to-s.from)
}

// steps are the values that an axis is marked at, and its ends: whole steps of 1, 2 or 5.
func steps(low, high float64, most int) (ticks []float64, from, to float64) {
	if high-low <= 0 {
		high = low + 1
	}
	raw := (high - low) / float64(most)
	ten := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * ten
	for _, m := range []float64{1, 2, 5} {
		if m*ten >= raw*(1-1e-9) {
			step = m * ten
			break
		}
	}
	from, to = math.Floor(low/step+1e-9)*step, math.Ceil(high/step-1e-9)*step
	for i := 0; ; i++ {
		v := from + float64(i)*step
		if v > to+step/2 {
			return ticks, from, to
		}
		ticks = append(ticks, v)
	}
}

// written is a tick as the chart writes values.
func written(unit func(decimal.Decimal) string, v float64) string {
	d := decimal.NewFromFloat(v).Round(6)
	if unit == nil {
		return d.String()
	}
	return unit(d)
}

// span is the least and the largest of all values, their intervals and the rule; with nought in it where asked.
func (s *sheet) span(nought bool) (low, high float64, any bool) {
	take := func(d decimal.Decimal) {
		v := d.InexactFloat64()
		if !any {
			low, high, any = v, v, true
		}
		low, high = math.Min(low, v), math.Max(high, v)
	}
	for _, series := range s.Series {
		for _, p := range series.Points {
			take(p.Value)
			for _, end := range []decimal.NullDecimal{p.Low, p.High} {
				if end.Valid {
					take(end.Decimal)
				}
			}
		}
	}
	if any && s.Rule.Valid {
		take(s.Rule.Decimal)
	}
	if any && nought {
		take(decimal.Zero)
	}
	return low, high, any
}
