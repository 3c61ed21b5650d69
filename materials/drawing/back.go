package drawing

import (
	"math"
	"slices"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// Back is the shield from behind, so left and right change places: planks with a hint of their grain, the cover
// strip, and a picture of the grip at the middle of the area.
func Back(s shield.Shield, palette map[string]string) Drawing {
	if len(s.Flat) == 0 {
		return nothing("back", "parts only: no back")
	}
	c := coatsOf(s, palette)
	front := closely(s)
	flat := front.Transform(geom.MirrorX())
	b := newBoard("back", "Back of "+s.Spec.Name, backWords(s), textFor(s.Box))
	b.body(s, flat, c.edge)
	b.area(Field, flat, c.back, 0)
	lines := slices.Clone(s.Planks)
	slices.Sort(lines)
	b.planks(flat, lines, c.back)
	if s.Spec.Back.GrainPitch > 0 {
		b.grain(flat, lines, s.Spec.Back.GrainPitch.MM(), c.back)
	}
	if s.Cover != nil {
		b.area(Cover, along(s, front, s.Cover).Transform(geom.MirrorX()), mix(c.back, dark, 0.22), detailPen)
	} else {
		b.add(Lines{Class: Ink, Chains: rings(flat), Pen: outlinePen * b.u})
	}
	b.centre(s.Box, c.back)
	b.grip(s, centroid(flat[0].Outer), c)
	b.backMeasures(s, flat, lines, c)
	return b.finish()
}

func rings(r geom.Region) (chains [][]geom.Point) {
	for _, s := range r {
		chains = append(chains, closed(s.Outer))
		for _, hole := range s.Holes {
			chains = append(chains, closed(hole))
		}
	}
	return chains
}

// planks are boards of slightly different wood with a cut between them.
func (b *board) planks(flat geom.Region, lines []float64, colour Colour) {
	box := flat.Bounds()
	tints := [5]float64{0.05, -0.04, 0.02, -0.06, 0}
	for i := range len(lines) + 1 {
		low, high := box.Min.X-1, box.Max.X+1
		if i > 0 {
			low = lines[i-1]
		}
		if i < len(lines) {
			high = lines[i]
		}
		tint, wood := tints[i%len(tints)], geom.Region{}
		for _, s := range flat {
			board := geom.Shape{Outer: between(s.Outer, low, high)}
			for _, hole := range s.Holes {
				if cut := between(hole, low, high); len(cut) > 2 {
					board.Holes = append(board.Holes, cut)
				}
			}
			if len(board.Outer) > 2 {
				wood = append(wood, board)
			}
		}
		other := light
		if tint < 0 {
			other = dark
		}
		if len(lines) > 0 && tint != 0 {
			b.area(Plank, wood, mix(colour, other, math.Abs(tint)), 0)
		}
	}
	cut := Lines{Class: Plank, Colour: mix(colour, dark, 0.62), Pen: 0.1 * b.u, True: true}
	if len(lines) > 1 {
		cut.Pen = math.Min(cut.Pen, 0.06*(lines[1]-lines[0]))
	}
	for _, x := range lines {
		for _, span := range spans(flat, x) {
			cut.Chains = append(cut.Chains, []geom.Point{{X: x, Y: span[0]}, {X: x, Y: span[1]}})
		}
	}
	if len(cut.Chains) > 0 {
		b.add(cut)
	}
}

// grain hints at lines cut along the boards: a few broken, slightly wavering strokes to a board, the same every
// time.
func (b *board) grain(flat geom.Region, lines []float64, pitch float64, colour Colour) {
	box := flat.Bounds()
	edges := append([]float64{box.Min.X}, append(lines[:len(lines):len(lines)], box.Max.X)...)
	strokes := Lines{Class: Grain, Colour: mix(colour, dark, 0.5).veil(0.75), Pen: finePen * b.u}
	n := 0
	for i := range len(edges) - 1 {
		low, high := edges[i], edges[i+1]
		every := math.Max(pitch, b.u*0.75)
		count := int((high - low) / every)
		for k := range count {
			x := low + (high-low)*(float64(k)+0.5)/float64(count)
			for _, span := range spans(flat, x) {
				for y := span[0] + b.u*(0.3+3*chance(n)); y < span[1]-b.u; {
					n++
					to := math.Min(y+b.u*(2+5*chance(n)), span[1]-0.4*b.u)
					strokes.Chains = append(strokes.Chains, waver(x, y, to, 0.16*every, chance(n+7)))
					y = to + b.u*(1.2+4*chance(n+3))
				}
			}
		}
	}
	b.add(strokes)
}

// waver is an upright stroke that swings by so much to either side.
func waver(x, from, to, swing, phase float64) []geom.Point {
	const steps = 6
	var line []geom.Point
	for i := range steps + 1 {
		t := float64(i) / steps
		line = append(line, geom.Point{X: x + swing*math.Sin(2*math.Pi*(t+phase)), Y: from + (to-from)*t})
	}
	return line
}

// chance is a number from 0 to 1 that looks like chance and is the same every time.
func chance(n int) float64 {
	_, part := math.Modf(float64(n+1) * math.Phi)
	_, part = math.Modf(part * 97.13)
	return part
}

// centroid is the middle of a ring's area.
func centroid(r geom.Ring) geom.Point {
	var sum geom.Point
	area := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		cross := p.X*q.Y - q.X*p.Y
		area += cross / 2
		sum.X += (p.X + q.X) * cross / 6
		sum.Y += (p.Y + q.Y) * cross / 6
	}
	return geom.Point{X: sum.X / area, Y: sum.Y / area}
}

// backMeasures are a plank above, the cover strip low on the left, the grip in words below.
func (b *board) backMeasures(s shield.Shield, flat geom.Region, lines []float64, c coats) {
	if n := len(lines); n > 1 {
		left, right := lines[n/2-1], lines[n/2]
		tops := func(x float64) geom.Point {
			if s := spans(flat, x); len(s) > 0 {
				return geom.Point{X: x, Y: s[0][0]}
			}
			return geom.Point{X: x}
		}
		b.level(s.Box.Min.Y-2.4*b.u, tops(left), tops(right), "plank "+mm(right-left), "")
	}
	if s.Cover != nil {
		b.across(flat[0].Outer, s.Cover.Width, mix(c.back, dark, 0.22), "cover strip "+mm(s.Cover.Width), nil)
	}
	if words := gripWords(s); words != "" {
		b.text(Remark, 0, extent(b.Marks).Max.Y+1.4*b.u, Middle, words)
	}
}
