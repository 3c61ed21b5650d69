package shield

import (
	"cmp"
	"fmt"
	"math"
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
	Bar            string // name of the bar, where one was chosen
	ThumbGuards    int
	Adjustable     int     // straps that fit whoever it is for
	Tapered        int     // layers that are cut and shaped smaller than the one below
	Bond           float64 // area glued, mm²
}

// Size of a thumb guard, mm. Common practice, no source.
const thumbLong, thumbWide = 100, 80

// leastBlock is what must be left of the top of a tapered stack, mm: common practice, no source.
const leastBlock = 30

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
		h.Straps = cmp.Or(h.Straps, 2)
		h.Channels = h.Straps
	case "rope":
		h.Ropes, h.Channels = 1, 2
	}
	if h.Stacks == 0 && g.BlockLayers > 0 {
		h.Blocks = 1
	}
	if bar, ok := m.catalogue.GoodOf(g.Bar); ok && h.Bars > 0 {
		h.Bar = bar.Name
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
	m.blocks(&h, long, wide)
	h.Layers += g.CoverLayers
	if g.ThumbGuard {
		h.ThumbGuards = 1
		m.bar(BlockPart, "thumb guard", m.CoreFoam.Code, thumbLong, thumbWide, 1)
		h.Bond += thumbLong * thumbWide
	}
	m.Grip = h
}

// blocks cuts the layers of stacks or of a block, each shorter than the one below where they taper, and the layers of
// foam over them.
func (m *making) blocks(h *Hold, long, wide float64) {
	g, step := m.Spec.Grip, 2*m.Spec.Grip.Taper.MM()
	stacks := h.Stacks + h.Blocks
	each := (h.Layers + h.Blocks*g.BlockLayers) / max(stacks, 1)
	if stacks*each+g.CoverLayers == 0 {
		return
	}
	m.laid("grip.block_length", geom.Region{rectangle(long, wide)}, m.CoreFoam)
	if top := long - step*float64(each-1); step > 0 && each > 0 && top < leastBlock {
		m.problems.Add("grip.taper", g.Taper.String(), fmt.Sprintf("The top layer would be %.0f mm long; at least %.0f mm must be left. Taper less, or make the block longer.", math.Max(top, 0), float64(leastBlock)))
		return
	}
	cut := func(label string, long float64, n int) {
		m.bar(BlockPart, label, m.CoreFoam.Code, long, wide, n)
		h.Bond += float64(n) * long * wide
	}
	if step == 0 || each < 2 {
		cut("grip block", long, stacks*each+g.CoverLayers)
		return
	}
	for i := range each {
		cut(fmt.Sprintf("grip block, layer %d", i+1), long-step*float64(i), stacks)
	}
	h.Tapered = stacks * (each - 1)
	if g.CoverLayers > 0 {
		cut("grip cover", long, g.CoverLayers)
	}
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
	if g, ok := m.catalogue.GoodOf(m.Spec.Grip.Bar); m.Spec.Grip.Bar != "" && (!ok || g.Use != materials.UseBar) {
		m.problems.Add("grip.bar", m.Spec.Grip.Bar, "The catalogue has no such bar. Leave it empty for the usual one.")
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
