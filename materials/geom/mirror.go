package geom

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"foamwright/materials/fault"
)

// onLine is how far from the centre line in mm counts as on it.
const onLine = 0.001

// MirrorHalf is the whole outline of half of one: a single open stroke on either side of the centre line
// x = 0, starting and ending on it and not crossing it, followed back by its mirror image. What is off is a
// fault.Invalid that says by how many mm and where. The whole still has to pass Check.
func MirrorHalf(half Path) (Path, error) {
	if len(half) != 1 {
		return nil, refuse("", fmt.Sprintf("A half outline is one stroke; this has %d. Draw one from the centre line round to the centre line.", len(half)))
	}
	if half[0].Closed {
		return nil, refuse("", "A half outline stays open along the centre line. Leave out the Z at its end.")
	}
	from, to := half[0].Ends()
	var l fault.List
	for _, e := range []struct {
		name string
		at   Point
	}{{"starts", from}, {"ends", to}} {
		if !(math.Abs(e.at.X) <= onLine) {
			l.Add("", "", fmt.Sprintf("The half outline %s %s mm off the centre line, at %v. Put that place at x = 0.", e.name, inMM(math.Abs(e.at.X)), e.at))
		}
	}
	box := half.Bounds()
	side := cmp.Or(sign(box.Max.X+box.Min.X), 1)
	if over := max(0, min(box.Max.X, -box.Min.X)); !(over <= onLine) {
		far := furthestOver(half, -side)
		l.Add("", "", fmt.Sprintf("The half outline crosses the centre line by %s mm, at %v. Keep it on one side of x = 0.", inMM(over), far))
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	s := slices.Clone(half[0].Segments)
	s[0] = s[0].reverse().endingAt(Point{0, from.Y}).reverse()
	s[len(s)-1] = s[len(s)-1].endingAt(Point{0, to.Y})
	left := Path{{Segments: s}}.Transform(MirrorX()).Reverse()
	whole := Path{{append(s, left[0].Segments...), true}}
	if whole[0].area() < 0 {
		whole = whole.Reverse()
	}
	return whole, nil
}

// furthestOver is the place of a path furthest to one side.
func furthestOver(p Path, side int) Point {
	chain := p.Polylines(Fine)[0]
	return slices.MaxFunc(chain, func(a, b Point) int { return sign((a.X - b.X) * float64(side)) })
}
