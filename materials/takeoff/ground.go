package takeoff

import (
	"cmp"
	"iter"
	"math"
	"slices"
	"sort"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// line is how far apart the lines are at most that the ground is measured along, mm. Between corners that is exact; at
// the end of an edge it is off by up to a sixth of a mm², either way. An edge that runs nearly level would cost its
// length times half of this, so there is a line on both sides of each of its ends.
const line = 0.25

// level tells an edge that crosses one line or two for so much of its length that they may not miss its ends.
func level(p, q geom.Point) bool {
	across := math.Abs(q.X - p.X)
	return across > 1 && across > 16*math.Abs(q.Y-p.Y)
}

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
	bands := []float64{box.Max.Y} // what lies between two of them is measured along its middle
	for y := box.Min.Y; y < box.Max.Y; y += line {
		bands = append(bands, y)
	}
	for _, r := range regions {
		for p, q := range edges(r) {
			if level(p, q) {
				for _, y := range []float64{p.Y, q.Y} {
					if box.Min.Y < y && y < box.Max.Y {
						bands = append(bands, y)
					}
				}
			}
		}
	}
	slices.Sort(bands)
	bands = slices.Compact(bands)
	lines := make([][]crossing, len(bands)-1)
	for i, r := range regions {
		for p, q := range edges(r) {
			cross(lines, bands, i, p, q)
		}
	}
	sum := 0.0
	inside := make([]bool, len(regions))
	for n, l := range lines {
		high := bands[n+1] - bands[n]
		slices.SortFunc(l, func(a, b crossing) int { return cmp.Compare(a.x, b.x) })
		clear(inside)
		over, from := 0, 0.0
		for _, c := range l {
			if inside[0] && over > 0 {
				sum += (c.x - from) * high
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

// edges are those of a region and of its holes.
func edges(r geom.Region) iter.Seq2[geom.Point, geom.Point] {
	return func(yield func(p, q geom.Point) bool) {
		for _, s := range r {
			for _, ring := range append([]geom.Ring{s.Outer}, s.Holes...) {
				for k, p := range ring {
					if !yield(p, ring[(k+1)%len(ring)]) {
						return
					}
				}
			}
		}
	}
}

// cross notes where an edge of region i crosses the lines, each in the middle of its band.
func cross(lines [][]crossing, bands []float64, i int, p, q geom.Point) {
	if p.Y > q.Y {
		p, q = q, p
	}
	middle := func(n int) float64 { return (bands[n] + bands[n+1]) / 2 }
	for n := sort.Search(len(lines), func(n int) bool { return middle(n) >= p.Y }); n < len(lines) && middle(n) < q.Y; n++ {
		lines[n] = append(lines[n], crossing{p.X + (q.X-p.X)*(middle(n)-p.Y)/(q.Y-p.Y), i})
	}
}
