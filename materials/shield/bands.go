package shield

import (
	"fmt"
	"math"
	"slices"

	"foamwright/materials"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
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

// band is everything within width of the outline; it is cut larger outside by the trim allowance. Its area and
// edges are measured finely; what is drawn and cut is coarser.
func (m *making) band(field string, kind Kind, foam materials.Foam, width, trim float64) *Band {
	if width < leastBand {
		m.problems.Add(field, measure.FromMM(width).String(), fmt.Sprintf("A strip of foam is at least %.0f mm wide.", leastBand))
		return nil
	}
	if wound(m.Outline, width) {
		m.nothingLeft(field, width)
		return nil
	}
	outline := finely(m.Outline, m.Flat)
	fine, err := outline.Offset(-width)
	if m.fail(field, err) {
		return nil
	}
	inside, err := m.Flat.Offset(-width)
	if m.fail(field, err) {
		return nil
	}
	if len(fine) == 0 || len(inside) == 0 {
		m.nothingLeft(field, width)
		return nil
	}
	b := &Band{Foam: foam, Width: width, Inside: inside, Area: outline.Area() - fine.Area(), Outer: m.Perimeter, Inner: fine.Length()}
	if b.Region, err = around(m.Flat, inside); m.fail(field, err) {
		return nil
	}
	cut := b.Region
	if trim > 0 {
		grown, err := m.Flat.Offset(trim)
		if err == nil {
			cut, err = around(grown, inside)
		}
		if m.fail(field, err) {
			return nil
		}
	}
	if c := m.Curve; kind == RimPart && c != nil && c.Longer != nil {
		m.outmost(field, b, c.Radii[len(c.Radii)-1]/c.Radii[0], trim)
		return b
	}
	m.bandParts(field, kind, foam, b, cut)
	return b
}

// outmost cuts a rim that is bent over layers with templates of their own: it is as much longer than the first layer
// as it lies further out, and so are its area and edges. Where it lies on the drawing stays as it is.
func (m *making) outmost(field string, b *Band, stretch, trim float64) {
	flat := m.Flat.Transform(geom.Scale(stretch, 1))
	inside, err := flat.Offset(-b.Width)
	if m.fail(field, err) {
		return
	}
	grown, err := flat.Offset(trim)
	if m.fail(field, err) {
		return
	}
	net, err := around(flat, inside)
	if m.fail(field, err) {
		return
	}
	cut, err := around(grown, inside)
	if m.fail(field, err) {
		return
	}
	b.Area, b.Outer, b.Inner = net.Area(), flat.Length(), inside.Length()
	m.bandParts(field, RimPart, b.Foam, b, cut)
	b.Segments = geom.Region(b.Segments).Transform(geom.Scale(1/stretch, 1))
}

// nothingLeft says how wide a band can be: up to the radius of the largest circle inside, which for a plain shape is
// at most its area over half its perimeter.
func (m *making) nothingLeft(field string, width float64) {
	most := math.Min(width, 2*m.Area/m.Perimeter)
	m.problems.Add(field, measure.FromMM(width).String(), fmt.Sprintf("Nothing would be left inside it. Make it narrower than %.0f mm, or the outline plainer.", most))
}

// around is what lies between an outline and its own inward offset. Without holes the one is simply a hole in the
// other; only an outline with holes needs the overlay.
func around(outline, inside geom.Region) (geom.Region, error) {
	if len(outline) != 1 || len(outline[0].Holes) > 0 {
		return outline.Subtract(inside)
	}
	ring := geom.Shape{Outer: outline[0].Outer}
	for _, s := range inside {
		if len(s.Holes) > 0 {
			return outline.Subtract(inside)
		}
		hole := slices.Clone(s.Outer)
		slices.Reverse(hole)
		ring.Holes = append(ring.Holes, hole)
	}
	return geom.Region{ring}, nil
}

// bandParts cuts a band whole, or in segments where it is larger than the foam.
func (m *making) bandParts(field string, kind Kind, foam materials.Foam, b *Band, cut geom.Region) {
	if len(cut) == 1 && fits(cut, foam) {
		b.Segments = cut
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
			b.Segments = append(b.Segments, s)
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
	} else if len(runs) > mostStripCorners {
		m.problems.Add("edge.corners", m.Spec.Edge.Corners, fmt.Sprintf("The strip would meet at %d corners; at most %d can be worked out. Write wrapped, or draw fewer corners.", len(runs), mostStripCorners))
		return
	}
	for i, run := range runs {
		// A run that is a little longer than the foam is not patched with a stub: equal lengths are never shorter
		// than the least joint piece unless the run itself is.
		n := int(math.Ceil(run/longest - 1e-9))
		if least := m.Bench.LeastJoint; n > 1 && run/float64(n) < least.MM() {
			m.problems.Add("edge.foam", m.edge.Code, fmt.Sprintf("It is too short: the strip would be joined of pieces under %s. Choose a longer foam.", least))
			return
		}
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
