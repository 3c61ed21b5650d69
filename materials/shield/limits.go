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
	if n := len(r.Points()); n > mostCorners {
		return fault.New(fault.Invalid, "The shape bends so often that it has %d corners when it is cut; at most %d can be worked out. Draw it with fewer or simpler curves.", n, mostCorners)
	}
	return nil
}

// finely is the outline for measuring offsets: to geom.Fine, or as drawn where that would be too many corners.
func finely(p geom.Path, flat geom.Region) geom.Region {
	if fine := p.Flatten(geom.Fine); len(fine.Points()) <= mostFineCorners {
		return fine
	}
	return flat
}

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

// laid notes a part that fits no sheet of its foam; it is cut in one.
func (m *making) laid(field string, r geom.Region, foam materials.Foam) {
	if foam.Width > 0 && !fits(r, foam) {
		b := r.Bounds()
		m.problems.Add(field, fmt.Sprintf("%.0f × %.0f mm", b.Width(), b.Height()),
			fmt.Sprintf("%s is %.0f × %.0f mm: make it smaller, draw it in parts, or name a larger foam.", foam.Name, foam.Width.MM(), foam.Height.MM()))
	}
}
