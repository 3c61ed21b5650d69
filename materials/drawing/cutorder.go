package drawing

import (
	"cmp"
	"math"
	"slices"

	"foamwright/materials/geom"
)

// orderWords tells the rule of Order to who holds the knife; where is the corner it starts from.
func orderWords(where string) string {
	return "Cut by the numbers: what lies in a hole before what is round it, then from the " + where + " corner on, whole strips where a straight cut frees them, so that what is held stays one firm piece."
}

// Order is the order of cutting on one opened sheet, as indices into the plan's placements. The knife starts at the
// corner furthest from the largest kept offcut and works towards it, so that the hand always rests on one firm
// remainder, which in the end is the offcut. Where a straight cut right across frees the pieces beside it without
// touching another, they go first, the smallest strip before larger ones; else the piece nearest to the corner goes.
// What lies in a hole is cut before the piece round it, which is limp once it is free. Common practice, no source.
func (c Cut) Order(sheet int) []int {
	var o ordering
	o.corner, _ = c.corner(sheet)
	var all []*unit
	for i, p := range c.Plan.Placements {
		if p.Sheet == sheet {
			shape := p.Apply(c.Job.Pieces[p.Piece].Shape)
			near := math.Inf(1)
			for _, q := range shape.Outer {
				near = math.Min(near, distance(q, o.corner))
			}
			all = append(all, &unit{at: i, shape: shape, box: o.seen(shape.Outer.Bounds()), near: near})
		}
	}
	o.put(nest(all))
	return o.order
}

// corner is where cutting starts, and its name.
func (c Cut) corner(sheet int) (geom.Point, string) {
	box := outlineOf(c.Job.Sheets[c.Plan.Sheets[sheet].Sheet]).Outer.Bounds()
	var largest float64
	left := geom.Point{X: box.Max.X, Y: box.Max.Y}
	for _, f := range c.Plan.Offcuts {
		if f.Sheet == sheet && f.Area > largest {
			r := f.Shape.Outer.Bounds()
			largest, left = f.Area, geom.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
		}
	}
	// In the middle is as far as anywhere: then it is the upper left.
	at, down, side := box.Min, "upper", "left"
	if left.X < (box.Min.X+box.Max.X)/2-shown {
		at.X, side = box.Max.X, "right"
	}
	if left.Y < (box.Min.Y+box.Max.Y)/2-shown {
		at.Y, down = box.Max.Y, "lower"
	}
	return at, down + " " + side
}

// unit is a piece with what lies in its holes.
type unit struct {
	at     int
	shape  geom.Shape
	box    geom.Rect // as seen from the corner
	near   float64   // its distance from the corner
	within []*unit
}

// nest puts every piece that lies in a hole into the smallest piece it lies in, and returns the others.
func nest(all []*unit) []*unit {
	var free []*unit
	for _, u := range all {
		var host *unit
		for _, v := range all {
			if v != u && v.surrounds(u) && (host == nil || host.surrounds(v)) {
				host = v
			}
		}
		if host == nil {
			free = append(free, u)
		} else {
			host.within = append(host.within, u)
		}
	}
	return free
}

func (u *unit) surrounds(v *unit) bool {
	for _, h := range u.shape.Holes {
		b, w := h.Bounds(), v.shape.Outer.Bounds()
		if b.Min.X <= w.Min.X && b.Min.Y <= w.Min.Y && b.Max.X >= w.Max.X && b.Max.Y >= w.Max.Y &&
			(geom.Region{{Outer: h}}).ContainsPoint(v.shape.Outer[0]) {
			return true
		}
	}
	return false
}

// ordering puts units in order.
type ordering struct {
	corner geom.Point
	order  []int
}

// seen is a box measured from the corner inwards.
func (o *ordering) seen(b geom.Rect) geom.Rect {
	x0, x1 := math.Abs(b.Min.X-o.corner.X), math.Abs(b.Max.X-o.corner.X)
	y0, y1 := math.Abs(b.Min.Y-o.corner.Y), math.Abs(b.Max.Y-o.corner.Y)
	return geom.Rect{Min: geom.Point{X: math.Min(x0, x1), Y: math.Min(y0, y1)}, Max: geom.Point{X: math.Max(x0, x1), Y: math.Max(y0, y1)}}
}

func (o *ordering) put(units []*unit) {
	for len(units) > 1 {
		strip, rest := freed(units)
		if strip == nil {
			near := slices.MinFunc(units, func(a, b *unit) int {
				return cmp.Or(cmp.Compare(a.near, b.near), cmp.Compare(a.at, b.at))
			})
			strip = []*unit{near}
			rest = slices.DeleteFunc(slices.Clone(units), func(u *unit) bool { return u == near })
		}
		o.put(strip)
		units = rest
	}
	for _, u := range units {
		o.put(u.within)
		o.order = append(o.order, u.at)
	}
}

// freed splits units by the straight cut next to the corner that touches none of them: upright or level, whichever
// frees the smaller strip. There is none where they interlock.
func freed(units []*unit) (strip, rest []*unit) {
	var all geom.Rect
	for i, u := range units {
		all = joined(all, u.box, i > 0)
	}
	best := math.Inf(1)
	for _, axis := range [2]func(geom.Rect) (low, high, wide float64){
		func(b geom.Rect) (float64, float64, float64) { return b.Min.Y, b.Max.Y, all.Width() },
		func(b geom.Rect) (float64, float64, float64) { return b.Min.X, b.Max.X, all.Height() },
	} {
		sorted := slices.Clone(units)
		slices.SortStableFunc(sorted, func(a, b *unit) int {
			x, _, _ := axis(a.box)
			y, _, _ := axis(b.box)
			return cmp.Compare(x, y)
		})
		_, far, wide := axis(sorted[0].box)
		from, _, _ := axis(all)
		for i, u := range sorted[1:] {
			low, high, _ := axis(u.box)
			if low >= far-1e-6 {
				if area := (far - from) * wide; area < best {
					best, strip, rest = area, sorted[:i+1], sorted[i+1:]
				}
				break
			}
			far = math.Max(far, high)
		}
	}
	return strip, rest
}
