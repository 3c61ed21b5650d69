package drawing

import (
	"math"
	"slices"

	"foamwright/materials/geom"
)

// How the bench is looked down upon in an exploded view: shares of what lies level and of what stands, as from about
// 21° above it. No length is drawn out of proportion to another that runs the same way.
const (
	lying    = 0.36
	standing = 0.933
)

// plate is a flat or bent piece of foam that lies in its place on the shield, moved down the page.
type plate struct {
	class    Class
	region   geom.Region // on the face
	from, to float64     // its upper and lower side, mm below the front of the shield
	down     float64     // how far it is moved, mm of the page
	fill     Colour
	seams    [][]geom.Point // lines on its upper side
}

// seen is where a place of the face lies on the page, so many mm below the front.
func (p profile) seen(at geom.Point, v, down float64) geom.Point {
	q := p.at(at.X/p.half, v)
	return geom.Point{X: q.X, Y: lying*at.Y + standing*q.Y + down}
}

// chain is a line of the face on the page; on a bent one it bends.
func (p profile) chain(points []geom.Point, v, down float64) []geom.Point {
	var out []geom.Point
	for i, at := range points {
		if i > 0 && p.angle > 0 {
			before := points[i-1]
			steps := math.Ceil(math.Abs(at.X-before.X) * p.angle / p.half / 0.07)
			for k := 1.0; k < steps; k++ {
				out = append(out, p.seen(toward(before, at, distance(before, at)*k/steps), v, down))
			}
		}
		out = append(out, p.seen(at, v, down))
	}
	return out
}

func (p profile) chains(lines [][]geom.Point, v, down float64) (out [][]geom.Point) {
	for _, l := range lines {
		out = append(out, p.chain(l, v, down))
	}
	return out
}

// plate lays a piece of foam down: the walls that can be seen, then its upper side and what is drawn on that.
func (b *board) plate(p profile, d plate) {
	var top, far, near geom.Region
	for _, s := range d.region {
		shape := geom.Shape{}
		for i, ring := range append([]geom.Ring{s.Outer}, s.Holes...) {
			ring = thinned(ring, 0.01*b.u, true) // finer than is seen, and walls double it
			upper, lower := p.chain(closed(ring), d.from, d.down), p.chain(closed(ring), d.to, d.down)
			if i == 0 {
				shape.Outer = upper[1:]
				near = append(near, walls(upper, lower)...)
			} else {
				shape.Holes = append(shape.Holes, upper[1:])
				far = append(far, walls(upper, lower)...)
			}
		}
		top = append(top, shape)
	}
	if d.to > d.from {
		in, out := mix(d.fill, dark, 0.42), mix(d.fill, dark, 0.3)
		if d.fill.brightness() < 50 { // what is nearly black has lit sides
			in, out = mix(d.fill, light, 0.1), mix(d.fill, light, 0.2)
		}
		b.area(d.class, far, in, finePen)
		b.area(d.class, near, out, finePen)
	}
	b.area(d.class, top, d.fill, detailPen)
	if len(d.seams) > 0 {
		tone := mix(d.fill, dark, 0.62)
		if d.fill.brightness() < 75 {
			tone = mix(d.fill, light, 0.45)
		}
		b.add(Lines{Class: Guide, Colour: tone, Chains: p.chains(d.seams, d.from, d.down), Pen: finePen * b.u})
	}
}

// walls are the sides below an edge that face whoever looks, each stretch of them in one. An edge runs so that the
// foam lies on its right.
func walls(upper, lower []geom.Point) (all geom.Region) {
	var a, z geom.Ring
	end := func() {
		if len(a) > 0 {
			slices.Reverse(z)
			all = append(all, geom.Shape{Outer: append(a, z...)})
		}
		a, z = nil, nil
	}
	for i := range len(upper) - 1 {
		p, q := upper[i], upper[i+1]
		if way := lower[i]; (q.X-p.X)*(way.Y-p.Y)-(q.Y-p.Y)*(way.X-p.X) >= -1e-9 {
			end()
			continue
		}
		if len(a) == 0 {
			a, z = geom.Ring{p}, geom.Ring{lower[i]}
		}
		a, z = append(a, q), append(z, lower[i+1])
	}
	end()
	// A stretch that goes on past the ring's first place is one.
	if n := len(all) - 1; n > 0 && all[0].Outer[0] == upper[0] && slices.Contains(all[n].Outer, upper[len(upper)-1]) {
		half, first := len(all[n].Outer)/2, all[0].Outer
		half0 := len(first) / 2
		whole := slices.Concat(all[n].Outer[:half], first[1:half0], first[half0:len(first)-1], all[n].Outer[half:])
		all[0].Outer, all = whole, all[:n]
	}
	return all
}
