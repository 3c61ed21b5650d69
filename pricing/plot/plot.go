// Package plot draws figures as plots: lying bars, upright columns, curves and points, as drawings that go on a page
// and on paper alike.
//
// Units: one unit of a drawing is one pixel of a page at its own width (Wide or Narrow). Values become floats here and
// nowhere else; what is written beside a mark is written by the chart's own Unit. Series are told apart by tone and by
// pattern or mark, and named in a legend. Limits: four series, what comes after is not drawn; bars and columns begin
// at nought, and so does the axis of values of curves and points; steps of an axis are 1, 2 or 5 of a power of ten.
package plot

import "github.com/shopspring/decimal"

// The widths that plots are made for: a desk screen, a letter (whose smallest words are 8.5 points then), and a
// telephone. Drawn at 11/12 of them on a screen their smallest words are still 11 pixels.
const (
	Wide   = 720.0
	Letter = 520.0
	Narrow = 312.0
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
	Words  string                       // the same in words, for who cannot see it; its values in turn where empty
	Unit   func(decimal.Decimal) string // writes a value
	Along  func(decimal.Decimal) string // writes a place along the other axis of a curve or a scatter
	Names  [2]string                    // of the axes of a curve or a scatter: along, and up
	Series []Series
	Rule   decimal.NullDecimal // a value that a line is drawn at, as a margin that is aimed at
	// RuleName says in the legend what that line is.
	RuleName string
}
