package shield

import (
	"fmt"
	"strings"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// drawn is how closely polygons follow an outline for plan and drawing, in mm.
const drawn = 0.05

// Shield is a spec worked out: what it measures and every part it is made of. Lengths mm, areas mm².
type Shield struct {
	Spec            Spec
	Bench           Bench
	Outline         geom.Path   // of one layer's template
	Flat            geom.Region // the same as polygons
	Box             geom.Rect
	Area, Perimeter float64
	Circle          float64   // diameter of the enclosing circle
	Runs            []float64 // lengths of edge from corner to corner; one run where there is no corner
	Corners         int
	CoreFoam        materials.Foam
	Core, Total     float64 // thickness of the layers, and with the rim
	Strip           float64 // thickness of the edge strip; 0 without
	Curve           *Curve  // nil when flat
	Rim, Cover      *Band   // nil without
	Former          float64 // radius; 0 is flat
	FormerStands    bool    // the spec names one of the workshop's list
	Pieces, Gems    []Placed
	Free            []Placed // parts that are the spec's own; they have no place on the face
	Grooves         []Carved
	Planks          []float64 // x of each plank line
	PlankLine       float64   // their length
	Parts           []Part
	Panels          [][]geom.Shape // of each layer, from the back: what it is joined of, as cut, where it lies on the outline
	Seams           Seams
	Grip            Hold
	Warnings        []string
}

// Band runs along the outline: its outer edge is the outline, its inner edge is parallel to it.
type Band struct {
	Foam         materials.Foam
	Width        float64
	Region       geom.Region
	Inside       geom.Region // what the band leaves free
	Area         float64
	Outer, Inner float64      // lengths of edge
	Segments     []geom.Shape // what it is joined of, as cut, where they lie
	Joints       int          // where it is put together of several pieces
}

// Placed is one raised part where it goes on the face.
type Placed struct {
	Name, Colour    string
	Foam            materials.Foam
	Region          geom.Region
	Area, Perimeter float64
	Layers          int
	Count           int  // of free parts; a placed one stands for itself
	Loose           bool // not glued to the rest
	Prep            string
}

// Carved is a groove: its length, and its line where it was drawn.
type Carved struct {
	Tool   string
	Length float64
	Passes int
	Knots  bool
	Line   geom.Path
	Set    bool // put at a place of its own: it keeps its size where a template is wider
}

// making is a shield while it is worked out, with everything found wrong so far.
type making struct {
	Shield
	catalogue        materials.Catalogue
	rim, edge, cover materials.Foam
	bent             []float64 // thickness of each bent layer from the back
	problems         fault.List
}

// Make works a spec out. The fault lists everything that cannot be made, each with its field and remedy. How it
// stands to the size rule is for Judge to say, once its weight is known.
func Make(spec Spec, catalogue materials.Catalogue, bench Bench) (Shield, error) {
	m := &making{Shield: Shield{Spec: spec, Bench: bench}, catalogue: catalogue}
	if !m.Made() {
		m.Spec.Core.Layers = 0
		m.free()
		m.hold()
		m.coated()
		return m.Shield, m.problems.Err()
	}
	spec.Outline.checkSizes(&m.problems)
	m.foams()
	// Without sizes and thicknesses nothing more can be said; without an outline no part can be measured.
	if !m.problems.Empty() || !m.formed() || !m.outline() {
		return m.Shield, m.problems.Err()
	}
	m.curve()
	m.layers()
	m.bands()
	m.strips()
	m.raised()
	m.carved()
	m.back()
	m.free()
	m.hold()
	m.coated()
	return m.Shield, m.problems.Err()
}

// Made tells whether this is a shield with an outline of its own, and not a prop or a repair of free parts.
func (s Shield) Made() bool { return s.Spec.Kind != Prop && s.Spec.Kind != Repair }

// foams looks up what the spec names and adds up the thickness.
func (m *making) foams() {
	s := m.Spec
	m.CoreFoam = m.foam("core.foam", s.Core.Foam)
	for range s.Core.Layers {
		m.bent = append(m.bent, m.CoreFoam.Thickness.MM())
		m.Core += m.CoreFoam.Thickness.MM()
	}
	m.Total = m.Core
	if s.Rim != nil {
		// The face rim is the outermost layer of the curve: it decides the width.
		m.rim = m.foam("rim.foam", s.Rim.Foam)
		m.bent = append(m.bent, m.rim.Thickness.MM())
		m.Total += m.rim.Thickness.MM()
	}
	if s.Edge != nil {
		m.edge = m.foam("edge.foam", s.Edge.Foam)
		m.Strip = m.edge.Thickness.MM()
	}
	if s.Back.Cover != nil {
		m.cover = m.foam("back.seam_strip.foam", s.Back.Cover.Foam)
	}
}

func (m *making) foam(field, code string) materials.Foam {
	f, ok := m.catalogue.Foam(code)
	if !ok {
		m.problems.Add(field, code, "The catalogue has no such foam. It has "+strings.Join(m.catalogue.FoamCodes(), ", ")+".")
	}
	return f
}

// fail notes an error of geometry under a field; what is no fault is said plainly without its inner text.
func (m *making) fail(field string, err error) bool {
	if err == nil {
		return false
	}
	if m.problems.Take(field, err) != nil {
		m.problems.Add(field, "", "This shape could not be worked out. Draw it with fewer or simpler curves.")
	}
	return true
}

// outline draws and measures the template; false when there is none.
func (m *making) outline() bool {
	p, flat, moved, err := m.Spec.template(m.bent, m.Bench, m.Strip, m.Former)
	if m.fail(m.Spec.Outline.field(), err) {
		return false
	}
	m.Outline, m.Flat, m.Box = p, flat, p.Bounds()
	m.alongside(moved)
	m.Area, m.Perimeter = p.Area(), p.Length()
	if wound(p, m.Bench.Trim.MM()/2) {
		m.problems.Add(m.Spec.Outline.field(), "", fmt.Sprintf("The outline is only %.1f mm wide on average, less than foam holds. Draw it wider or plainer.", 2*m.Area/m.Perimeter))
		return false
	}
	m.Circle = p.EnclosingCircle().Diameter()
	if len(m.Flat) != 1 {
		m.problems.Add(m.Spec.Outline.field(), "", "The outline is in several pieces. A shield is one piece; holes are allowed.")
		return false
	}
	for _, ring := range append([]geom.Ring{flat[0].Outer}, flat[0].Holes...) {
		lengths, corners := runs(ring)
		m.Runs, m.Corners = append(m.Runs, lengths...), m.Corners+corners
	}
	return true
}

// field is the entry to blame for an outline that cannot be made.
func (o Outline) field() string {
	if o.byHand() {
		return "outline.d"
	}
	return "outline.width"
}

func (m *making) curve() {
	if m.Former == 0 {
		return
	}
	c, err := bend(m.Box.Width(), m.Former, m.bent, m.perLayer(), m.calibration())
	if !m.fail("core.former_radius", err) {
		m.Curve = &c
	}
}

// Shapeless tells that there is nothing to be seen of it: no outline and no parts, as of a repair that is work alone.
func (s Shield) Shapeless() bool { return len(s.Flat) == 0 && len(s.Free) == 0 }
