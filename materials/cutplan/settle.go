package cutplan

import (
	"math"

	"foamwright/materials/geom"
)

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
