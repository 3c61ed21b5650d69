package cutplan

import (
	"foamwright/materials/geom"
)

// between is the axis strictly between two directions less than half a turn apart, if there is one.
func between(a, b geom.Point) (geom.Point, bool) {
	for _, e := range []geom.Point{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}} {
		if a.X*e.Y-a.Y*e.X > 1e-6 && e.X*b.Y-e.Y*b.X > 1e-6 {
			return e, true
		}
	}
	return geom.Point{}, false
}

// mitre is where two lines at a distance d from p meet, by their normals.
func mitre(p, a, b geom.Point, d float64) geom.Point {
	f := d / (1 + a.X*b.X + a.Y*b.Y)
	return geom.Point{X: p.X + f*(a.X+b.X), Y: p.Y + f*(a.Y+b.Y)}
}
