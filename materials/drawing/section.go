package drawing

import (
	"fmt"
	"math"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// Section is the laminate cut across at its widest line, its face up: every layer with its true thickness, the
// rim at both ends, the edge strip, the cover strip behind. A curved one is drawn as it comes off the former,
// which is drawn where it touched, so that the gap between them is how far the foam sprang open.
func Section(s shield.Shield) Drawing {
	if len(s.Flat) == 0 {
		return nothing("section", "parts only: no section")
	}
	p := profileOf(s)
	u := shareOfSection * math.Max(2*p.at(1, 0).X, p.low)
	b := newBoard("section", "Section of "+s.Spec.Name, sectionWords(s), u)
	if s.Curve != nil {
		b.former(s, p)
	}
	b.strips(s, p)
	from := p.thick
	for i := range s.Spec.Core.Layers {
		t := s.CoreFoam.Thickness.MM()
		tone := mix(foam, light, 0.16)
		if i%2 == 1 {
			tone = mix(foam, dark, 0.05)
		}
		b.area(Layer, p.slab(-1, 1, from-t, from), tone, finePen)
		from -= t
	}
	if s.Rim != nil {
		in := p.inward(s.Rim.Width, from/2)
		// Beyond the cut the rim runs on over the top.
		b.area(Rim, p.slab(-in, in, 0, from), mix(mix(foam, wood, 0.5), light, 0.6), finePen)
		for _, side := range [2][2]float64{{-1, -in}, {in, 1}} {
			b.area(Rim, p.slab(side[0], side[1], 0, from), mix(foam, wood, 0.5), detailPen)
		}
	}
	b.sectionMeasures(s, p, from)
	return b.finish()
}

// profile is the shape of a section: f runs from -1 to 1 across it, v from 0 at the front to its thickness.
type profile struct {
	half, thick float64 // half the width along it, mm
	out, angle  float64 // radius to the front and half the angle it spans; flat when the angle is 0
	low         float64 // how far down its ends reach
}

func profileOf(s shield.Shield) profile {
	p := profile{half: s.Box.Width() / 2, thick: s.Total, low: s.Total}
	if c := s.Curve; c != nil {
		p.out, p.angle, p.low = c.Released.Radius+c.Thickness/2, c.Released.Angle/2, c.Released.Depth
	}
	return p
}

func (p profile) at(f, v float64) geom.Point {
	if p.angle == 0 {
		return geom.Point{X: f * p.half, Y: v}
	}
	sin, cos := math.Sincos(f * p.angle)
	return geom.Point{X: (p.out - v) * sin, Y: p.out - (p.out-v)*cos}
}

// along is the way outward at the right end, past the end of the layers; up is straight off the front.
func (p profile) along(f float64) geom.Point {
	sin, cos := math.Sincos(f * p.angle)
	return geom.Point{X: cos, Y: sin}
}

func (p profile) up(f float64) geom.Point {
	sin, cos := math.Sincos(f * p.angle)
	return geom.Point{X: sin, Y: -cos}
}

// inward is f so many mm from the right end, measured at a depth.
func (p profile) inward(width, v float64) float64 {
	if p.angle == 0 {
		return 1 - width/p.half
	}
	return 1 - width/((p.out-v)*p.angle)
}

// slab is the region between two places across and two depths.
func (p profile) slab(f0, f1, v0, v1 float64) geom.Region {
	steps := 1 + int(64*p.angle*(f1-f0))
	var ring geom.Ring
	for i := range steps + 1 {
		ring = append(ring, p.at(f0+(f1-f0)*float64(i)/float64(steps), v0))
	}
	for i := range steps + 1 {
		ring = append(ring, p.at(f1+(f0-f1)*float64(i)/float64(steps), v1))
	}
	return geom.Region{{Outer: ring}}
}

// former is the former's arc, its crown where the back's is.
func (b *board) former(s shield.Shield, p profile) {
	r, half := s.Curve.Former, s.Curve.Bent.Angle/2
	var arc []geom.Point
	for i := -32; i <= 32; i++ {
		sin, cos := math.Sincos(half * float64(i) / 32)
		arc = append(arc, geom.Point{X: r * sin, Y: p.thick + r*(1-cos)})
	}
	b.add(Lines{Class: Former, Chains: [][]geom.Point{arc}, Pen: outlinePen * b.u, Dash: []float64{0.7 * b.u, 0.4 * b.u}})
	word := "former "
	if s.Spec.Core.Depth > 0 {
		word = "bent to " // by hand, over whatever is that round
	}
	b.text(Remark, 0, p.thick+1.5*b.u, Middle, word+mm(math.Round(r)))
}

// strips are the edge strip over both ends and the cover strip behind.
func (b *board) strips(s shield.Shield, p profile) {
	tone := mix(foam, dark, 0.35)
	for _, f := range [2]float64{-1, 1} {
		way := p.along(f)
		front, back := p.at(f, 0), p.at(f, p.thick)
		dx, dy := way.X*f*s.Strip, way.Y*f*s.Strip
		if s.Strip > 0 {
			b.area(Edge, geom.Region{{Outer: geom.Ring{front, {X: front.X + dx, Y: front.Y + dy}, {X: back.X + dx, Y: back.Y + dy}, back}}}, tone, detailPen)
		}
		if s.Cover != nil {
			t := s.Cover.Foam.Thickness.MM()
			in := p.inward(s.Cover.Width, p.thick)
			b.area(Cover, p.slab(math.Min(f, f*in), math.Max(f, f*in), p.thick, p.thick+t), tone, detailPen)
		}
	}
}

// sectionMeasures are the width below, the depth to the right, layers and rim above, the strip to the left.
// front is how deep the front of the core lies under that of the rim.
func (b *board) sectionMeasures(s shield.Shield, p profile, front float64) {
	u := b.u
	left, right, width := p.at(-1, 0), p.at(1, 0), s.Box.Width()
	if s.Spec.Outline.Is == "finished" {
		way := p.along(1)
		left, right = geom.Point{X: left.X - way.X*s.Strip, Y: left.Y + way.Y*s.Strip}, geom.Point{X: right.X + way.X*s.Strip, Y: right.Y + way.Y*s.Strip}
		width += 2 * s.Strip
	}
	wide, deep, below := mm(width)+" wide", mm(s.Total)+" thick", ""
	if c := s.Curve; c != nil {
		wide, deep = mm(math.Round(chord(s)))+" straight across", mm(math.Round(c.Released.Depth))+" deep"
		below = fmt.Sprintf("on the former %s, %s deep", mm(math.Round(c.Bent.Chord)), mm(math.Round(c.Bent.Depth)))
	}
	foot, crown := extent(b.Marks).Max.Y+2*u, geom.Point{}
	if s.Curve == nil {
		crown.X = right.X
	} else {
		foot = math.Max(foot, p.thick+3.8*u) // the former's name is there
	}
	b.level(foot, left, right, wide, below)
	back := p.at(1, p.thick)
	b.upright(right.X+s.Strip+2*u, crown, geom.Point{X: back.X + p.along(1).X*s.Strip, Y: back.Y}, deep)
	mid := p.at(-0.12, front+(p.thick-front)/2)
	over := geom.Point{X: mid.X, Y: -1.5 * u}
	b.leader(mid, geom.Point{X: mid.X, Y: p.at(-0.12, 0).Y}, over, layerWords(s))
	end, way := p.at(-1, p.thick/2), p.along(-1)
	strip := geom.Point{X: end.X - way.X*s.Strip/2, Y: end.Y - way.Y*s.Strip/2}
	if s.Strip > 0 {
		b.leader(strip, strip, geom.Point{X: math.Min(strip.X-1.8*u, left.X-1.2*u), Y: strip.Y}, "strip "+mm(s.Strip))
	}
	if s.Rim != nil {
		f := -p.inward(math.Min(s.Rim.Width/2, 0.8*u), front/2)
		dot, edge, way := p.at(f, front/2), p.at(f, 0), p.up(f)
		// In a deep curve rim and strip are side by side, so their words must not be.
		out := geom.Point{X: edge.X + way.X*1.5*u, Y: math.Min(edge.Y+way.Y*1.5*u, strip.Y-1.4*u)}
		words := "rim " + mm(s.Rim.Width) + " × " + mm(front)
		layers, _ := b.led(mid, over, layerWords(s)).box()
		// Of a slender shield the words of the rim would lie on those of the layers: they stand before them.
		if box, _ := b.led(dot, out, words).box(); box.Max.X > layers.Min.X-0.3*u {
			out.X = math.Min(layers.Min.X-0.3*u, dot.X-2*steep*math.Abs(out.Y-dot.Y))
		}
		b.leader(dot, edge, out, words)
	}
}
