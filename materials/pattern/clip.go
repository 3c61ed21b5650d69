package pattern

import (
	"math"

	"foamwright/materials/geom"
)

// piece is a stretch of a chain, with how far along the chain it starts: dashes go on where they were.
type piece struct {
	chain []geom.Point
	from  float64
}

// clip is what of a chain lies in a box, stretch by stretch; mere touches are left out.
func clip(chain []geom.Point, box geom.Rect) []piece {
	var out []piece
	open, at := false, 0.0
	for i, q := range chain[1:] {
		p := chain[i]
		long := apart(p, q)
		t0, t1 := inside(p, q, box)
		if t1 <= t0 {
			open, at = false, at+long
			continue
		}
		if !open {
			out = append(out, piece{[]geom.Point{between(p, q, t0)}, at + t0*long})
		}
		last := &out[len(out)-1]
		last.chain = append(last.chain, between(p, q, t1))
		open, at = t1 == 1, at+long
	}
	return out
}

// inside is the share of a side, from t0 to t1, that lies in a box (Liang and Barsky's clipping; from memory).
func inside(p, q geom.Point, box geom.Rect) (t0, t1 float64) {
	t0, t1 = 0, 1
	for _, e := range [4][2]float64{{p.X - q.X, p.X - box.Min.X}, {q.X - p.X, box.Max.X - p.X}, {p.Y - q.Y, p.Y - box.Min.Y}, {q.Y - p.Y, box.Max.Y - p.Y}} {
		switch step, room := e[0], e[1]; {
		case step == 0 && room < 0:
			return 1, 0
		case step < 0:
			t0 = math.Max(t0, room/step)
		case step > 0:
			t1 = math.Min(t1, room/step)
		}
	}
	return t0, t1
}

// between is the place at a share of the way, the ends exactly.
func between(p, q geom.Point, t float64) geom.Point {
	switch t {
	case 0:
		return p
	case 1:
		return q
	}
	return geom.Point{X: p.X + (q.X-p.X)*t, Y: p.Y + (q.Y-p.Y)*t}
}

func apart(p, q geom.Point) float64 { return math.Hypot(q.X-p.X, q.Y-p.Y) }

// length of a chain in mm.
func length(chain []geom.Point) float64 {
	sum := 0.0
	for i, q := range chain[1:] {
		sum += apart(chain[i], q)
	}
	return sum
}

// moved is a chain shifted.
func moved(chain []geom.Point, by geom.Point) []geom.Point {
	out := make([]geom.Point, len(chain))
	for i, p := range chain {
		out[i] = geom.Point{X: p.X + by.X, Y: p.Y + by.Y}
	}
	return out
}
