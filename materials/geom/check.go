package geom

import (
	"fmt"
	"math"
	"slices"

	"foamwright/materials/fault"
)

// Check tells whether the path is an outline that can be cut: finite and within reach, every subpath closed
// (or back at its start to a nanometre), none without an area, none crossing or touching itself or another.
// It is a fault.Invalid with the place in mm and what to do, all problems at once but for crossings, of which
// the first is told. What comes closer to itself than 0.002 mm counts as touching. 2 000 points take 2 ms.
func (p Path) Check() error {
	if len(p) == 0 {
		return refuse("", "There is no outline. Draw one, for example M0 0 H400 V250 L200 600 L0 250 Z.")
	}
	if err := p.Measurable(); err != nil {
		return err
	}
	var l fault.List
	for _, s := range p {
		if from, to := s.Ends(); !s.Closed && from.distance(to) > snap {
			l.Add("", "", fmt.Sprintf("The outline is open: it starts at %v and ends at %v, %s mm apart. Close it with Z or draw on to the start.",
				from, to, inMM(from.distance(to))))
		}
	}
	checkRings(p.rings(Fine), &l)
	return l.Err()
}

// Measurable tells whether the figures of a path can be worked out, an outline or not: it is finite and within
// reach, and makes no more work than any drawing is worth. What is not is a fault.Invalid.
func (p Path) Measurable() error {
	unmeasurable := func(s Subpath) bool {
		return slices.ContainsFunc(s.Segments, func(g Segment) bool { return !measurable(g) })
	}
	if slices.ContainsFunc(p, unmeasurable) {
		return refuse("", "The outline reaches further than 100 000 mm or to no place at all. Check the numbers and the unit.")
	}
	return p.checkSize()
}

// measurable tells whether a segment is finite, within reach, and can be written as path data that is.
func measurable(s Segment) bool {
	if a, ok := s.(Arc); ok {
		if long, _ := a.axes(); !(long.norm() < reach*(1-1e-9)) {
			return false
		}
	}
	return s.Bounds().within()
}

// checkSize refuses what would make more work than any outline is worth.
func (p Path) checkSize() error {
	if len(p) > mostSubpaths {
		return refuse("", fmt.Sprintf("The drawing has %d separate outlines; at most %d can be measured at once. Split it.", len(p), mostSubpaths))
	}
	if n := p.points(Fine); n > mostPoints {
		return refuse("", fmt.Sprintf("The drawing needs %d points; at most %d can be measured at once. Simplify or split it.", n, mostPoints))
	}
	return nil
}

// Check is Path.Check for polygons: finite, with an area, no ring crossing or touching itself or another.
// That holes lie within their outer ring is left to whoever made the region.
func (r Region) Check() error {
	if !r.Bounds().within() || !r.finite() {
		return refuse("", "The shape reaches further than 100 000 mm or to no place at all. Check the numbers and the unit.")
	}
	var l fault.List
	checkRings(r.rings(), &l)
	return l.Err()
}

// finite looks at every place: a box passes over what is no number only in the rings it is not made from.
func (r Region) finite() bool {
	for _, g := range r.rings() {
		if !g.Bounds().within() {
			return false
		}
	}
	return true
}

// checkRings notes the first crossing, or else every ring that encloses nothing.
func checkRings(rings []Ring, l *fault.List) {
	var solid []Ring
	for _, r := range rings {
		if d := r.distinct(); len(d) < 3 {
			noteHollow(r, l)
		} else {
			solid = append(solid, d)
		}
	}
	if at, found := crossing(solid); found {
		l.Add("", "", fmt.Sprintf("The outline crosses or touches itself at %v. Move the lines apart there or draw two outlines.", at))
		return
	}
	for _, r := range solid {
		// A ring is twice its area over its length wide on average; under 0.002 mm there is nothing to cut.
		if math.Abs(r.Area()) <= Fine*r.Length() {
			noteHollow(r, l)
		}
	}
}

func noteHollow(r Ring, l *fault.List) {
	place := "without a place"
	if len(r) > 0 {
		place = "at " + r[0].String()
	}
	l.Add("", "", fmt.Sprintf("The outline %s encloses no area. Remove it or draw its other side.", place))
}

// distinct is the ring without places repeated in a row.
func (r Ring) distinct() Ring {
	q := make(Ring, 0, len(r))
	for i, p := range r {
		if p != r[(i+1)%len(r)] {
			q = append(q, p)
		}
	}
	return q
}
