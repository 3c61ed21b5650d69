// Package geom measures and cuts outlines: paths of exact segments, flattening, area, length, offset,
// overlay, the enclosing circle and the fitting rectangle.
//
// Units: mm in float64, y pointing down as in SVG; areas mm². Limits: coordinates up to 100 m; path area,
// length and bounds are exact per segment, offsets and overlays work on flattened rings.
package geom

// Point is a place in mm: x to the right, y down.
type Point struct{ X, Y float64 }

// Ring is a closed polygon without a repeated last point.
type Ring []Point

// Shape is one flat piece: an outer ring and the holes in it. Outer rings run one way (positive Area),
// holes the other.
type Shape struct {
	Outer Ring
	Holes []Ring
}

// Region is any number of shapes that do not touch, such as what is left of a sheet.
type Region []Shape

// Rect is an upright box.
type Rect struct{ Min, Max Point }

// Width and Height of the box in mm.
func (r Rect) Width() float64 { return r.Max.X - r.Min.X }

// Height of the box in mm.
func (r Rect) Height() float64 { return r.Max.Y - r.Min.Y }
