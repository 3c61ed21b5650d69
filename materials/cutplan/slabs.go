package cutplan

import (
	"slices"

	"foamwright/materials/geom"
)

// slab is a piece of solid between two heights, its left and right sides straight.
type slab struct {
	y0, y1 float64 // y0 < y1
	l0, lk float64 // left side: x at y0 and its slope dx/dy
	r0, rk float64 // right side
}

// Heights closer than level are taken as one; bands lower than flat are boxed in, since slopes over them
// are lost to rounding.
const level, flat = 1e-9, 1e-5

// cutter takes rings apart into slabs. The solid is where the winding number is above zero, so rings that
// overlap themselves count as their union: offsetting and simplifying rely on it (see swell and simplify).
type cutter struct {
	out   []slab
	open  []opening // slabs that end at the last height
	next  []opening
	plain bool // no crossing met and no winding number but 0 and 1: an outline with holes, drawn soundly
}

// opening remembers between which edges a slab of out lies, to prolong it instead of adding another.
type opening struct {
	left, right *edge
	slab        int
}

// cut gives the slabs of the rings, by height, and whether the rings are sound.
func cut(rings []geom.Ring) ([]slab, bool) {
	var heights []float64
	for _, r := range rings {
		for _, p := range r {
			heights = append(heights, p.Y)
		}
	}
	slices.Sort(heights)
	n := 0
	for _, y := range heights {
		if n == 0 || y-heights[n-1] > level {
			heights[n] = y
			n++
		}
	}
	heights = heights[:n]
	edges := sides(rings, heights)
	c := cutter{plain: true}
	var active []*edge
	next := 0
	for i := 0; i+1 < len(heights); i++ {
		y0, y1 := heights[i], heights[i+1]
		active = slices.DeleteFunc(active, func(e *edge) bool { return e.y1 <= y0 })
		for ; next < len(edges) && edges[next].y0 <= y0; next++ {
			active = append(active, &edges[next])
		}
		c.band(active, y0, y1)
	}
	return c.out, c.plain
}

// band cuts the edges between two heights at which none begins or ends; where two cross it halves there.
func (c *cutter) band(active []*edge, y0, y1 float64) {
	low := y1-y0 < flat
	place := func(e *edge) float64 { return e.at((y0 + y1) / 2) }
	if low { // each left side as far left as it reaches, each right side as far right
		place = func(e *edge) float64 {
			if e.turn > 0 {
				return min(e.at(y0), e.at(y1))
			}
			return max(e.at(y0), e.at(y1))
		}
	}
	for i := 1; i < len(active); i++ { // nearly sorted from the band before
		for k := i; k > 0 && place(active[k]) < place(active[k-1]); k-- {
			active[k], active[k-1] = active[k-1], active[k]
		}
	}
	for i := 0; i+1 < len(active) && !low; i++ {
		a, b := active[i], active[i+1]
		d0, d1 := b.at(y0)-a.at(y0), b.at(y1)-a.at(y1)
		if d0 >= -level && d1 >= -level {
			continue
		}
		if y := y0 + (y1-y0)*d0/(d0-d1); y > y0+level && y < y1-level {
			c.plain = false
			c.band(active, y0, y)
			c.band(active, y, y1)
			return
		}
	}
	winding := 0
	c.next = c.next[:0]
	var left *edge
	for _, e := range active {
		was := winding
		winding += e.turn
		c.plain = c.plain && (low || winding == 0 || winding == 1)
		switch {
		case was <= 0 && winding > 0:
			left = e
		case was > 0 && winding <= 0:
			c.add(left, e, y0, y1, low)
		}
	}
	c.open, c.next = c.next, c.open
}

// add puts in the slab between two edges, prolonging the one above it between the same two.
func (c *cutter) add(left, right *edge, y0, y1 float64, low bool) {
	if low {
		c.out = append(c.out, slab{y0: y0, y1: y1, l0: min(left.at(y0), left.at(y1)), r0: max(right.at(y0), right.at(y1))})
		return
	}
	for _, o := range c.open {
		if o.left == left && o.right == right {
			c.out[o.slab].y1 = y1
			c.next = append(c.next, o)
			return
		}
	}
	c.out = append(c.out, slab{y0: y0, y1: y1, l0: left.at(y0), lk: left.k, r0: right.at(y0), rk: right.k})
	c.next = append(c.next, opening{left, right, len(c.out) - 1})
}
