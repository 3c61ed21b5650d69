package geom

import "math"

// integrate is the integral of f over [a, b] to about 1e-11 of scale, halving where f is not smooth: a curve
// with a cusp has a speed with a kink.
func integrate(f func(float64) float64, a, b, scale float64) float64 {
	return refine(f, a, b, gauss(f, a, b), 1e-11*scale, 40)
}

func refine(f func(float64) float64, a, b, whole, tol float64, depth int) float64 {
	m := (a + b) / 2
	left, right := gauss(f, a, m), gauss(f, m, b)
	if depth == 0 || !(math.Abs(left+right-whole) > tol) {
		return left + right
	}
	return refine(f, a, m, left, tol, depth-1) + refine(f, m, b, right, tol, depth-1)
}

// gauss is the 16-point Gauss-Legendre rule: nodes and weights of the positive half of [-1, 1], worked out
// by Newton's method in 200-bit arithmetic; a test holds them against an independent library.
func gauss(f func(float64) float64, a, b float64) float64 {
	m, h, sum := (a+b)/2, (b-a)/2, 0.0
	for _, n := range [8]struct{ at, by float64 }{
		{0.09501250983763744, 0.1894506104550685}, {0.2816035507792589, 0.18260341504492358},
		{0.45801677765722737, 0.16915651939500254}, {0.6178762444026438, 0.14959598881657674},
		{0.755404408355003, 0.12462897125553388}, {0.8656312023878318, 0.09515851168249279},
		{0.9445750230732326, 0.062253523938647894}, {0.9894009349916499, 0.027152459411754096},
	} {
		sum += n.by * (f(m-h*n.at) + f(m+h*n.at))
	}
	return h * sum
}
