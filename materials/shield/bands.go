package shield

import (
	"fmt"
	"math"

	"foamwright/materials"
	"foamwright/materials/geom"
)

// bands makes the face rim and the thin strip over the joint at the back: both follow the outline.
func (m *making) bands() {
	if r := m.Spec.Rim; r != nil {
		m.Rim = m.band("rim.width", RimPart, m.rim, r.Width.MM(), m.Bench.Trim.MM())
	}
	if c := m.Spec.Back.Cover; c != nil {
		m.Cover = m.band("back.seam_strip.width", CoverPart, m.cover, c.Width.MM(), 0)
	}
}

// band is everything within width of the outline; it is cut larger outside by the trim allowance.
func (m *making) band(field string, kind Kind, foam materials.Foam, width, trim float64) *Band {
	outline := m.Outline.Flatten(geom.Fine)
	inner, err := outline.Offset(-width)
	if m.fail(field, err) {
		return nil
	}
	if len(inner) == 0 {
		most := math.Min(m.Box.Width(), m.Box.Height()) / 2
		m.problems.Add(field, fmt.Sprintf("%.4g mm", width), fmt.Sprintf("Nothing would be left inside it. It must be narrower than %.0f mm here.", most))
		return nil
	}
	region, err := outline.Subtract(inner)
	if m.fail(field, err) {
		return nil
	}
	b := &Band{Foam: foam, Width: width, Area: outline.Area() - inner.Area(), Outer: m.Perimeter, Inner: inner.Length()}
	b.Region, err = m.Flat.Subtract(inner)
	if m.fail(field, err) {
		return nil
	}
	cut := region
	if trim > 0 {
		grown, err := m.Flat.Offset(trim)
		if !m.fail(field, err) {
			cut, err = grown.Subtract(inner)
		}
		if m.fail(field, err) {
			return nil
		}
	}
	m.bandParts(field, kind, foam, b, cut)
	return b
}

// bandParts cuts a band whole, or in segments where it is larger than the foam.
func (m *making) bandParts(field string, kind Kind, foam materials.Foam, b *Band, cut geom.Region) {
	if len(cut) == 1 && fits(cut, foam) {
		m.whole(Part{Kind: kind, Label: string(kind), Foam: foam.Code, Count: 1}, cut, b.Area, b.Outer+b.Inner)
		return
	}
	w, h := foam.Width.MM(), foam.Height.MM()
	g := m.bestGrid(cut, w, h, nil)
	gross := cut.Area()
	for _, cell := range cells(cut, *g, w, h) {
		segments, err := cut.Intersect(box(cell))
		if m.fail(field, err) {
			return
		}
		for _, s := range segments {
			b.Joints++
			one := geom.Region{s}
			m.Parts = append(m.Parts, Part{
				Kind: kind, Label: fmt.Sprintf("%s, segment %d", kind, b.Joints), Foam: foam.Code, Count: 1,
				Shape: shapeAt(s, -cell.Min.X, -cell.Min.Y), Net: one.Area() / gross * b.Area, CutLength: one.Length(), Mirror: !foam.Textured,
			})
		}
	}
}

// strips cuts the edge strip: as wide as the edge and a little more, in lengths the foam allows. Where corners
// meet every corner is a joint; wrapped, the joints may lie anywhere.
func (m *making) strips() {
	if m.Spec.Edge == nil {
		return
	}
	longest := math.Max(m.edge.Width.MM(), m.edge.Height.MM())
	width := m.Total + m.Bench.StripAllowance.MM()
	runs := m.Runs
	if m.Spec.Edge.Corners == "wrapped" {
		runs = []float64{m.Perimeter}
	}
	for i, run := range runs {
		// A run that is a little longer than the foam is not patched with a stub: equal lengths are never shorter
		// than the least joint piece unless the run itself is.
		n := int(math.Ceil(run/longest - 1e-9))
		m.bar(EdgePart, fmt.Sprintf("edge strip, run %d", i+1), m.edge.Code, run/float64(n), width, n)
	}
}

// EdgeLengths is how many lengths the edge strip is made of.
func (s Shield) EdgeLengths() int {
	n := 0
	for _, p := range s.Parts {
		if p.Kind == EdgePart {
			n += p.Count
		}
	}
	return n
}
