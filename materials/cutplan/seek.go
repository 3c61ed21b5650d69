package cutplan

import (
	"math"

	"foamwright/materials/geom"
)

// best is the place found so far for a unit.
type best struct {
	spot
	cost float64
}

// cost of laying a unit at a place: its weighted overlap; given up when it reaches the limit.
func (p *separator) cost(u, sheet int, l *lie, x, y, limit float64) float64 {
	p.evals += 0.3
	t := &p.trays[sheet]
	w := p.weight[u*p.wide:]
	sum := 0.0
	if p.frames[t.kind] != nil {
		sum = p.frame(t.kind, l, x, y) * w[p.wide-1]
	}
	for _, v := range t.units {
		if v == u || sum >= limit {
			continue
		}
		if d := p.touch(v, l, x, y); d > 0 {
			sum += d * w[v]
		}
	}
	return sum
}

// samples are the random places tried for one lie on one sheet, contacts about the most places in touch with
// others, perUnit those in touch with one of them.
const samples, contacts, perUnit = 2, 64, 16

// seek looks on one sheet for the place of least weighted overlap of a unit in one lie: corners, places in
// touch with what lies there, random places; the best of them is then improved.
func (p *separator) seek(u, sheet int, l *lie, b *best) {
	t := &p.trays[sheet]
	room, ok := l.room(t.inner)
	if !ok {
		return
	}
	here := best{cost: math.Inf(1)}
	try := func(x, y float64) {
		if x < room.Min.X || x > room.Max.X || y < room.Min.Y || y > room.Max.Y || here.cost == 0 {
			return
		}
		if c := p.cost(u, sheet, l, x, y, here.cost); c < here.cost {
			here = best{spot{sheet: sheet, lie: l, at: geom.Point{X: x, Y: y}}, c}
		}
	}
	try(room.Min.X, room.Min.Y)
	try(room.Max.X, room.Min.Y)
	try(room.Min.X, room.Max.Y)
	try(room.Max.X, room.Max.Y)
	for range samples {
		try(room.Min.X+p.rng.Float64()*room.Width(), room.Min.Y+p.rng.Float64()*room.Height())
	}
	if n := len(t.units); n > 0 {
		first := p.rng.IntN(n)
		for i, tries := 0, 0; i < n && tries < contacts; i++ {
			if v := t.units[(first+i)%n]; v != u {
				tries += p.contact(&p.at[v], l, try)
			}
		}
	}
	if here.sheet < 0 || math.IsInf(here.cost, 1) {
		return
	}
	if here.cost > 0 && here.cost < 4*b.cost {
		p.settle(u, room, &here)
	}
	if here.cost < b.cost {
		*b = here
	}
}

// contact tries places where a corner of a lie meets one of what lies there, and says how many.
func (p *separator) contact(o *spot, l *lie, try func(x, y float64)) int {
	k := p.pair(o.lie.solid, l.solid)
	corners := 0
	for f := range k.fits {
		corners += len(k.fits[f].ring)
	}
	if corners > 0 && corners <= perUnit {
		for f := range k.fits {
			for _, q := range k.fits[f].ring {
				try(o.at.X+q.X, o.at.Y+q.Y)
			}
		}
		return corners
	}
	for range perUnit {
		if k.fits != nil {
			r := k.fits[p.rng.IntN(len(k.fits))].ring
			q := r[p.rng.IntN(len(r))]
			try(o.at.X+q.X, o.at.Y+q.Y)
			continue
		}
		a, b := o.lie.solid.parts[p.rng.IntN(len(o.lie.solid.parts))].ring, l.solid.parts[p.rng.IntN(len(l.solid.parts))].ring
		v, w := a[p.rng.IntN(len(a))], b[p.rng.IntN(len(b))]
		try(o.at.X+v.X-w.X, o.at.Y+v.Y-w.Y)
	}
	return perUnit
}

// settle improves a place: steps along the axes and slantwise, shorter and shorter, then to where two planes
// of the no-fit polygons around it meet, so that what fits exactly is found exactly.
func (p *separator) settle(u int, room geom.Rect, h *best) {
	try := func(x, y float64) bool {
		x, y = min(room.Max.X, max(room.Min.X, x)), min(room.Max.Y, max(room.Min.Y, y))
		if x == h.at.X && y == h.at.Y {
			return false
		}
		c := p.cost(u, h.sheet, h.lie, x, y, h.cost)
		if c < h.cost {
			h.at, h.cost = geom.Point{X: x, Y: y}, c
			return true
		}
		return false
	}
	size := max(h.lie.box.Width(), h.lie.box.Height())
	for s := size / 8; s > size/400 && h.cost > 0; {
		sin, cos := 0.0, 1.0
		if p.rng.IntN(2) == 0 {
			sin, cos = math.Sincos(p.rng.Float64() * math.Pi / 2)
		}
		x, y := h.at.X, h.at.Y
		if !try(x+s*cos, y+s*sin) && !try(x-s*cos, y-s*sin) && !try(x-s*sin, y+s*cos) && !try(x+s*sin, y-s*cos) {
			s *= 0.4
		}
	}
	for reach := size / 20; reach > size/1000 && h.cost > 0; reach /= 4 {
		if !p.snap(u, room, h, reach, try) {
			break
		}
	}
}

// snap tries the points within reach where two of the planes near a place meet.
func (p *separator) snap(u int, room geom.Rect, h *best, reach float64, try func(x, y float64) bool) bool {
	x, y := h.at.X, h.at.Y
	var near [24]plane
	n := 0
	add := func(q plane) {
		if n < len(near) {
			near[n] = q
			n++
		}
	}
	add(plane{1, 0, room.Min.X})
	add(plane{1, 0, room.Max.X})
	add(plane{0, 1, room.Min.Y})
	add(plane{0, 1, room.Max.Y})
	k := 0
	for i := range n {
		if q := near[i]; math.Abs(q.nx*x+q.ny*y-q.c) <= reach {
			near[k] = q
			k++
		}
	}
	n = k
	for _, v := range p.trays[h.sheet].units {
		if v == u {
			continue
		}
		o := &p.at[v]
		dx, dy := x-o.at.X, y-o.at.Y
		pr := p.pair(o.lie.solid, h.lie.solid)
		for f := range pr.fits {
			fit := &pr.fits[f]
			if dx < fit.box.Min.X-reach || dx > fit.box.Max.X+reach || dy < fit.box.Min.Y-reach || dy > fit.box.Max.Y+reach {
				continue
			}
			var first plane
			least := math.Inf(1)
			for _, q := range fit.planes {
				if d := q.c - q.nx*dx - q.ny*dy; d < least {
					least, first = d, q
				}
			}
			if math.Abs(least) > reach {
				continue
			}
			first.c += first.nx*o.at.X + first.ny*o.at.Y
			add(first)
		}
	}
	moved := false
	for i := range n {
		for k := range i {
			a, b := near[i], near[k]
			det := a.nx*b.ny - a.ny*b.nx
			if math.Abs(det) < 1e-3 {
				continue
			}
			qx, qy := (a.c*b.ny-b.c*a.ny)/det, (a.nx*b.c-b.nx*a.c)/det
			if math.Abs(qx-x) <= 2*reach && math.Abs(qy-y) <= 2*reach && h.cost > 0 && try(qx, qy) {
				moved = true
			}
		}
	}
	return moved
}
