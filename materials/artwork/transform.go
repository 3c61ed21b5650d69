package artwork

import (
	"math"
	"strings"

	"foamwright/materials/geom"
)

// transform reads a transform list: what stands first is done last. What is left is where it went wrong.
func transform(list string) (m geom.Matrix, left string) {
	m, left = geom.Scale(1, 1), strings.TrimSpace(list)
	if left == "none" {
		return m, ""
	}
	for left != "" {
		f := function.FindStringSubmatch(left)
		if f == nil {
			return m, left
		}
		args, ok := numbers(f[2])
		step, known := matrix(f[1], args)
		if !ok || !known {
			return m, left
		}
		m, left = step.Then(m), left[len(f[0]):]
	}
	return m, ""
}

// matrix is one function of a transform list.
func matrix(name string, a []float64) (geom.Matrix, bool) {
	switch {
	case name == "matrix" && len(a) == 6:
		return geom.Matrix{A: a[0], B: a[1], C: a[2], D: a[3], E: a[4], F: a[5]}, true
	case name == "translate" && len(a) == 1:
		return geom.Translate(a[0], 0), true
	case name == "translate" && len(a) == 2:
		return geom.Translate(a[0], a[1]), true
	case name == "scale" && len(a) == 1:
		return geom.Scale(a[0], a[0]), true
	case name == "scale" && len(a) == 2:
		return geom.Scale(a[0], a[1]), true
	case name == "rotate" && len(a) == 1:
		return geom.Rotate(a[0]), true
	case name == "rotate" && len(a) == 3:
		return geom.Translate(-a[1], -a[2]).Then(geom.Rotate(a[0])).Then(geom.Translate(a[1], a[2])), true
	case name == "skewX" && len(a) == 1:
		return geom.Matrix{A: 1, C: math.Tan(a[0] * math.Pi / 180), D: 1}, true
	case name == "skewY" && len(a) == 1:
		return geom.Matrix{A: 1, B: math.Tan(a[0] * math.Pi / 180), D: 1}, true
	}
	return geom.Matrix{}, false
}

// area is how many times larger an area becomes, below zero where it is turned over.
func area(m geom.Matrix) float64 { return m.A*m.D - m.B*m.C }
