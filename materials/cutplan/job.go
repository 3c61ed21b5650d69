// Package cutplan lays the pieces of one foam on the sheets and offcuts of that foam: the plan a maker
// cuts from, and the number of sheets a price rests on.
//
// Units: mm in float64, y pointing down; areas mm²; turns in degrees, turning x towards y; what a sheet
// costs is a whole-number weight, never money. A plan depends on the job, the plan begun from, the seed and the
// evaluations alone, unless a cap ends it:
// no clock, no number of processors. Limits: 1 000 piece copies, 500 kinds of piece, 200 kinds of sheet,
// 2 000 corners a piece, coordinates up to 100 m; about 150 MB of memory. Plans are equal bit by bit on one processor family;
// families that fuse multiplication and addition may round the last digit another way.
package cutplan

import (
	"time"

	"foamwright/materials/geom"
)

// The most a job may hold.
const (
	MaxCopies  = 1_000
	MaxPieces  = 500
	MaxSheets  = 200
	MaxCorners = 2_000
	MaxWeight  = 1_000_000_000
	farthest   = 100_000.0 // mm, as in package geom
)

// Piece is one outline to be cut, Count times.
type Piece struct {
	Label  string
	Shape  geom.Shape
	Count  int
	Turns  []float64 // the turns allowed, degrees; nil is any turn (no grain, no pattern)
	Mirror bool      // may be turned over
	On     *Seat     // set for a panel of an interlocking layer, whose place is already known
}

// Pose is where a shape lies: turned over (x becomes −x) if Mirrored, then turned by Turn degrees about
// its own origin, then moved so that its origin is At.
type Pose struct {
	Turn     float64
	Mirrored bool
	At       geom.Point
}

// Seat is the pose of a panel on a sheet of its own: every copy opens a fresh sheet of that kind and may
// reach its edges, since the panel takes the mat's own edge. What is left of the sheet is free for other pieces.
type Seat struct {
	Sheet int // index into Job.Sheets
	Pose
}

// Sheet is one kind of sheet, mat or offcut that may be opened.
type Sheet struct {
	Label         string
	Shape         geom.Shape // the outline of an offcut; empty for a whole sheet of Width × Height at the origin
	Width, Height float64
	Weight        int64 // what opening one costs, in any whole unit that is the same for all sheets of the job
	Limit         int   // how many there are; 0 is as many as needed
	Roll          bool  // what is left counts over its full height only: the length used is what matters
	Offcut        bool  // from the shelf: taken before a sheet of equal weight per area
}

// KeepRule says which remnants are worth keeping, by their sides and area. The zero rule keeps none.
type KeepRule struct {
	MinSide, MinArea        float64 // mm, mm²: a remnant with both is kept
	StripWidth, StripLength float64 // mm: so is a strip at least this wide and long; zero length for no strips
}

// UsualKeep is the trade's habit: 120 mm and 0.04 m², or a strip of 40 × 600 mm (common practice, no source).
func UsualKeep() KeepRule {
	return KeepRule{MinSide: 120, MinArea: 40_000, StripWidth: 40, StripLength: 600}
}

// Keeps tells whether a remnant of these sides and this area is worth keeping.
func (k KeepRule) Keeps(width, height, area float64) bool {
	short, long := min(width, height), max(width, height)
	return k.MinSide > 0 && short >= k.MinSide && area >= k.MinArea ||
		k.StripLength > 0 && short >= k.StripWidth && long >= k.StripLength
}

// Job is the pieces of one foam and the sheets they may be cut from.
type Job struct {
	Pieces      []Piece
	Sheets      []Sheet
	Spacing     float64 // least distance between two pieces: the knife gap and what the hand needs
	Margin      float64 // least distance from the edge of a sheet
	Keep        KeepRule
	CreditShare int // per mille of a sheet's weight, by area, that a kept offcut gives back in Score
}

// Budget bounds the search. One evaluation is the work of looking at one position of one piece, so that equal
// budgets take about equal time whatever the job: 2.5 million are about a second on one core of a small
// server. The first plan is always finished, even when it takes more.
type Budget struct {
	Evaluations int
	Seed        uint64
	Cap         time.Duration  // ends the search by the clock as well; for benchmarks, since no price may rest on it
	Start       Plan           // a plan of an earlier state of the job to begin from, its pieces renumbered; empty for none
	Progress    func(Progress) // told of every better plan, from the goroutine that plans; nil for no one
	Spent       func(int)      // told about every hundredth how many of the evaluations are spent, likewise
}

// Progress is a better plan on the way, which may be kept: it is not changed afterwards.
type Progress struct {
	Plan        Plan
	Score       Score
	Evaluations int
}

// rings of the sheet's outline, in the sheet's own coordinates.
func (s Sheet) outline() geom.Shape {
	if len(s.Shape.Outer) > 0 {
		return s.Shape
	}
	return geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: s.Width, Y: 0}, {X: s.Width, Y: s.Height}, {X: 0, Y: s.Height}}}
}

// shaped tells whether the sheet is anything but an upright rectangle.
func (s Sheet) shaped() bool {
	o := s.outline()
	box := o.Outer.Bounds()
	return len(o.Holes) > 0 || o.Outer.Area() < box.Width()*box.Height()*(1-1e-12)
}
