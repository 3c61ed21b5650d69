package shield

import (
	"math"

	"foamwright/materials/geom"
)

// grid is where the seams of one layer run: every pitch from the offset, both ways.
type grid struct{ x, y float64 }

// tries is how many offsets each way are looked at for a layer's grid.
const tries = 11

// bestGrid looks at offsets on a lattice and keeps the best that staggers the seams.
func (m *making) bestGrid(cut geom.Region, w, h float64, before *grid) *grid {
	bounds, sketch := cut.Bounds(), sketch(cut)
	var upright, level [tries]float64 // seam length at each offset
	for i := range tries {
		upright[i] = crossings(cut, bounds.Min.X+w*float64(i)/tries, w, false)
		level[i] = crossings(cut, bounds.Min.Y+h*float64(i)/tries, h, true)
	}
	var spare [2]geom.Ring
	var best *grid
	bestMats, bestSeam := 0, 0.0
	for i := range tries {
		for j := range tries {
			g := grid{bounds.Min.X + w*float64(i)/tries, bounds.Min.Y + h*float64(j)/tries}
			if before != nil && !(apart(g.x, before.x, w, m.Bench.Stagger.MM()) && apart(g.y, before.y, h, m.Bench.Stagger.MM())) {
				continue
			}
			opened := cells(cut, g, w, h)
			if best != nil && len(opened) > bestMats {
				continue
			}
			mats := 0
			for _, c := range opened {
				mats++
				if thin(sketch, c, &spare) {
					mats += 10 // a sliver of a panel is no saving
				}
			}
			seam := upright[i] + level[j]
			if best == nil || mats < bestMats || mats == bestMats && seam < bestSeam-1e-9 {
				best, bestMats, bestSeam = &g, mats, seam
			}
		}
	}
	return best
}

// apart tells whether two offsets of one pitch keep their seams at least so far from each other.
func apart(a, b, pitch, least float64) bool {
	d := math.Abs(math.Remainder(a-b, pitch))
	return d >= least || pitch < 2*least
}

// cells are the mats of a grid that an outline touches: those its edges run through, and those wholly inside it.
func cells(r geom.Region, g grid, w, h float64) []geom.Rect {
	b := r.Bounds()
	x0, y0 := g.x-w*math.Ceil((g.x-b.Min.X)/w), g.y-h*math.Ceil((g.y-b.Min.Y)/h)
	across, down := int(math.Ceil((b.Max.X-x0)/w-1e-9)), int(math.Ceil((b.Max.Y-y0)/h-1e-9))
	at := func(i, j int) geom.Rect {
		x, y := x0+w*float64(i), y0+h*float64(j)
		return geom.Rect{Min: geom.Point{X: x, Y: y}, Max: geom.Point{X: x + w, Y: y + h}}
	}
	// An edge is far shorter than a mat, so nearly always it lies in the one cell of both its ends.
	touched := make([]bool, across*down)
	index := func(v, from, pitch float64, n int) int { return min(max(int((v-from)/pitch), 0), n-1) }
	edge := func(p, q geom.Point) {
		i0, i1 := index(math.Min(p.X, q.X), x0, w, across), index(math.Max(p.X, q.X), x0, w, across)
		j0, j1 := index(math.Min(p.Y, q.Y), y0, h, down), index(math.Max(p.Y, q.Y), y0, h, down)
		for i := i0; i <= i1; i++ {
			for j := j0; j <= j1; j++ {
				if n := j*across + i; !touched[n] {
					touched[n] = enters(p, q, at(i, j))
				}
			}
		}
	}
	for _, s := range r {
		for k, p := range s.Outer {
			edge(p, s.Outer[(k+1)%len(s.Outer)])
		}
	}
	var out []geom.Rect
	for i := range across {
		for j := range down {
			c := at(i, j)
			if touched[j*across+i] || r.ContainsPoint(geom.Point{X: (c.Min.X + c.Max.X) / 2, Y: (c.Min.Y + c.Max.Y) / 2}) {
				out = append(out, c)
			}
		}
	}
	return out
}

// thin tells whether what an outline reaches into a cell is too small to be worth joining on; spare rings are written
// over.
func thin(outline geom.Ring, c geom.Rect, spare *[2]geom.Ring) bool {
	panel := outline
	for i, side := range [4]func(geom.Point) float64{
		func(p geom.Point) float64 { return p.X - c.Min.X }, func(p geom.Point) float64 { return c.Max.X - p.X },
		func(p geom.Point) float64 { return p.Y - c.Min.Y }, func(p geom.Point) float64 { return c.Max.Y - p.Y },
	} {
		spare[i%2] = within(panel, side, spare[i%2][:0])
		panel = spare[i%2]
	}
	b := panel.Bounds()
	return math.Min(b.Width(), b.Height()) < sliver || math.Abs(panel.Area()) < 2*sliver*sliver
}

// within is the part of a ring on the positive side of a line (Sutherland and Hodgman's clipping), put into kept.
func within(ring geom.Ring, side func(geom.Point) float64, kept geom.Ring) geom.Ring {
	for i, q := range ring {
		p := ring[(i+len(ring)-1)%len(ring)]
		dp, dq := side(p), side(q)
		if (dp >= 0) != (dq >= 0) {
			t := dp / (dp - dq)
			kept = append(kept, geom.Point{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)})
		}
		if dq >= 0 {
			kept = append(kept, q)
		}
	}
	return kept
}

// sketch is the outer ring with some sixty of its points: enough to judge how large a panel would be.
func sketch(r geom.Region) geom.Ring {
	outer := r[0].Outer
	step := max(len(outer)/60, 1)
	var few geom.Ring
	for i := 0; i < len(outer); i += step {
		few = append(few, outer[i])
	}
	return few
}

// enters tells whether a line has a piece inside a box (Liang and Barsky's clipping).
func enters(a, b geom.Point, c geom.Rect) bool {
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{{a.X - b.X, a.X - c.Min.X}, {b.X - a.X, c.Max.X - a.X}, {a.Y - b.Y, a.Y - c.Min.Y}, {b.Y - a.Y, c.Max.Y - a.Y}} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q <= 0:
			return false
		case p < 0:
			t0 = math.Max(t0, q/p)
		case p > 0:
			t1 = math.Min(t1, q/p)
		}
	}
	return t1-t0 > 1e-9
}

// crossings is how much of the seam lines of one direction lies inside a region: upright lines at offset +
// k × pitch, or level ones.
func crossings(r geom.Region, offset, pitch float64, level bool) float64 {
	b := r.Bounds()
	from, to := b.Min.X, b.Max.X
	if level {
		from, to = b.Min.Y, b.Max.Y
	}
	sum := 0.0
	for at := offset - pitch*math.Floor((offset-from)/pitch); at < to; at += pitch {
		if at > from+1e-6 {
			sum += across(r, at, level)
		}
	}
	return sum
}
