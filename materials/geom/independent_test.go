package geom_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"foamwright/materials/geom"
)

// drawing is a random outline told twice: as path data for the code under test, and as rings of many places found by
// other means here: Bernstein's polynomials, and arcs out of their own centre and angles.
type drawing struct {
	d     string
	path  geom.Path
	dense []geom.Ring // some thousand places a curve
	rough []geom.Ring // some ten places a curve, where every place is tried against every other
}

// drawings are random outlines, the same every time: concave, of lines, curves and arcs of all kinds, some with a
// hole. Those that cross themselves are drawn again.
func drawings(t *testing.T) []drawing {
	n := 300
	if os.Getenv("FOAMWRIGHT_TORTURE") == "1" {
		n = 1000
	}
	r := rand.New(rand.NewPCG(580, 860))
	var all []drawing
	for len(all) < n {
		var w drawing
		w.star(r, 100, 300)
		if r.IntN(3) == 0 {
			w.star(r, 10, 40)
		}
		if w.path = parse(t, w.d); w.path.Check() == nil {
			all = append(all, w)
		}
	}
	return all
}

// star adds a ring of 3 to 9 corners around one place, so far from it.
func (w *drawing) star(r *rand.Rand, least, most float64) {
	n := 3 + r.IntN(7)
	corners := make([]complex128, n)
	start := r.Float64()
	for i := range corners {
		s, c := math.Sincos(2 * math.Pi * (start + (float64(i)+0.7*r.Float64())/float64(n)))
		corners[i] = complex(250, -80) + complex(least+(most-least)*r.Float64(), 0)*complex(c, s)
	}
	var d strings.Builder
	fmt.Fprintf(&d, "M%v,%v", real(corners[0]), imag(corners[0]))
	var dense, rough geom.Ring
	for i, p := range corners {
		draw, at := side(r, p, corners[(i+1)%n])
		d.WriteString(draw)
		dense, rough = append(dense, places(at, 4000)...), append(rough, places(at, 100)...)
	}
	w.d += d.String() + "Z"
	w.dense, w.rough = append(w.dense, dense), append(w.rough, rough)
}

// side is a random way from p to q: how SVG writes it, and where it is at a share from 0 to 1.
func side(r *rand.Rand, p, q complex128) (string, func(float64) complex128) {
	aside := func(at float64) complex128 {
		return p + (q-p)*complex(at, 0.6*(r.Float64()-0.5))
	}
	switch r.IntN(4) {
	case 0:
		return fmt.Sprintf("L%v %v", real(q), imag(q)), func(t float64) complex128 { return p + (q-p)*complex(t, 0) }
	case 1:
		c := aside(0.5)
		return fmt.Sprintf("Q%v %v %v %v", real(c), imag(c), real(q), imag(q)), func(t float64) complex128 {
			u := 1 - t
			return complex(u*u, 0)*p + complex(2*u*t, 0)*c + complex(t*t, 0)*q
		}
	case 2:
		a, b := aside(0.3), aside(0.7)
		return fmt.Sprintf("C%v,%v,%v,%v,%v,%v", real(a), imag(a), real(b), imag(b), real(q), imag(q)), func(t float64) complex128 {
			u := 1 - t
			return complex(u*u*u, 0)*p + complex(3*u*u*t, 0)*a + complex(3*u*t*t, 0)*b + complex(t*t*t, 0)*q
		}
	}
	// An arc of an ellipse that is 1 mm wide one way, turned and grown until it leads from p to q.
	flat, from, by := 0.3+0.7*r.Float64(), 2*math.Pi*r.Float64(), (0.2+1.1*r.Float64())*float64(1-2*r.IntN(2))
	if r.IntN(4) == 0 {
		by *= 2.6 // now and then more than half way round
	}
	unit := func(a float64) complex128 { return complex(math.Cos(a), flat*math.Sin(a)) }
	grow := (q - p) / (unit(from+by) - unit(from))
	size := math.Hypot(real(grow), imag(grow))
	large, sweep := 0, 0
	if math.Abs(by) > math.Pi {
		large = 1
	}
	if by > 0 {
		sweep = 1
	}
	turn := math.Atan2(imag(grow), real(grow)) * 180 / math.Pi
	return fmt.Sprintf("A%v %v %v %d %d %v %v", size, size*flat, turn, large, sweep, real(q), imag(q)), func(t float64) complex128 {
		return p + grow*(unit(from+by*t)-unit(from))
	}
}

// places are n steps of a side, its end left to the next; two more close to its ends tell how it runs there.
func places(at func(float64) complex128, n int) geom.Ring {
	const near = 1e-4
	var ring geom.Ring
	add := func(share float64) {
		p := at(share)
		ring = append(ring, geom.Point{X: real(p), Y: imag(p)})
	}
	for i := range n {
		add(float64(i) / float64(n))
		if i == 0 {
			add(near)
		}
	}
	add(1 - near)
	return ring
}

