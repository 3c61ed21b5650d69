package shield

import (
	"fmt"
	"math"

	"foamwright/materials/geom"
)

// Common practice, no source: the least width of a panel worth joining on, mm; and the share of a mat below which a
// panel is cut from an offcut and butted on instead of opening a mat for its teeth.
const (
	sliver = 40
	locked = 0.25
)

// panels cuts a layer over a grid of mats: as few mats as it can be, then short seams, with the seams of
// neighbouring layers apart. It returns the grid for the next layer to stay clear of.
func (m *making) panels(label string, cut geom.Region, net, outline float64, before *grid) *grid {
	pitch, interlock := m.CoreFoam.Pitch.MM(), m.Spec.Core.Joint == "interlock" && m.CoreFoam.Pitch > 0
	w, h := pitch, pitch
	if !interlock {
		w, h = m.CoreFoam.Width.MM(), m.CoreFoam.Height.MM()
	}
	best := m.bestGrid(cut, w, h, before)
	if best == nil {
		m.problems.Add("core.foam", m.CoreFoam.Code, "Its mats are too small for this outline: the seams of neighbouring layers cannot be kept apart.")
		return nil
	}
	seam := crossings(cut, best.x, w, false) + crossings(cut, best.y, h, true)
	gross := cut.Area()
	n, butted := 0, 0.0
	for _, cell := range cells(cut, *best, w, h) {
		panel, err := cut.Intersect(box(cell))
		if m.fail("core.joint", err) {
			return best
		}
		for _, shape := range panel {
			n++
			m.Panels[len(m.Panels)-1] = append(m.Panels[len(m.Panels)-1], shape)
			one := geom.Region{shape}
			seat := interlock && len(panel) == 1 && one.Area() >= locked*w*h
			if interlock && !seat {
				butted += onBorder(shape.Outer, cell)
			}
			m.Parts = append(m.Parts, Part{
				Kind: LayerPart, Label: fmt.Sprintf("%s, panel %d", label, n), Foam: m.CoreFoam.Code, Count: 1,
				Shape: shapeAt(shape, -cell.Min.X, -cell.Min.Y), Seat: seat,
				Net: one.Area() / gross * net, CutLength: one.Length() / (gross / net),
				Mirror: !m.CoreFoam.Textured,
			})
		}
	}
	if interlock {
		m.Seams.Glued += butted
		m.Seams.Locked += math.Max(seam-butted, 0)
	} else {
		m.Seams.Glued += seam
	}
	return best
}

// onBorder is how much of a ring runs along the border of its cell: the seams of a panel.
func onBorder(ring geom.Ring, c geom.Rect) float64 {
	const near = 1e-6
	along := func(a, b, at float64) bool { return math.Abs(a-at) < near && math.Abs(b-at) < near }
	sum := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if along(p.X, q.X, c.Min.X) || along(p.X, q.X, c.Max.X) || along(p.Y, q.Y, c.Min.Y) || along(p.Y, q.Y, c.Max.Y) {
			sum += math.Hypot(q.X-p.X, q.Y-p.Y)
		}
	}
	return sum
}

func box(r geom.Rect) geom.Region {
	return geom.Region{{Outer: geom.Ring{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}}}
}

func shapeAt(s geom.Shape, dx, dy float64) geom.Shape {
	return geom.Region{s}.Transform(geom.Translate(dx, dy))[0]
}
