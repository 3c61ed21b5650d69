package geom

import "math"

// orient is the exact side of c beside the line from a to b: 1 on the side y turns to from x, -1 on the
// other, 0 on the line. Plain floats decide where they can; else the sum of products is made exactly, with
// the error-free sums and products of Dekker, Knuth and Shewchuk (Adaptive precision floating-point
// arithmetic, 1997; from memory).
func orient(a, b, c Point) int {
	left, right := (b.X-a.X)*(c.Y-a.Y), (b.Y-a.Y)*(c.X-a.X)
	det := left - right
	if bound := 3.4e-16 * (math.Abs(left) + math.Abs(right)); det > bound || -det > bound || bound == 0 {
		return sign(det)
	}
	if c == a || c == b {
		return 0 // an end of the line, the commonest of close calls
	}
	var e expansion
	e.product(a.X, b.Y)
	e.product(-a.Y, b.X)
	e.product(b.X, c.Y)
	e.product(-b.Y, c.X)
	e.product(c.X, a.Y)
	e.product(-c.Y, a.X)
	return e.sign()
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// expansion is an exact sum of floats, kept as parts that do not overlap, the smallest first.
type expansion struct {
	parts [12]float64
	n     int
}

// product adds a·b: the rounded product and what the rounding left.
func (e *expansion) product(a, b float64) {
	p := a * b
	e.add(math.FMA(a, b, -p))
	e.add(p)
}

func (e *expansion) add(q float64) {
	for i := range e.n {
		part := e.parts[i]
		sum := q + part
		virtual := sum - q
		e.parts[i] = (q - (sum - virtual)) + (part - virtual)
		q = sum
	}
	e.parts[e.n] = q
	e.n++
}

// sign is that of the largest part that is not nought.
func (e *expansion) sign() int {
	for i := e.n - 1; i >= 0; i-- {
		if s := sign(e.parts[i]); s != 0 {
			return s
		}
	}
	return 0
}
