package drawing

import (
	"image"
	"image/draw"
	"math"

	"foamwright/materials/geom"
)

// hair is the thinnest line that is drawn full, in pixels; thinner ones are drawn as thin as that and paler.
const hair = 1.0

func (c *canvas) lines(l Lines) {
	colour := l.Colour.or(l.Class.own())
	for _, chain := range l.Chains {
		for _, piece := range dashed(chain, l.Dash) {
			c.stroke(piece, l.Pen, colour)
		}
		if l.True && len(l.Dash) == 0 && len(chain) > 0 {
			for _, end := range [2]geom.Point{chain[0], chain[len(chain)-1]} {
				c.roundEnd(chain, end, l.Pen, colour)
			}
		}
	}
}

// stroke draws along a chain: level and upright lines sharp on whole pixels, others smoothed. Its ribbons, and the
// discs on its corners, all run the same way round, so that where they overlap they do not cancel out.
func (c *canvas) stroke(chain []geom.Point, pen float64, colour Colour) {
	wide := pen * c.scale
	if wide < hair {
		colour, wide = colour.veil(float64(colour&0xff)/255*wide/hair), hair
	}
	points := c.outline(chain)
	if len(points) == 2 && (points[0][0] == points[1][0] || points[0][1] == points[1][1]) {
		c.rule(points[0], points[1], wide, colour)
		return
	}
	var parts [][][2]float64
	from := 0 // where the stretch without a sharp corner begins
	for i := 1; i < len(points); i++ {
		if last := i == len(points)-1; last || bends(points[i-1], points[i], points[i+1], wide) {
			parts = append(parts, ribbon(points[from:i+1], wide))
			if from = i; !last {
				parts = append(parts, disc(points[i][0], points[i][1], wide/2))
			}
		}
	}
	if n := len(points); n > 3 && points[0] == points[n-1] && bends(points[n-2], points[0], points[1], wide) {
		parts = append(parts, disc(points[0][0], points[0][1], wide/2))
	}
	c.paint(parts, colour)
}

// ribbon is the outline of a stroke along places between which it bends gently.
func ribbon(points [][2]float64, wide float64) [][2]float64 {
	n := len(points)
	out := make([][2]float64, 2*n)
	for i, p := range points {
		before, after := points[max(i-1, 0)], points[min(i+1, n-1)]
		a, b := math.Atan2(p[1]-before[1], p[0]-before[0]), math.Atan2(after[1]-p[1], after[0]-p[0])
		if i == 0 {
			a = b
		}
		if i == n-1 {
			b = a
		}
		half := math.Remainder(b-a, 2*math.Pi) / 2
		sin, cos := math.Sincos(a + half)
		dx, dy := -sin*wide/2/math.Cos(half), cos*wide/2/math.Cos(half)
		out[i], out[2*n-1-i] = [2]float64{p[0] - dx, p[1] - dy}, [2]float64{p[0] + dx, p[1] + dy}
	}
	return out
}

// bends tells whether a corner is too sharp for a ribbon and needs its own rounding.
func bends(p, q, r [2]float64, wide float64) bool {
	turn := math.Abs(math.Remainder(math.Atan2(r[1]-q[1], r[0]-q[0])-math.Atan2(q[1]-p[1], q[0]-p[0]), 2*math.Pi))
	short := math.Min(math.Hypot(q[0]-p[0], q[1]-p[1]), math.Hypot(r[0]-q[0], r[1]-q[1]))
	return turn > math.Pi/12 || turn*wide/2 > short
}

// rule is a level or upright line.
func (c *canvas) rule(p, q [2]float64, wide float64, colour Colour) {
	thick := int(math.Max(1, math.Round(wide)))
	r := image.Rect(int(math.Round(p[0])), int(math.Round(p[1])), int(math.Round(q[0])), int(math.Round(q[1])))
	if p[0] == q[0] {
		r.Min.X = int(math.Floor(p[0] - float64(thick)/2 + 0.5))
		r.Max.X = r.Min.X + thick
	} else {
		r.Min.Y = int(math.Floor(p[1] - float64(thick)/2 + 0.5))
		r.Max.Y = r.Min.Y + thick
	}
	draw.Draw(c.picture, r, image.NewUniform(colour.NRGBA()), image.Point{}, draw.Over)
}

// roundEnd adds the half disc at an end of what has a true width.
func (c *canvas) roundEnd(chain []geom.Point, end geom.Point, pen float64, colour Colour) {
	if len(chain) < 2 {
		return
	}
	next := chain[1]
	if end == chain[len(chain)-1] {
		next = chain[len(chain)-2]
	}
	x, y := c.pixel(end)
	nx, ny := c.pixel(next)
	way := math.Atan2(y-ny, x-nx)
	radius := pen * c.scale / 2
	const steps = 8
	var half [][2]float64
	for i := range steps + 1 {
		sin, cos := math.Sincos(way + math.Pi*(float64(i)/steps-0.5))
		half = append(half, [2]float64{x + radius*cos, y + radius*sin})
	}
	c.paint([][][2]float64{half}, colour)
}

// dashed is what a dash pattern leaves of a chain.
func dashed(chain []geom.Point, pattern []float64) [][]geom.Point {
	if len(pattern) == 0 {
		return [][]geom.Point{chain}
	}
	var out [][]geom.Point
	k, left := 0, pattern[0]
	piece := []geom.Point{chain[0]}
	for i := 0; i+1 < len(chain); i++ {
		p, q := chain[i], chain[i+1]
		for d := distance(p, q); d > left; d = distance(p, q) {
			p = toward(p, q, left)
			if k%2 == 0 {
				out = append(out, append(piece, p))
			}
			k++
			left, piece = pattern[k%len(pattern)], []geom.Point{p}
		}
		left -= distance(p, q)
		piece = append(piece, q)
	}
	if k%2 == 0 {
		out = append(out, piece)
	}
	return out
}
