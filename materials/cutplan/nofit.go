package cutplan

import (
	"math"

	"foamwright/materials/geom"
)

// noFit is the no-fit polygon of two convex parts: where the origin of the moving one may not lie when the
// standing one is at the origin, as the half-planes whose common inside it is.
type noFit struct {
	box    geom.Rect
	ring   geom.Ring
	planes []plane
}

// plane holds the points with nx·x + ny·y < c; the normal has length 1.
type plane struct{ nx, ny, c float64 }

// newNoFit of two convex rings: their Minkowski difference.
func newNoFit(standing, moving geom.Ring) noFit {
	k := noFit{ring: minkowski(standing, moving)}
	k.box = k.ring.Bounds()
	k.planes = planes(k.ring)
	return k
}

// planes of a convex ring; an edge too short to have a direction has none, which makes the inside the larger.
func planes(r geom.Ring) []plane {
	out := make([]plane, 0, len(r))
	for i, p := range r {
		u := step(r, i)
		if l := math.Hypot(u.X, u.Y); l >= 1e-9 {
			nx, ny := u.Y/l, -u.X/l
			out = append(out, plane{nx, ny, nx*p.X + ny*p.Y})
		}
	}
	return out
}

// depth is the penetration depth in mm: the shortest way out of the polygon; zero outside.
func (k *noFit) depth(x, y float64) float64 {
	if x <= k.box.Min.X || x >= k.box.Max.X || y <= k.box.Min.Y || y >= k.box.Max.Y {
		return 0
	}
	least := math.Inf(1)
	for i := range k.planes {
		p := &k.planes[i]
		d := p.c - p.nx*x - p.ny*y
		if d <= eps {
			return 0
		}
		if d < least { // min minds NaN and makes every plane wait for the one before: here is where the time goes
			least = d
		}
	}
	return least
}

// mostKept bounds the no-fit polygons of one pair that are remembered; of more parts depths are found afresh.
const mostKept = 150

// pair is two solids, one standing and one moving.
type pair struct {
	standing, moving *solid
	box              geom.Rect
	fits             []noFit // nil where there are too many parts
}

func newPair(a, b *solid) *pair {
	p := &pair{standing: a, moving: b}
	p.box = geom.Rect{
		Min: geom.Point{X: a.box.Min.X - b.box.Max.X, Y: a.box.Min.Y - b.box.Max.Y},
		Max: geom.Point{X: a.box.Max.X - b.box.Min.X, Y: a.box.Max.Y - b.box.Min.Y},
	}
	if len(a.parts)*len(b.parts) <= mostKept {
		for i := range a.parts {
			for k := range b.parts {
				p.fits = append(p.fits, newNoFit(a.parts[i].ring, b.parts[k].ring))
			}
		}
	}
	return p
}

// bytes is about what a pair takes up.
func (p *pair) bytes() int {
	n := 100
	for i := range p.fits {
		n += 80 + 16*cap(p.fits[i].ring) + 24*cap(p.fits[i].planes)
	}
	return n
}

// depth is the sum of the penetration depths of all pairs of parts, and how many were looked at.
func (p *pair) depth(x, y float64) (sum float64, looks int) {
	if x <= p.box.Min.X+eps || x >= p.box.Max.X-eps || y <= p.box.Min.Y+eps || y >= p.box.Max.Y-eps {
		return 0, 0
	}
	if p.fits != nil {
		for i := range p.fits {
			sum += p.fits[i].depth(x, y)
		}
		return sum, len(p.fits)
	}
	for i := range p.standing.parts {
		a := &p.standing.parts[i]
		if a.box.Max.X <= p.moving.box.Min.X+x || a.box.Min.X >= p.moving.box.Max.X+x ||
			a.box.Max.Y <= p.moving.box.Min.Y+y || a.box.Min.Y >= p.moving.box.Max.Y+y {
			continue
		}
		for k := range p.moving.parts {
			b := &p.moving.parts[k]
			if a.box.Max.X > b.box.Min.X+x && a.box.Min.X < b.box.Max.X+x && a.box.Max.Y > b.box.Min.Y+y && a.box.Min.Y < b.box.Max.Y+y {
				looks += 16 // as long as sixteen of the remembered ones
				sum += penetration(a, b, x, y)
			}
		}
		looks += 1 + len(p.moving.parts)/4
	}
	return sum, looks
}

// penetration depth of two convex parts, the second moved by x, y: the least overlap along a normal of either.
func penetration(a, b *part, x, y float64) float64 {
	least := math.Inf(1)
	return b.out(a, -x, -y, a.out(b, x, y, least))
}

// out is how far the other part, moved by x, y, reaches into a part along that of its normals along which it
// does least, or the least known so far; zero when it lies outside one of them.
func (a *part) out(o *part, x, y, least float64) float64 {
	for i := range a.planes {
		p := &a.planes[i]
		c := p.c - p.nx*x - p.ny*y
		d := 0.0
		for _, v := range o.ring {
			if d = max(d, c-p.nx*v.X-p.ny*v.Y); d >= least {
				break
			}
		}
		if d <= eps {
			return 0
		}
		least = min(least, d)
	}
	return least
}
