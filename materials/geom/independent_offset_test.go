package geom_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foamwright/materials/geom"
)

// field tells how far places are from a ring the way a mitred offset counts it: the distance to the border, but beyond
// a corner the distance to the further of the two lines that meet there.
type field struct {
	ring    geom.Ring
	corners []corner
}

// corner is where a ring turns: into u, out of it along v. Its point stands out of the ring or into it.
type corner struct {
	at, u, v geom.Point
	out      bool
}

// fieldsOf are the fields of a drawing's outer ring and its holes.
func fieldsOf(w drawing) []field {
	var all []field
	for _, r := range w.rough {
		f, n, way := field{ring: r}, len(r), math.Copysign(1, r.Area())
		for i, p := range r {
			c := corner{at: p, u: toward(r[(i+n-1)%n], p), v: toward(p, r[(i+1)%n])}
			if b := c.bend(); math.Abs(b) > 0.02 {
				c.out = b*way > 0
				f.corners = append(f.corners, c)
			}
		}
		all = append(all, f)
	}
	return all
}

func toward(p, q geom.Point) geom.Point {
	d := math.Hypot(q.X-p.X, q.Y-p.Y)
	return geom.Point{X: (q.X - p.X) / d, Y: (q.Y - p.Y) / d}
}

// bend is the turn in radians.
func (c corner) bend() float64 {
	return math.Atan2(c.u.X*c.v.Y-c.u.Y*c.v.X, c.u.X*c.v.X+c.u.Y*c.v.Y)
}

// reaches is how far a place beyond the point is from the further of its two lines; one that lies beside a line is no
// matter of the corner.
func (c corner) reaches(p geom.Point) float64 {
	x, y := p.X-c.at.X, p.Y-c.at.Y
	a, b := x*c.u.Y-y*c.u.X, x*c.v.Y-y*c.v.X // to the side of each line
	if c.bend() < 0 {
		a, b = -a, -b
	}
	if far := math.Max(a, b); far > 0 && x*c.u.X+y*c.u.Y >= 0 && x*c.v.X+y*c.v.Y <= 0 {
		return far
	}
	return math.Inf(1)
}

// from is the distance of a place from the ring, negative inside.
func (f field) from(p geom.Point) float64 {
	best, inside := math.Inf(1), false
	a := f.ring[len(f.ring)-1]
	for _, b := range f.ring {
		dx, dy := b.X-a.X, b.Y-a.Y
		k := max(0, min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/(dx*dx+dy*dy)))
		x, y := p.X-a.X-k*dx, p.Y-a.Y-k*dy
		best = min(best, x*x+y*y)
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)*dx/dy {
			inside = !inside
		}
		a = b
	}
	best = math.Sqrt(best)
	for _, c := range f.corners {
		if c.out != inside {
			best = min(best, c.reaches(p))
		}
	}
	if inside {
		return -best
	}
	return best
}

// from is the distance of a place from all of the drawing: out of the outer ring, or into a hole.
func from(fields []field, p geom.Point) float64 {
	d := fields[0].from(p)
	for _, hole := range fields[1:] {
		d = max(d, -hole.from(p))
	}
	return d
}

// sharp tells whether a corner is under 30°. Its point stands out four times the offset and more, and a thousandth of
// a mm between curve and polygon moves it by more than is asked for here; under 11.5° the offset cuts it off.
func sharp(fields []field) bool {
	return slices.ContainsFunc(fields, func(f field) bool {
		return slices.ContainsFunc(f.corners, func(c corner) bool { return math.Abs(c.bend()) > 150*math.Pi/180 })
	})
}

// Every border of an offset is within 0.05 mm of where it belongs, and nothing is missing or left over: places all
// over agree on which side they are.
func TestOffsetAgainstDistances(t *testing.T) {
	r := rand.New(rand.NewPCG(45, 45))
	const close = 0.05
	tried := 0
	for i, w := range drawings(t) {
		fields := fieldsOf(w)
		if sharp(fields) {
			continue
		}
		tried++
		flat := w.path.Flatten(geom.Fine)
		for _, d := range []float64{2 + 60*r.Float64(), -2 - 60*r.Float64()} {
			got, err := flat.Offset(d)
			if err != nil {
				t.Fatal(err)
			}
			what := fmt.Sprintf("outline %d, %s, offset %g", i, w.d, d)
			var border []geom.Point
			for _, s := range got {
				for _, g := range append([]geom.Ring{s.Outer}, s.Holes...) {
					for k := 0; k < len(g); k += 1 + len(g)/60 {
						p, q := g[k], g[(k+1)%len(g)]
						border = append(border, p, geom.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2})
					}
				}
			}
			for _, p := range border {
				if is := from(fields, p); math.Abs(is-d) > close {
					t.Fatalf("%s: the border at %v is %g from the outline", what, p, is)
				}
			}
			box := flat.Bounds()
			for k := range 200 {
				p := geom.Point{X: box.Min.X - 70 + r.Float64()*(box.Width()+140), Y: box.Min.Y - 70 + r.Float64()*(box.Height()+140)}
				if k%2 == 0 && len(border) > 0 { // within a mm of the border
					at := border[r.IntN(len(border))]
					p = geom.Point{X: at.X + 2*r.Float64() - 1, Y: at.Y + 2*r.Float64() - 1}
				}
				if is := from(fields, p); math.Abs(is-d) > close && got.ContainsPoint(p) != (is < d) {
					t.Fatalf("%s: %v is %g from the outline, within it: %v", what, p, is, got.ContainsPoint(p))
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d outlines without a very sharp corner", tried)
	}
}
