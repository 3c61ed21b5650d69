package cutplan

import (
	"errors"
	"fmt"
	"math"

	sf "github.com/peterstace/simplefeatures/geom"

	"foamwright/materials/geom"
)

// Tolerance is how much, in mm, Verify forgives: a distance may be this much too short, and an overlap or an
// overhang this deep along the shorter of the two outlines. It is for rounding and far below any knife.
const Tolerance = 1e-6

// Verify proves a plan against its job, with an overlay that shares no code with the planners: every copy
// placed once, in an allowed pose, inside its sheet less the margin, clear of all others by the spacing;
// panels at their seats on sheets of their own; limits kept; kept offcuts inside their sheets, worth keeping
// and overlapping nothing. The error says what is broken. It is for tests and for refusing a plan, not for
// the person at the screen.
func Verify(job Job, plan Plan) error {
	v := verifier{job: job, plan: plan, on: make([][]laid, len(plan.Sheets))}
	for _, check := range []func() error{v.sheets, v.copies, v.poses, v.inside, v.apart, v.offcuts} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// laid is a piece as it lies.
type laid struct {
	name   string
	seated bool
	shape  sf.Geometry
}

type verifier struct {
	job  Job
	plan Plan
	on   [][]laid // by opened sheet
}

func (v *verifier) sheets() error {
	used := map[int]int{}
	for i, o := range v.plan.Sheets {
		if o.Sheet < 0 || o.Sheet >= len(v.job.Sheets) {
			return fmt.Errorf("opened sheet %d is of kind %d, which is not in the job", i, o.Sheet)
		}
		used[o.Sheet]++
		if s := v.job.Sheets[o.Sheet]; s.Limit > 0 && used[o.Sheet] > s.Limit {
			return fmt.Errorf("%d of sheet %q are opened, there are %d", used[o.Sheet], s.Label, s.Limit)
		}
	}
	return nil
}

func (v *verifier) copies() error {
	seen := map[[2]int]bool{}
	for _, p := range v.plan.Placements {
		switch {
		case p.Piece < 0 || p.Piece >= len(v.job.Pieces) || p.Copy < 0 || p.Copy >= v.job.Pieces[p.Piece].Count:
			return fmt.Errorf("copy %d of piece %d is placed, which is not in the job", p.Copy, p.Piece)
		case p.Sheet < 0 || p.Sheet >= len(v.plan.Sheets):
			return fmt.Errorf("copy %d of piece %d lies on sheet %d, which is not opened", p.Copy, p.Piece, p.Sheet)
		case seen[[2]int{p.Piece, p.Copy}]:
			return fmt.Errorf("copy %d of piece %d is placed twice", p.Copy, p.Piece)
		}
		seen[[2]int{p.Piece, p.Copy}] = true
	}
	for i, p := range v.job.Pieces {
		for c := range p.Count {
			if !seen[[2]int{i, c}] {
				return fmt.Errorf("copy %d of piece %d %q is not placed", c, i, p.Label)
			}
		}
	}
	return nil
}

func (v *verifier) poses() error {
	seats := map[int]bool{}
	for _, p := range v.plan.Placements {
		piece := v.job.Pieces[p.Piece]
		name := fmt.Sprintf("piece %d %q copy %d", p.Piece, piece.Label, p.Copy)
		if math.IsNaN(p.Turn+p.At.X+p.At.Y) || math.IsInf(p.Turn+p.At.X+p.At.Y, 0) {
			return fmt.Errorf("%s lies nowhere", name)
		}
		if on := piece.On; on != nil {
			off := math.Hypot(p.At.X-on.At.X, p.At.Y-on.At.Y)
			switch {
			case v.plan.Sheets[p.Sheet].Sheet != on.Sheet || off > Tolerance || !sameTurn(p.Turn, on.Turn) || p.Mirrored != on.Mirrored:
				return fmt.Errorf("%s is not at its seat", name)
			case seats[p.Sheet]:
				return fmt.Errorf("%s shares its sheet with another panel", name)
			}
			seats[p.Sheet] = true
		} else {
			allowed := piece.Turns == nil
			for _, t := range piece.Turns {
				allowed = allowed || sameTurn(p.Turn, t)
			}
			if !allowed {
				return fmt.Errorf("%s is turned by %v degrees, which is not allowed", name, p.Turn)
			}
			if p.Mirrored && !piece.Mirror {
				return fmt.Errorf("%s is turned over, which is not allowed", name)
			}
		}
		shape, err := polygon(piece.Shape)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		sin, cos := math.Sincos(p.Turn * math.Pi / 180)
		shape = shape.TransformXY(func(q sf.XY) sf.XY {
			if p.Mirrored {
				q.X = -q.X
			}
			return sf.XY{X: cos*q.X - sin*q.Y + p.At.X, Y: sin*q.X + cos*q.Y + p.At.Y}
		})
		v.on[p.Sheet] = append(v.on[p.Sheet], laid{name, piece.On != nil, shape})
	}
	return nil
}

// sameTurn compares two turns round the circle.
func sameTurn(a, b float64) bool { return math.Abs(math.Remainder(a-b, 360)) < 1e-9 }

// polygon of a shape, rings closed; its rings may run either way.
func polygon(s geom.Shape) (sf.Geometry, error) {
	var lines []sf.LineString
	for _, r := range append([]geom.Ring{s.Outer}, s.Holes...) {
		if len(r) == 0 {
			return sf.Geometry{}, errors.New("a ring has no corners")
		}
		xys := make([]float64, 0, 2*len(r)+2)
		for _, p := range r {
			xys = append(xys, p.X, p.Y)
		}
		xys = append(xys, r[0].X, r[0].Y)
		lines = append(lines, sf.NewLineString(sf.NewSequence(xys, sf.DimXY)))
	}
	p := sf.NewPolygon(lines)
	return p.AsGeometry(), p.Validate()
}