// polygon is rings as the library github.com/peterstace/simplefeatures (MIT) takes them, the first around the others.
func polygon(rings []geom.Ring) sf.Polygon {
	var lines []sf.LineString
	for _, ring := range rings {
		var xy []float64
		for _, p := range ring {
			xy = append(xy, p.X, p.Y)
		}
		lines = append(lines, sf.NewLineString(sf.NewSequence(append(xy, ring[0].X, ring[0].Y), sf.DimXY)))
	}
	return sf.NewPolygon(lines)
}

// Area and length against the library's on the dense rings, the smallest circle and the fitting rectangle against
// trying everything.
func TestAgainstIndependent(t *testing.T) {
	for i, w := range drawings(t) {
		what := fmt.Sprintf("outline %d, %s: ", i, w.d)
		ref := polygon(w.dense)
		near(t, what+"area", w.path.Area(), ref.Area(), 1e-6)
		near(t, what+"length", w.path.Length(), ref.Boundary().Length(), 1e-6)
		flat := w.path.Flatten(geom.Fine).Points()
		smallestCircle(t, what, w.dense[0], w.path.EnclosingCircle())
		everyTurn(t, what, w.rough[0], flat)
		if t.Failed() {
			return
		}
	}
}

// smallestCircle proves a circle the smallest from both sides: no place lies outside it, so the smallest is no larger;
// and the smallest around some of the places, found by trying every pair and three of them, is no smaller.
func smallestCircle(t *testing.T, what string, ring geom.Ring, c geom.Circle) {
	t.Helper()
	const ways = 24
	var few [ways]geom.Point // the furthest each way from the centre
	var far [ways]float64
	most := 0.0
	for _, p := range ring {
		dx, dy := p.X-c.Centre.X, p.Y-c.Centre.Y
		d := math.Hypot(dx, dy)
		most = max(most, d)
		if k := int((math.Atan2(dy, dx)/math.Pi + 1) / 2 * ways * (1 - 1e-12)); d > far[k] {
			few[k], far[k] = p, d
		}
	}
	near(t, what+"furthest place in the enclosing circle", most, c.Radius, 1e-6)
	best := math.Inf(1)
	try := func(x, y, r float64) {
		for k, p := range few {
			if far[k] > 0 && math.Hypot(p.X-x, p.Y-y) > r*(1+1e-12) {
				return
			}
		}
		best = min(best, r)
	}
	for i, a := range few {
		for j, b := range few[:i] {
			if far[i] == 0 || far[j] == 0 {
				continue
			}
			try((a.X+b.X)/2, (a.Y+b.Y)/2, math.Hypot(a.X-b.X, a.Y-b.Y)/2)
			for k, p := range few[:j] {
				// The middle is as far from all three: two lines of the plane, by Cramer's rule.
				a1, b1, c1 := b.X-a.X, b.Y-a.Y, (b.X*b.X-a.X*a.X+b.Y*b.Y-a.Y*a.Y)/2
				a2, b2, c2 := p.X-a.X, p.Y-a.Y, (p.X*p.X-a.X*a.X+p.Y*p.Y-a.Y*a.Y)/2
				if det := a1*b2 - a2*b1; far[k] > 0 && det != 0 {
					x, y := (c1*b2-c2*b1)/det, (a1*c2-a2*c1)/det
					try(x, y, math.Hypot(a.X-x, a.Y-y))
				}
			}
		}
	}
	near(t, what+"enclosing circle by pairs and threes", c.Radius, best, 1e-6)
}

// everyTurn tries a sheet that nearly fits at every twentieth of a degree.
func everyTurn(t *testing.T, what string, ring geom.Ring, flat []geom.Point) {
	t.Helper()
	box := ring.Bounds()
	w, h := 0.9*box.Width(), box.Height()
	slack, turn := geom.FitsRectangle(flat, w, h)
	hull := geom.Hull(ring)
	room := func(degrees float64) float64 {
		s, c := math.Sincos(degrees * math.Pi / 180)
		x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, p := range hull {
			x, y := p.X*c-p.Y*s, p.X*s+p.Y*c
			x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
		}
		return min(w-(x1-x0), h-(y1-y0))
	}
	best := math.Inf(-1)
	for k := range 3600 {
		best = max(best, room(float64(k)/20))
	}
	// The rough ring is at most so much within the curve, either side; and between two turns a side as long as the
	// outline swings by half a step.
	const rough = 0.02
	swing := math.Hypot(box.Width(), box.Height()) * 0.025 * math.Pi / 180
	if best > slack+rough || best < slack-rough-swing || math.Abs(room(turn)-slack) > rough {
		t.Errorf("%sfits %g × %g with %g at %g°: at that turn there is %g, the most of all turns is %g", what, w, h, slack, turn, room(turn), best)
	}
}
