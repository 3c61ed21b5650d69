package drawing

import (
	"math"

	"foamwright/materials/geom"
)

// Offcut draws a piece of foam with its measures, on paper that would hold one so wide and high: pictures on papers
// of one size show their offcuts in one scale.
func Offcut(title string, s geom.Shape, wide, high float64) Drawing {
	u := 0.055 * math.Max(wide, high)
	box := s.Outer.Bounds()
	b := newBoard("plan", title, title+", "+widthByHeight(box)+" mm.", u)
	b.area(Mat, geom.Region{simplified(s, shown)}, 0, outlinePen)
	b.level(box.Min.Y-1.2*u, box.Min, geom.Point{X: box.Max.X, Y: box.Min.Y}, mm(math.Round(box.Width())), "")
	b.upright(box.Min.X-1.2*u, box.Min, geom.Point{X: box.Min.X, Y: box.Max.Y}, mm(math.Round(box.Height())))
	b.Sheet = geom.Rect{Min: geom.Point{X: box.Min.X - 3.3*u, Y: box.Min.Y - 3.3*u}, Max: geom.Point{X: box.Min.X + wide + u, Y: box.Min.Y + high + 0.5*u}}
	return b.Drawing
}
