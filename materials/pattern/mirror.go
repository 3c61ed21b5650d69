package pattern

import (
	"math"

	"foamwright/materials/geom"
)

// alike is how far in mm a mirrored outline may lie from itself and still count as the same.
const alike = 0.05

// mirrored tells whether chains are their own mirror image about the centre line x = 0: every mirrored place lies on
// one of them.
func mirrored(chains [][]geom.Point) bool {
	near := newNearby(chains)
	for _, chain := range chains {
		for _, p := range chain {
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
	bands     [][][2]geom.Point
}

func newNearby(chains [][]geom.Point) nearby {
	var all geom.Ring
	for _, c := range chains {
		all = append(all, c...)
	}
	box := all.Bounds()
	n := nearby{top: box.Min.Y - alike, bands: make([][][2]geom.Point, min(len(all), 2000)+1)}
	n.band = (box.Height() + 2*alike) / float64(len(n.bands))
	for _, c := range chains {
		for i, q := range c[1:] {
			p := c[i]
			from, to := n.at(math.Min(p.Y, q.Y)-alike), n.at(math.Max(p.Y, q.Y)+alike)
			for b := from; b <= to; b++ {
				n.bands[b] = append(n.bands[b], [2]geom.Point{p, q})
			}
		}
	}
	return n
}

func (n nearby) at(y float64) int {
	return min(max(int((y-n.top)/n.band), 0), len(n.bands)-1)
}

func (n nearby) has(p geom.Point) bool {
	for _, side := range n.bands[n.at(p.Y)] {
		if beside(p, side[0], side[1]) <= alike {
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
