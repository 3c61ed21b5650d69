package shield

import (
	"fmt"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// What one shield may have, so that an estimate always has time for it; no bench sees as much.
const (
	mostRaised        = 200    // pieces and gems on the face
	mostRaisedCorners = 10_000 // of all of them as polygons
	mostStripCorners  = 200    // where an edge strip meets
	mostGrooves       = 100e3  // mm
	leastBand         = 5.0    // mm wide: thinner foam strips tear
	leastPart         = 3.0    // mm either way
)

// Corners that a shape may have as a polygon, and up to which its offsets are measured to geom.Fine: the work grows
// faster than the corners, and no one cuts a shield with that many.
const (
	mostCorners     = 1_500
	mostFineCorners = 4_000
)

// polygons are the polygons of a part's own shape, once it is found fit to cut. err is what reading it gave.
func polygons(p geom.Path, err error) (geom.Region, error) {
	if err == nil {
		err = p.Check()
	}
	if err != nil {
		return nil, err
	}
	r := p.Flatten(drawn)
	return r, simple(r)
}

// simple refuses a shape with more corners than an estimate has time for.
func simple(r geom.Region) error {
	if n := corners(r); n > mostCorners {
		return fault.New(fault.Invalid, "The shape bends so often that it has %d corners when it is cut; at most %d can be worked out. Draw it with fewer or simpler curves.", n, mostCorners)
	}
	return nil
}

// corners counts those of the holes too.
func corners(r geom.Region) int {
	n := 0
	for _, s := range r {
		n += len(s.Outer)
		for _, hole := range s.Holes {
			n += len(hole)
		}
	}
	return n
}

// finely is the outline for measuring offsets: to geom.Fine, or as drawn where that would be too many corners.
func finely(p geom.Path, flat geom.Region) geom.Region {
	if fine := p.Flatten(geom.Fine); corners(fine) <= mostFineCorners {
		return fine
	}
	return flat
}

// wound tells that an outline winds so much for its area that nothing would be left inside an offset of it, or at
// best a speck: the largest circle inside a plain shape is at most its area over half its perimeter in radius, and
// finding the same by the offset itself, which crosses itself over and over, takes far longer.
func wound(p geom.Path, offset float64) bool { return offset*p.Length() > 2*p.Area()*(1+1e-9) }

// crowded tells that there is more on the face than an estimate has time for, and says so once.
func (m *making) crowded() bool {
	count := 0
	for _, p := range m.Spec.Pieces {
		count += p.Count
		if p.Mirror {
			count += p.Count
		}
	}
	for _, g := range m.Spec.Gems {
		count += g.Count
	}
	if count > mostRaised {
		m.problems.Add("pieces", "", fmt.Sprintf("There are %d pieces and gems on one shield; at most %d can be worked out. Draw some of them as one piece.", count, mostRaised))
	}
	return count > mostRaised
}

// laid notes a part that fits no sheet of its foam, since it is cut in one, or that no knife can cut.
func (m *making) laid(field string, r geom.Region, foam materials.Foam) {
	b := r.Bounds()
	if b.Width() < leastPart && b.Height() < leastPart {
		m.problems.Add(field, fmt.Sprintf("%.4g × %.4g mm", b.Width(), b.Height()), fmt.Sprintf("A part smaller than %.0f mm cannot be cut. Drawings without units are in millimetres.", leastPart))
		return
	}
	if foam.Width > 0 && !fits(r, foam) {
		m.problems.Add(field, fmt.Sprintf("%.0f × %.0f mm", b.Width(), b.Height()),
			fmt.Sprintf("%s is %.0f × %.0f mm: make it smaller, draw it in parts, or name a larger foam.", foam.Name, foam.Width.MM(), foam.Height.MM()))
	}
}
