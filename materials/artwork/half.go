package artwork

import (
	"fmt"
	"math"

	"foamwright/materials/geom"
)

// plumb is how far to the side in mm the two ends of a half outline may be: what rounding in a file leaves.
const plumb = 0.05

// mirror makes the half outline whole: it is set upright on its centre line, which moves nothing by more than
// plumb, and mirrored.
func (r *reader) mirror() {
	var half *drawn
	for i := range r.shapes {
		s := &r.shapes[i]
		if s.Role != Outline {
			continue
		}
		if half != nil {
			r.refuse(s.Line, "", "A half outline is one stroke; here is a second one. Join them or rename one.")
			return
		}
		half = s
	}
	from, to := half.Path[0].Ends()
	if dx := math.Abs(to.X - from.X); !half.Path[0].Closed && dx > plumb {
		r.refuse(half.Line, "", fmt.Sprintf("The half outline starts at %v and ends at %v, %.3f mm to the side. Put both ends on one upright line, the centre line.", from, to, dx))
		return
	}
	upright := geom.Translate(-from.X, -from.Y)
	if to.Y != from.Y {
		upright = upright.Then(geom.Matrix{A: 1, C: (from.X - to.X) / (to.Y - from.Y), D: 1})
	}
	whole, err := geom.MirrorHalf(half.Path.Transform(upright))
	if r.take(half.Line, err) {
		half.Path = whole.Transform(geom.Translate(from.X, from.Y))
	}
}
