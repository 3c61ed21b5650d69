package geom

import (
	"strconv"

	"foamwright/materials/fault"
)

// Outlines stand as a shield is drawn: the origin at the top centre, x to the right, y down, mm. They run
// clockwise on the page. A size that makes no outline is a fault.Invalid with the field's name.

// Ellipse is the oval of a width and a height, as two half turns.
func Ellipse(width, height float64) (Path, error) {
	var l fault.List
	noteSize("width", width, &l)
	noteSize("height", height, &l)
	if !l.Empty() {
		return nil, l.Err()
	}
	b := new(Builder).ArcTo(width/2, height/2, 0, false, true, 0, height)
	return b.ArcTo(width/2, height/2, 0, false, true, 0, 0).Close().Path(), nil
}

// Rectangle has corners rounded by a radius, or sharp ones with radius 0.
func Rectangle(width, height, corner float64) (Path, error) {
	var l fault.List
	noteSize("width", width, &l)
	noteSize("height", height, &l)
	if most := min(width, height) / 2; !(corner >= 0 && corner <= most) {
		l.Add("corner", inMM(corner)+" mm", "A corner radius is from 0 to half the shorter side, here "+inMM(most)+" mm.")
	}
	if !l.Empty() {
		return nil, l.Err()
	}
	a, c := width/2, corner
	b := new(Builder).LineTo(a-c, 0).ArcTo(c, c, 0, false, true, a, c)
	b.LineTo(a, height-c).ArcTo(c, c, 0, false, true, a-c, height)
	b.LineTo(c-a, height).ArcTo(c, c, 0, false, true, -a, height-c)
	return b.LineTo(-a, c).ArcTo(c, c, 0, false, true, c-a, 0).Close().Path(), nil
}

// RegularPolygon has equal sides, one of them level at the top, and is width mm across at its widest.
func RegularPolygon(sides int, width float64) (Path, error) {
	var l fault.List
	noteSize("width", width, &l)
	if sides < 3 || sides > 360 {
		l.Add("sides", strconv.Itoa(sides), "A polygon has from 3 to 360 sides. For more, draw it round.")
	}
	if !l.Empty() {
		return nil, l.Err()
	}
	// Corner k of the right half, from the top, on a circle of radius 1; the left half mirrors it.
	angle := func(k int) float64 { return 180 * float64(2*k+1) / float64(sides) }
	widest := 0.0
	for k := range sides {
		s, _ := sincos(angle(k))
		widest = max(widest, s)
	}
	r, b := width/2/widest, new(Builder)
	_, top := sincos(angle(0))
	for k := range sides {
		i, side := k, 1.0
		if 2*k+1 > sides {
			i, side = sides-1-k, -1
		}
		s, c := sincos(angle(i))
		if 2*k+1 == sides {
			s = 0
		}
		x, y := side*r*s, r*(top-c)
		if k == 0 {
			b.MoveTo(x, y)
		}
		b.LineTo(x, y)
	}
	return b.Close().Path(), nil
}

// noteSize refuses what is no size.
func noteSize(field string, v float64, l *fault.List) {
	if !(v > 0 && v <= reach) {
		l.Add(field, inMM(v)+" mm", "This has to be over 0 and up to 100 000 mm. Check the number and the unit.")
	}
}
