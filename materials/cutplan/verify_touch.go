package cutplan

import (
	"fmt"

	sf "github.com/peterstace/simplefeatures/geom"
)

// within tells whether all of a lies in b.
func within(a, b sf.Geometry) error {
	rest, err := sf.Difference(a, b)
	if err != nil {
		return err
	}
	if rest.Area() > Tolerance*around(a) {
		for _, part := range rest.Dump() {
			if p := part.PointOnSurface().AsGeometry(); sf.Intersects(p, a) && !sf.Intersects(p, b) {
				return fmt.Errorf("%.7g mm² lie outside", rest.Area())
			}
		}
	}
	for _, p := range corners(a) {
		if d, _ := sf.Distance(p, b); d > Tolerance {
			return fmt.Errorf("a corner lies %.7g mm outside", d)
		}
	}
	return deep(b, a, "the edge of the sheet lies under it")
}

// disjoint tells whether a and b share no more than their outlines. The overlay of outlines that touch along
// nearly equal lines is now and then wrong by whole faces, either way; so a face counts only if a point of it
// lies in both, and corners are looked at as well.
func disjoint(a, b sf.Geometry) error {
	if !sf.Intersects(a, b) {
		return nil
	}
	both, err := sf.Intersection(a, b)
	if err != nil {
		return err
	}
	if both.Area() > Tolerance*min(around(a), around(b)) {
		for _, part := range both.Dump() {
			if p := part.PointOnSurface().AsGeometry(); part.IsPolygon() && sf.Intersects(p, a) && sf.Intersects(p, b) {
				return fmt.Errorf("they overlap by %.7g mm²", both.Area())
			}
		}
	}
	if err := deep(a, b, "they overlap"); err != nil {
		return err
	}
	return deep(b, a, "they overlap")
}

// deep tells whether no corner of a lies deeper in b than the tolerance.
func deep(a, b sf.Geometry, what string) error {
	for _, p := range corners(a) {
		if !sf.Intersects(p, b) {
			continue
		}
		if d, _ := sf.Distance(p, b.Boundary()); d > Tolerance {
			return fmt.Errorf("%s, %.7g mm deep at a corner", what, d)
		}
	}
	return nil
}

// corners of a shape and its holes.
func corners(g sf.Geometry) []sf.Geometry {
	seq := g.DumpCoordinates()
	out := make([]sf.Geometry, seq.Length())
	for i := range out {
		out[i] = seq.GetXY(i).AsPoint().AsGeometry()
	}
	return out
}

// around is the length of an outline and its holes.
func around(g sf.Geometry) float64 { return g.Boundary().Length() }
