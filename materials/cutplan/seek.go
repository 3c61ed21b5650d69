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
