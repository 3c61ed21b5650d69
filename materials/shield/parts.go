package shield

import (
	"fmt"
	"math"

	"foamwright/materials"
	"foamwright/materials/geom"
)

// Kind says what a part is for.
type Kind string

// The kinds of part, in the order of making.
const (
	LayerPart Kind = "layer"
	RimPart   Kind = "rim"
	EdgePart  Kind = "edge strip"
	PiecePart Kind = "piece"
	GemPart   Kind = "gem"
	CoverPart Kind = "cover strip"
	BlockPart Kind = "grip"
)

// Part is something to cut out of foam.
type Part struct {
	Kind      Kind
	Label     string
	Foam      string     // code
	Shape     geom.Shape // as it is cut, with the trim allowance
	Net       float64    // area of the finished part, mm²
	CutLength float64    // what the knife travels for one, mm
	Count     int        // for one shield
	Turns     []float64  // the turns it may be laid at; nil is any
	Mirror    bool       // may be turned over
	Seat      bool       // a panel that takes its whole place on a mat: it lies at the mat's own corner
}

// Seams are the joints between mats of one layer, all layers together, mm.
type Seams struct {
	Glued, Locked float64
}

// layers cuts every layer, in panels where it is larger than the foam.
func (m *making) layers() {
	trim := 0.0
	if len(m.bent) > 1 {
		trim = m.Bench.Trim.MM()
	}
	var before *grid
	for i := range m.Spec.Core.Layers {
		flat, net := m.Flat, m.Area
		if m.Curve != nil && m.Curve.Longer != nil {
			stretch := m.Curve.Radii[i] / m.Curve.Radii[0]
			flat, net = flat.Transform(geom.Scale(stretch, 1)), net*stretch
		}
		cut := flat
		if trim > 0 {
			grown, err := flat.Offset(trim)
			if m.fail(m.Spec.Outline.field(), err) {
				return
			}
			cut = grown
		}
		label := fmt.Sprintf("layer %d", i+1)
		m.Panels = append(m.Panels, nil)
		if fits(cut, m.CoreFoam) {
			m.Panels[i] = cut
			m.whole(Part{Kind: LayerPart, Label: label, Foam: m.CoreFoam.Code, Count: 1}, cut, net, flat.Length())
			continue
		}
		before = m.panels(label, cut, net, flat.Length(), before)
	}
	m.gather()
}

// whole adds a part that fits one sheet.
func (m *making) whole(p Part, cut geom.Region, net, cutLength float64) {
	if len(cut) != 1 {
		m.problems.Add(m.Spec.Outline.field(), "", "A part falls into several pieces here. Make narrow places wider.")
		return
	}
	p.Shape, p.Net, p.CutLength = cut[0], net, cutLength
	if !m.textured(p.Foam) {
		p.Mirror = true
	}
	m.Parts = append(m.Parts, p)
}

func (m *making) textured(code string) bool {
	f, _ := m.catalogue.Foam(code)
	return f.Textured
}

// fits tells whether a region can be laid whole on one sheet of a foam, at some turn.
func fits(r geom.Region, f materials.Foam) bool {
	slack, _ := geom.FitsRectangle(r.Points(), f.Width.MM(), f.Height.MM())
	return slack >= 0
}

// gather merges equal neighbouring parts ("layer 1", "layer 2") into one with a count.
func (m *making) gather() {
	var merged []Part
	for _, p := range m.Parts {
		if n := len(merged); n > 0 && same(merged[n-1], p) {
			merged[n-1].Count += p.Count
			continue
		}
		merged = append(merged, p)
	}
	m.Parts = merged
}

func same(a, b Part) bool {
	if a.Kind != b.Kind || a.Foam != b.Foam || a.Seat || b.Seat || a.Net != b.Net || len(a.Shape.Outer) != len(b.Shape.Outer) {
		return false
	}
	for i, p := range a.Shape.Outer {
		if p != b.Shape.Outer[i] {
			return false
		}
	}
	return true
}

// rectangle is a block or strip of foam lying at the origin.
func rectangle(width, height float64) geom.Shape {
	return geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: width, Y: 0}, {X: width, Y: height}, {X: 0, Y: height}}}
}

// bar adds a rectangular part.
func (m *making) bar(kind Kind, label, foam string, width, height float64, count int) {
	m.Parts = append(m.Parts, Part{
		Kind: kind, Label: label, Foam: foam, Shape: rectangle(width, height), Net: width * height,
		CutLength: 2 * (width + height), Count: count, Mirror: true, Turns: []float64{0, 90},
	})
}

// runs are the lengths of edge between corners of more than 25°, in order from the first corner, and the
// number of corners. Without a corner the edge is one run.
func runs(ring geom.Ring) (lengths []float64, corners int) {
	const corner = 25 * math.Pi / 180
	n := len(ring)
	var at []int
	for i := range ring {
		a, b, c := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
		before, after := math.Atan2(b.Y-a.Y, b.X-a.X), math.Atan2(c.Y-b.Y, c.X-b.X)
		if math.Abs(math.Remainder(after-before, 2*math.Pi)) > corner {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return []float64{ring.Length()}, 0
	}
	for k, i := range at {
		length, end := 0.0, at[(k+1)%len(at)]
		for j := i; ; {
			next := (j + 1) % n
			length += math.Hypot(ring[next].X-ring[j].X, ring[next].Y-ring[j].Y)
			if j = next; j == end {
				break
			}
		}
		lengths = append(lengths, length)
	}
	return lengths, len(at)
}
