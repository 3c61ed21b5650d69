package cutplan

import (
	"cmp"
	"slices"

	"foamwright/materials/geom"
)

// remnants finds what is left of opened sheets, and the largest band of the last one, worth keeping or not.
// Boxes are those of the true outlines, by opened sheet. A remnant is what straight cuts right across leave: of
// the free bands over the full width or height the largest worth keeping is cut off, and so on with the parts
// at either side of it. It stays the spacing away from every piece. What lies inside holes and between curves
// is not counted, nor is what a straight cut cannot free of an odd-shaped sheet.
func (j Job) remnants(grounds []*ground, opened []Opened, boxes [][]geom.Rect) (offcuts []Offcut, left float64) {
	for i, o := range opened {
		g := grounds[o.Sheet]
		taken := slices.Clone(g.outside)
		for _, b := range boxes[i] {
			taken = append(taken, geom.Rect{
				Min: geom.Point{X: b.Min.X - j.Spacing, Y: b.Min.Y - j.Spacing},
				Max: geom.Point{X: b.Max.X + j.Spacing, Y: b.Max.Y + j.Spacing},
			})
		}
		for _, r := range j.Keep.split(g.box, taken, nil) {
			offcuts = append(offcuts, Offcut{Sheet: i, Area: r.Width() * r.Height(), Shape: geom.Shape{
				Outer: geom.Ring{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}},
			}})
		}
		left = 0
		for _, r := range bands(g.box, taken) {
			if !j.Sheets[o.Sheet].Roll || r.Height() == g.box.Height() {
				left = max(left, r.Width()*r.Height())
			}
		}
	}
	return offcuts, left
}

// around is what of the last sheet lies outside the box of what lies on it.
func (j Job) around(grounds []*ground, opened []Opened, boxes [][]geom.Rect) float64 {
	last := len(opened) - 1
	if last < 0 {
		return 0
	}
	g := grounds[opened[last].Sheet]
	box := geom.Rect{Min: g.box.Max, Max: g.box.Min}
	for _, b := range boxes[last] {
		box.Min = geom.Point{X: min(box.Min.X, b.Min.X), Y: min(box.Min.Y, b.Min.Y)}
		box.Max = geom.Point{X: max(box.Max.X, b.Max.X), Y: max(box.Max.Y, b.Max.Y)}
	}
	return max(0, g.area-box.Width()*box.Height())
}

// cost is the weight of the opened sheets less the credit of the offcuts, in millionths.
func (j Job) cost(grounds []*ground, opened []Opened, offcuts []Offcut) int64 {
	kept := make([]float64, len(opened))
	for _, c := range offcuts {
		kept[c.Sheet] += c.Area
	}
	sum := int64(0)
	for i, o := range opened {
		weight := j.Sheets[o.Sheet].Weight
		credit := float64(weight) * 1000 * float64(j.CreditShare) * min(1, kept[i]/grounds[o.Sheet].area)
		sum += weight*1_000_000 - int64(credit)
	}
	return sum
}

// split cuts the largest band worth keeping off a region, then goes on with what lies beside it.
func (k KeepRule) split(region geom.Rect, taken []geom.Rect, out []geom.Rect) []geom.Rect {
	var best geom.Rect
	for _, r := range bands(region, taken) {
		if k.Keeps(r.Width(), r.Height(), r.Width()*r.Height()) && r.Width()*r.Height() > best.Width()*best.Height() {
			best = r
		}
	}
	if best == (geom.Rect{}) {
		return out
	}
	out = append(out, best)
	before, after := region, region
	if best.Width() < region.Width() {
		before.Max.X, after.Min.X = best.Min.X, best.Max.X
	} else {
		before.Max.Y, after.Min.Y = best.Min.Y, best.Max.Y
	}
	for _, r := range []geom.Rect{before, after} {
		if r.Width() > 0 && r.Height() > 0 {
			out = k.split(r, taken, out)
		}
	}
	return out
}

// bands are the free stretches over the full height of a region, then those over its full width.
func bands(region geom.Rect, taken []geom.Rect) []geom.Rect {
	var xs, ys []span
	for _, t := range taken {
		if t.Max.X > region.Min.X && t.Min.X < region.Max.X && t.Max.Y > region.Min.Y && t.Min.Y < region.Max.Y {
			xs, ys = append(xs, span{t.Min.X, t.Max.X}), append(ys, span{t.Min.Y, t.Max.Y})
		}
	}
	var out []geom.Rect
	for _, f := range gaps(xs, region.Min.X, region.Max.X) {
		out = append(out, geom.Rect{Min: geom.Point{X: f.lo, Y: region.Min.Y}, Max: geom.Point{X: f.hi, Y: region.Max.Y}})
	}
	for _, f := range gaps(ys, region.Min.Y, region.Max.Y) {
		out = append(out, geom.Rect{Min: geom.Point{X: region.Min.X, Y: f.lo}, Max: geom.Point{X: region.Max.X, Y: f.hi}})
	}
	return out
}

// gaps are the stretches from lo to hi that no span covers.
func gaps(spans []span, lo, hi float64) []span {
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.lo, b.lo) })
	var out []span
	for _, s := range append(spans, span{hi, hi}) {
		if s.lo > lo {
			out = append(out, span{lo, min(s.lo, hi)})
		}
		lo = max(lo, s.hi)
	}
	return out
}
