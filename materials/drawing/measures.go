package drawing

import (
	"math"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// faceMeasures are the width above, the height to the right, the shoulder to the left, the rim low on the left.
func (b *board) faceMeasures(s shield.Shield, flat geom.Region, c coats) {
	ring, box := flat[0].Outer, s.Box
	if s.Spec.Outline.Is == "finished" && s.Strip > 0 {
		if out, err := flat.Offset(s.Strip); err == nil && len(out) == 1 {
			ring, box = out[0].Outer, out.Bounds()
		}
	}
	u, all := b.u, box
	var raised []geom.Rect
	for _, p := range append(s.Pieces[:len(s.Pieces):len(s.Pieces)], s.Gems...) {
		raised = append(raised, p.Region.Bounds())
		all = joined(all, p.Region.Bounds(), true)
	}
	left, right := sides(ring)
	top, foot := ends(ring)
	above, below := b.Number(box.Width()), ""
	y := all.Min.Y - 2.4*u
	if s.Curve != nil {
		above, below = b.Say("%s along the curve", b.Number(box.Width())), b.Say("%s straight across", b.Number(math.Round(chord(s))))
		y = all.Min.Y - 3.2*u
	}
	b.level(y, left, right, above, below)
	x := all.Max.X + 2.8*u
	b.upright(x, top.right, foot.right, b.Number(box.Height()))
	if o := s.Spec.Outline; o.Shape == shield.Heater || o.Shape == shield.Kite {
		b.upright(all.Min.X-2*u, top.left, geom.Point{X: box.Min.X, Y: o.Shoulder.MM()}, b.Say("shoulder %s", b.Number(o.Shoulder.MM())))
	}
	if s.Rim != nil {
		b.across(flat[0].Outer, s.Rim.Width, c.rim, b.Say("rim %s", b.Number(s.Rim.Width)), raised)
	}
}

// side is where the places at one end of a ring begin and stop.
type side struct{ left, right geom.Point }

// sides are the places furthest to the left and right, the highest of them where an edge is straight.
func sides(ring geom.Ring) (left, right geom.Point) {
	box := ring.Bounds()
	left, right = geom.Point{X: box.Min.X, Y: box.Max.Y}, geom.Point{X: box.Max.X, Y: box.Max.Y}
	for _, p := range ring {
		if p.X < box.Min.X+drawn && p.Y < left.Y {
			left.Y = p.Y
		}
		if p.X > box.Max.X-drawn && p.Y < right.Y {
			right.Y = p.Y
		}
	}
	return left, right
}

// ends are the highest and lowest places.
func ends(ring geom.Ring) (top, foot side) {
	box := ring.Bounds()
	reach := func(y float64) side {
		s := side{geom.Point{X: box.Max.X, Y: y}, geom.Point{X: box.Min.X, Y: y}}
		for _, p := range ring {
			if math.Abs(p.Y-y) < drawn {
				s.left.X, s.right.X = math.Min(s.left.X, p.X), math.Max(s.right.X, p.X)
			}
		}
		return s
	}
	return reach(box.Min.Y), reach(box.Max.Y)
}

// chord is how wide the finished or the core shield is straight across, as its outline was given.
func chord(s shield.Shield) float64 {
	across := s.Curve.Released.Chord
	if s.Spec.Outline.Is == "finished" {
		across += 2 * s.Strip * math.Cos(s.Curve.Released.Angle/2)
	}
	return across
}
