package geom

import (
	"math"
	"math/big"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// The rule in quadrature.go against the nodes and weights of gonum.
func TestGauss(t *testing.T) {
	for degree := range 32 { // 16 points are exact to degree 31
		f := func(x float64) float64 { return math.Pow(x, float64(degree)) }
		got, want := gauss(f, -1, 2), quad.Fixed(f, -1, 2, 16, quad.Legendre{}, 0)
		exact := (math.Pow(2, float64(degree+1)) - math.Pow(-1, float64(degree+1))) / float64(degree+1)
		if math.Abs(got-want) > 1e-14*exact || math.Abs(got-exact) > 1e-14*exact {
			t.Errorf("x^%d: got %.17g, gonum %.17g, exact %.17g", degree, got, want, exact)
		}
	}
	// A cusp: |x| has a kink.
	if got := integrate(math.Abs, -1, 1.7, 1); math.Abs(got-(1+1.7*1.7)/2) > 1e-10 {
		t.Errorf("|x|: %v", got)
	}
}

// nearly draws places that are often nearly or exactly on one line.
func nearly(t *rapid.T, label string) Point {
	v := rapid.OneOf(
		rapid.Map(rapid.IntRange(-4, 4), func(i int) float64 { return float64(i) }),
		rapid.Map(rapid.IntRange(-4, 4), func(i int) float64 { return 0.1 * float64(i) }),
		rapid.Map(rapid.IntRange(-4, 4), func(i int) float64 { return 1 + float64(i)*0x1p-52 }),
		rapid.Float64Range(-1e5, 1e5))
	return Point{v.Draw(t, label+"x"), v.Draw(t, label+"y")}
}

func TestOrientIsExact(t *testing.T) {
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	sub := func(a, b float64) *big.Rat { return new(big.Rat).Sub(rat(a), rat(b)) }
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := nearly(t, "a"), nearly(t, "b"), nearly(t, "c")
		left := new(big.Rat).Mul(sub(b.X, a.X), sub(c.Y, a.Y))
		right := new(big.Rat).Mul(sub(b.Y, a.Y), sub(c.X, a.X))
		if got, want := orient(a, b, c), left.Cmp(right); got != want {
			t.Fatalf("%v %v %v: got %d, want %d", a, b, c, got, want)
		}
	})
}

// The sweep against every pair of sides.
func TestCrossingAgainstAllPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var rings []Ring
		grid := rapid.IntRange(3, 40).Draw(t, "grid")
		for range rapid.IntRange(1, 3).Draw(t, "rings") {
			p := rapid.Custom(func(t *rapid.T) Point {
				return Point{float64(rapid.IntRange(0, grid).Draw(t, "x")), float64(rapid.IntRange(0, grid).Draw(t, "y"))}
			})
			r := Ring(rapid.SliceOfN(p, 3, 6).Draw(t, "ring")).distinct()
			if len(r) >= 3 {
				rings = append(rings, r)
			}
		}
		var edges []edge
		for i, r := range rings {
			for j, p := range r {
				q := r[(j+1)%len(r)]
				if q.before(p) {
					p, q = q, p
				}
				edges = append(edges, edge{p, q, i, j, len(r)})
			}
		}
		want := false
		for i := range edges {
			for j := range i {
				_, m := meet(&edges[i], &edges[j])
				want = want || m
			}
		}
		if place, got := crossing(rings); got != want {
			t.Fatalf("%v: got %v at %v, want %v", rings, got, place, want)
		}
	})
}
