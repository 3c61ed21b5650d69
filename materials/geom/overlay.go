package geom

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	sf "github.com/peterstace/simplefeatures/geom"
)

// sharpest is how far a mitred corner may stand out, as a multiple of the offset, before it is cut off: corners
// down to 11.5° keep their point.
const sharpest = 10

// Offset is the region grown by d mm on all sides, or shrunk when d is negative, with mitred corners: what a
// rim or strip of that width covers. A region thinner than 2|d| shrinks to nothing, which is no error; parts
// that fall apart become shapes of their own. The region must have passed Check. On a round of 580 mm flattened
// to Fine the border is off by up to 0.001 mm shrunk, by 0.002 mm grown by 45 mm, and its area by 6e-6.
func (r Region) Offset(d float64) (Region, error) {
	if !(math.Abs(d) <= reach) {
		return nil, refuse(fmt.Sprint(d), "The offset is no length up to 100 000 mm. Check the number and the unit.")
	}
	if d == 0 || len(r) == 0 {
		return r, nil
	}
	// The library simplifies its input first, by a factor of the offset; by half of Fine it would take away the short
	// steps that tell how a curve leaves a corner.
	simplify := sf.BufferSimplifyFactor(Fine / endStep / math.Abs(d))
	return r.overlay(nil, func(a, _ sf.Geometry) (sf.Geometry, error) {
		return sf.Buffer(a, d, sf.BufferJoinStyleMitre(sharpest), simplify)
	})
}

// Union is what lies in either.
func (r Region) Union(q Region) (Region, error) { return r.overlay(q, sf.Union) }

// Intersect is what lies in both.
func (r Region) Intersect(q Region) (Region, error) { return r.overlay(q, sf.Intersection) }

// Subtract is what of r does not lie in q.
func (r Region) Subtract(q Region) (Region, error) { return r.overlay(q, sf.Difference) }

// overlay is the one place where regions become the library's polygons and come back. A panic of the library
// comes back as an error: it is about our numbers, not about what the customer wrote.
func (r Region) overlay(q Region, f func(a, b sf.Geometry) (sf.Geometry, error)) (out Region, err error) {
	if !r.finite() || !q.finite() {
		return nil, refuse("", "The shape reaches further than 100 000 mm or to no place at all. Check the numbers and the unit.")
	}
	defer func() {
		if p := recover(); p != nil {
			out, err = nil, fmt.Errorf("geom: overlay: %v", p)
		}
	}()
	g, err := f(polygons(r), polygons(q))
	if err != nil {
		return nil, fmt.Errorf("geom: overlay: %w", err)
	}
	return regionFrom(g)
}

func polygons(r Region) sf.Geometry {
	parts := make([]sf.Polygon, len(r))
	for i, s := range r {
		rings := make([]sf.LineString, 0, 1+len(s.Holes))
		for _, g := range append([]Ring{s.Outer}, s.Holes...) {
			xy := make([]float64, 0, 2*len(g)+2)
			for _, p := range append(slices.Clip(g), g[0]) {
				xy = append(xy, p.X, p.Y)
			}
			rings = append(rings, sf.NewLineString(sf.NewSequence(xy, sf.DimXY)))
		}
		parts[i] = sf.NewPolygon(rings)
	}
	return sf.NewMultiPolygon(parts).AsGeometry()
}

// regionFrom takes the polygons of a result; points and lines, where shapes only touched, are left out. Rings
// start at their first place and shapes are in order, so that the same input gives the same bytes.
func regionFrom(g sf.Geometry) (Region, error) {
	var r Region
	for _, part := range g.Dump() {
		p, ok := part.AsPolygon()
		if !ok || p.IsEmpty() {
			continue
		}
		s := Shape{Outer: ringFrom(p.ExteriorRing()).running(1)}
		for i := range p.NumInteriorRings() {
			s.Holes = append(s.Holes, ringFrom(p.InteriorRingN(i)).running(-1))
		}
		r = append(r, s)
	}
	if !r.finite() {
		return nil, errors.New("geom: overlay: a place that is no number")
	}
	for _, s := range r {
		slices.SortFunc(s.Holes, inOrder)
	}
	slices.SortFunc(r, func(s, t Shape) int { return inOrder(s.Outer, t.Outer) })
	return r, nil
}

// ringFrom is a ring that starts at its leftmost, then uppermost place.
func ringFrom(l sf.LineString) Ring {
	c := l.Coordinates()
	r, first := make(Ring, c.Length()-1), 0
	for i := range r {
		xy := c.GetXY(i)
		r[i] = Point{xy.X, xy.Y}
		if r[i].before(r[first]) {
			first = i
		}
	}
	return append(r[first:len(r):len(r)], r[:first]...)
}

func inOrder(r, s Ring) int {
	return cmp.Or(cmp.Compare(r[0].X, s[0].X), cmp.Compare(r[0].Y, s[0].Y), cmp.Compare(len(r), len(s)))
}
