package shield

import (
	"fmt"
	"strings"

	"foamwright/materials"
	"foamwright/materials/geom"
)

// back lays out planks and grain.
func (m *making) back() {
	b := m.Spec.Back
	if depth := b.GrainDepth.MM(); depth > 0 && m.CoreFoam.Thickness.MM()-depth < 3 {
		m.problems.Add("back.grain_depth", b.GrainDepth.String(), fmt.Sprintf("At least 3 mm of the layer must stay under the grain: at most %.4g mm deep here.", max(0, m.CoreFoam.Thickness.MM()-3)))
	}
	if b.GrainPitch > 0 && b.GrainPitch.MM() < 2 {
		m.problems.Add("back.grain_pitch", b.GrainPitch.String(), "Grain lines are at least 2 mm apart.")
	}
	if b.Finish != "planks" {
		return
	}
	width := b.PlankWidth.MM()
	if width < 20 {
		m.problems.Add("back.plank_width", b.PlankWidth.String(), "Write how wide a plank is, at least 20 mm, for example 70 mm.")
		return
	}
	// Planks are laid out from the middle of one plank on the centre line.
	for x := width / 2; x < m.Box.Width()/2; x += width {
		for _, at := range []float64{-x, x} {
			m.Planks = append(m.Planks, at)
			m.PlankLine += across(m.Flat, at, false)
		}
	}
}

// GrainLine is the length of the grain lines in mm: the back's area over their pitch.
func (s Shield) GrainLine() float64 {
	if s.Spec.Back.GrainPitch == 0 {
		return 0
	}
	return s.Area / s.Spec.Back.GrainPitch.MM()
}

// Hold is what the grip is made of, counted.
type Hold struct {
	Stacks, Layers int // stepped stacks of foam, and their layers together
	Blocks         int // plain handle blocks
	Channels       int
	Straps         int
	Bars, Ropes    int
	ThumbGuards    int
	Adjustable     int     // straps that fit whoever it is for
	Bond           float64 // area glued, mm²
}

// Size of a thumb guard, mm. Common practice, no source.
const thumbLong, thumbWide = 100, 80

// hold makes the grip: a bar on two stepped stacks, straps through slots, both, or a rope.
func (m *making) hold() {
	g, h := m.Spec.Grip, Hold{Straps: m.Spec.Grip.Straps}
	switch g.Kind {
	case "none":
		return
	case "bar", "strap and bar":
		h.Bars, h.Channels, h.Stacks = 1, 1, 2
		h.Layers = 2 * max(g.BlockLayers, 1)
		if g.Kind == "strap and bar" {
			h.Straps = max(h.Straps, 1)
		}
	case "straps":
		if h.Straps == 0 {
			h.Straps = 2
		}
		h.Channels = h.Straps
	case "rope":
		h.Ropes, h.Channels = 1, 2
	}
	if h.Stacks == 0 && g.BlockLayers > 0 {
		h.Blocks = 1
	}
	if g.Adjustable {
		h.Straps, h.Adjustable = h.Straps+1, 1
	}
	if m.CoreFoam.Code == "" { // a repair names the foam of its blocks as free parts
		m.Grip = h
		return
	}
	long, wide := m.Bench.BlockLength.MM(), m.Bench.BlockWidth.MM()
	if g.BlockLength > 0 {
		long = g.BlockLength.MM()
	}
	if g.BlockWidth > 0 {
		wide = g.BlockWidth.MM()
	}
	if layers := h.Layers + h.Blocks*g.BlockLayers + g.CoverLayers; layers > 0 {
		m.laid("grip.block_length", geom.Region{rectangle(long, wide)}, m.CoreFoam)
		m.bar(BlockPart, "grip block", m.CoreFoam.Code, long, wide, layers)
		h.Bond += float64(layers) * long * wide
	}
	h.Layers += g.CoverLayers
	if g.ThumbGuard {
		h.ThumbGuards = 1
		m.bar(BlockPart, "thumb guard", m.CoreFoam.Code, thumbLong, thumbWide, 1)
		h.Bond += thumbLong * thumbWide
	}
	m.Grip = h
}

// coated checks the colours against the catalogue and against the skin they go on.
func (m *making) coated() {
	for i, p := range m.Spec.Paint {
		field := fmt.Sprintf("paint.%d", i)
		m.colour(field+".colour", p.Colour)
		if p.Where == "rim" && m.Spec.Rim == nil {
			m.problems.Add(field+".where", p.Where, "There is no rim. Paint the face, edge or back, or add a rim.")
		}
	}
	if m.Spec.Rim != nil {
		m.colour("rim.colour", m.Spec.Rim.Colour)
	}
	for i, p := range m.Spec.Pieces {
		m.colour(fmt.Sprintf("pieces.%d.colour", i), p.Colour)
	}
	for i, g := range m.Spec.Gems {
		m.colour(fmt.Sprintf("gems.%d.colour", i), g.Colour)
	}
	for i, p := range m.Spec.Parts {
		m.colour(fmt.Sprintf("parts.%d.colour", i), p.Colour)
	}
	for field, code := range map[string]string{"core.joint_glue": m.Spec.Core.JointGlue, "filler": m.Spec.Filler} {
		if _, ok := m.catalogue.LiquidOf(code); !ok && code != "" {
			m.problems.Add(field, code, "The catalogue has no such liquid. Leave it empty for the usual one.")
		}
	}
	if m.Spec.Coat.System != "none" && m.Spec.Coat.Coats == 0 {
		m.problems.Add("coat.coats", "0", "Write how many coats, for example 4.")
	}
}

func (m *making) colour(field, colour string) {
	if colour == "" {
		return
	}
	paint, ok := m.catalogue.Paint(colour)
	if !ok {
		m.problems.Add(field, colour, "The catalogue has no such colour. It has "+strings.Join(m.catalogue.Colours(), ", ")+".")
		return
	}
	m.suits(paint)
}

// suits warns of what latex does not stand.
func (m *making) suits(l materials.Liquid) {
	if m.Spec.Coat.System != "latex" {
		return
	}
	if l.Has(materials.Copper) {
		m.warn(l.Name + " contains copper, which destroys latex. Choose a copper-free one.")
	}
	if l.Has(materials.Oil) {
		m.warn(l.Name + " contains oil, which destroys latex. Choose a water-based one.")
	}
}
