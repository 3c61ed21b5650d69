package takeoff

import (
	"cmp"
	"math"
	"slices"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// line is how far apart the lines are that the ground is measured along, mm. Between corners that is exact; where an
// edge runs nearly level it is off by a share of its length times this: a mm² or so, and a printed area shows 100.
const line = 0.25

// ground is the face less the rim and less every part that has a colour of its own, mm². Parts may overlap each
// other and hang over the edge; lines across find what is left of it in the same time however they do.
func ground(s shield.Shield) float64 {
	left := s.Flat
	if s.Rim != nil {
		left = s.Rim.Inside
	}
	cover := []geom.Region{left}
	for _, r := range slices.Concat(s.Pieces, s.Gems) {
		if r.Colour != "" {
			cover = append(cover, r.Region)
		}
	}
	area := left.Area()
	if len(cover) > 1 {
		area -= covered(cover)
	}
	// A share of the measured area, so that a plain face is as large as its back to the last digit.
	return area / s.Flat.Area() * s.Area
}

// crossing is where a line enters or leaves a region: the first, or one that covers it.
type crossing struct {
	x      float64
	region int
}

// covered is the area of the first region that lies under any of the others.
func covered(regions []geom.Region) float64 {
	box := regions[0].Bounds()
	lines := make([][]crossing, int(math.Ceil(box.Height()/line)))
	for i, r := range regions {
		for _, s := range r {
			for _, ring := range append([]geom.Ring{s.Outer}, s.Holes...) {
				for k, p := range ring {
					cross(lines, box.Min.Y, i, p, ring[(k+1)%len(ring)])
				}
			}
		}
	}
	sum := 0.0
	inside := make([]bool, len(regions))
	for _, l := range lines {
		slices.SortFunc(l, func(a, b crossing) int { return cmp.Compare(a.x, b.x) })
		clear(inside)
		over, from := 0, 0.0
		for _, c := range l {
			if inside[0] && over > 0 {
				sum += (c.x - from) * line
			}
			inside[c.region] = !inside[c.region]
			switch {
			case c.region == 0:
			case inside[c.region]:
				over++
			default:
				over--
			}
			from = c.x
		}
	}
	return sum
}

// cross notes where an edge of region i crosses the lines, the first of which runs half a distance below top.
func cross(lines [][]crossing, top float64, i int, p, q geom.Point) {
	if p.Y > q.Y {
		p, q = q, p
	}
	first := max(int(math.Ceil((p.Y-top)/line-0.5)), 0)
	last := min(int(math.Ceil((q.Y-top)/line-0.5)), len(lines))
	for n := first; n < last; n++ {
		y := top + (float64(n)+0.5)*line
		lines[n] = append(lines[n], crossing{p.X + (q.X-p.X)*(y-p.Y)/(q.Y-p.Y), i})
	}
}
