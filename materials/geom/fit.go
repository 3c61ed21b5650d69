package geom

import (
	"math"
	"slices"
	"sort"
)

// FitsRectangle is the turn in degrees, from 0 to under 180 clockwise on the page, at which the outline of
// places fits a box of w × h mm with the most room, and that room: what is left over across the tighter way,
// both sides together. Negative: too big by so much even at the best turn. Of equal turns it is the least.
//
// It is exact. Between the turns at which a side of the hull lies along a side of the box, the same places
// touch the box, and the extents bend downwards only; so the most room is at such a turn, or where the room
// across and the room down are equal.
func FitsRectangle(pts []Point, w, h float64) (slack, turn float64) {
	c := calipersOf(Hull(pts))
	if c == nil {
		return min(w, h), 0
	}
	slack = math.Inf(-1)
	turns := c.turns()
	for i, from := range turns[:len(turns)-1] {
		to := turns[i+1]
		across, down := c.span(-(from+to)/2), c.span(90-(from+to)/2)
		try := func(t float64) {
			s, c := sincos(t)
			room := min(w-(across.X*c-across.Y*s), h-(down.X*s+down.Y*c))
			if t < 180 && room > slack+1e-9 {
				slack, turn = room, t
			}
		}
		try(from)
		// Where both rooms are equal: a cos t - b sin t = w - h.
		a, b := across.X-down.Y, across.Y+down.X
		if k := (w - h) / math.Hypot(a, b); k >= -1 && k <= 1 {
			for _, t := range [2]float64{-math.Acos(k), math.Acos(k)} {
				t = degrees(t - math.Atan2(b, a))
				if t -= 180 * math.Floor(t/180); t > from && t < to {
					try(t)
				}
			}
		}
		try(to)
	}
	return slack, turn
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// calipers find the places of a hull that touch a box around it at any turn.
type calipers struct {
	hull    Ring
	normals []float64 // of the sides, in degrees, rising
}

func calipersOf(hull Ring) *calipers {
	if len(hull) < 2 {
		return nil
	}
	c := &calipers{hull, make([]float64, len(hull))}
	for i, p := range hull {
		d := hull[(i+1)%len(hull)].sub(p)
		n := degrees(math.Atan2(d.Y, d.X)) - 90
		for i > 0 && n < c.normals[i-1] {
			n += 360
		}
		c.normals[i] = n
	}
	return c
}

// turns are 0, 180 and those between at which a side of the hull lies along a side of the box, rising.
func (c *calipers) turns() []float64 {
	t := []float64{0, 180}
	for _, n := range c.normals {
		for _, v := range [2]float64{-n, 90 - n} {
			t = append(t, v-180*math.Floor(v/180))
		}
	}
	slices.Sort(t)
	return slices.Compact(t)
}

// span is from the place furthest against a direction in degrees to the one furthest along it.
func (c *calipers) span(direction float64) Point {
	return c.furthest(direction).sub(c.furthest(direction + 180))
}

func (c *calipers) furthest(direction float64) Point {
	direction -= 360 * math.Floor((direction-c.normals[0])/360)
	return c.hull[sort.SearchFloat64s(c.normals, direction)%len(c.hull)]
}
