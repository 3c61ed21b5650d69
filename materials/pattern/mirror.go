package pattern

import (
	"math"

	"foamwright/materials/geom"
)

// alike is how far in mm a mirrored outline may lie from itself and still count as the same.
const alike = 0.05

// mostCompared is how many places of a drawing are compared; what has more is taken for not alike.
const mostCompared = 5000

// mirrored tells whether chains are their own mirror image about the centre line x = 0: every mirrored place lies on
// one of them.
func mirrored(chains [][]geom.Point) bool {
	near, ok := newNearby(chains)
	if !ok {
		return false
	}
	for _, s := range near.sides {
		for _, p := range s {
			if !near.has(geom.Point{X: -p.X, Y: p.Y}) {
				return false
			}
		}
	}
	return true
}

// nearby finds the sides close to a place: they are kept by the level bands they pass through.
type nearby struct {
	top, band float64
	sides     [][2]geom.Point
	bands     [200][]int32
}

func newNearby(chains [][]geom.Point) (n nearby, ok bool) {
	var all geom.Ring
	for _, c := range chains {
		for i, q := range c[1:] {
			n.sides = append(n.sides, [2]geom.Point{c[i], q})
		}
		if all = append(all, c...); len(all) > mostCompared {
			return n, false
		}
	}
	box := all.Bounds()
	n.top, n.band = box.Min.Y-alike, (box.Height()+2*alike)/float64(len(n.bands))
	for i, s := range n.sides {
		for b := n.at(math.Min(s[0].Y, s[1].Y) - alike); b <= n.at(math.Max(s[0].Y, s[1].Y)+alike); b++ {
			n.bands[b] = append(n.bands[b], int32(i))
		}
	}
	return n, true
}

func (n *nearby) at(y float64) int {
	return min(max(int((y-n.top)/n.band), 0), len(n.bands)-1)
}

func (n *nearby) has(p geom.Point) bool {
	for _, i := range n.bands[n.at(p.Y)] {
		if beside(p, n.sides[i][0], n.sides[i][1]) <= alike {
			return true
		}
	}
	return false
}

// beside is the distance of a place from a side.
func beside(p, a, b geom.Point) float64 {
	t := 0.0
	if long := (b.X-a.X)*(b.X-a.X) + (b.Y-a.Y)*(b.Y-a.Y); long > 0 {
		t = min(max(((p.X-a.X)*(b.X-a.X)+(p.Y-a.Y)*(b.Y-a.Y))/long, 0), 1)
	}
	return apart(p, between(a, b, t))
}

// rightHalf is what of a chain lies right of the centre line or on it. A closed chain that starts on the right is
// joined where it started.
func rightHalf(chain []geom.Point) [][]geom.Point {
	half := geom.Rect{Min: geom.Point{X: 0, Y: math.Inf(-1)}, Max: geom.Point{X: math.Inf(1), Y: math.Inf(1)}}
	var out [][]geom.Point
	for _, piece := range clip(chain, half) {
		out = append(out, piece.chain)
	}
	if n := len(out); n > 1 && chain[0] == chain[len(chain)-1] && chain[0].X > 0 {
		out[0] = append(out[n-1], out[0][1:]...)
		out = out[:n-1]
	}
	return out
}
