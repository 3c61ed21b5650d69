package drawing

import (
	"fmt"
	"math"
	"slices"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// seams are the joints between the panels of a layer: their borders that are not the outline's. Panels are cut along
// upright and level lines.
func (e *apart) seams(panels []geom.Shape) (lines [][]geom.Point) {
	if len(panels) < 2 {
		return nil
	}
	for _, s := range panels {
		for i, p := range s.Outer {
			q := s.Outer[(i+1)%len(s.Outer)]
			// A joint is drawn once, by the panel on its right or below.
			if upright := p.X == q.X && q.Y < p.Y; !upright && (p.Y != q.Y || q.X < p.X) {
				continue
			}
			mid := geom.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}
			for _, other := range panels {
				if inner := (geom.Point{X: mid.X - (p.Y-q.Y)/distance(p, q)*0.01, Y: mid.Y - (q.X-p.X)/distance(p, q)*0.01}); (geom.Region{other}).ContainsPoint(inner) {
					lines = append(lines, e.within(p, q)...)
					break
				}
			}
		}
	}
	return lines
}

// within is what of an upright or level line lies on the finished layer: panels are cut larger.
func (e *apart) within(p, q geom.Point) (lines [][]geom.Point) {
	turned := e.flat
	level := p.Y == q.Y
	if level {
		turned = turned.Transform(geom.Matrix{A: 0, B: 1, C: 1, D: 0})
		p, q = geom.Point{X: p.Y, Y: p.X}, geom.Point{X: q.Y, Y: q.X}
	}
	low, high := math.Min(p.Y, q.Y), math.Max(p.Y, q.Y)
	for _, span := range spans(turned, p.X) {
		from, to := math.Max(low, span[0]), math.Min(high, span[1])
		if from >= to {
			continue
		}
		line := []geom.Point{{X: p.X, Y: from}, {X: p.X, Y: to}}
		if level {
			line = []geom.Point{{X: from, Y: p.X}, {X: to, Y: p.X}}
		}
		lines = append(lines, line)
	}
	return lines
}

func (e *apart) rimFloor() {
	if e.Rim == nil {
		return
	}
	r := along(e.Shield, e.flat, e.Rim)
	d := plate{class: Rim, region: r, to: e.rim, fill: e.coats.rim, seams: e.seams(e.Rim.Segments)}
	e.put(floor{whole: true, plates: []plate{d}, show: 0.72, named: []named{{kind: shield.RimPart, name: "rim " + mm(e.Rim.Width), at: e.right(r, d), detail: counted(1, e.Rim.Foam.Name, inPieces(e.Rim.Joints, "segment"))}}})
}

// layerFloors are the layers from the front down; the front one in its paint, with what is carved into it.
func (e *apart) layerFloors() {
	t := e.CoreFoam.Thickness.MM()
	for i := range e.Spec.Core.Layers {
		n := e.Spec.Core.Layers - i
		fill := mix(foam, light, 0.16)
		if n%2 == 0 {
			fill = mix(foam, dark, 0.05)
		}
		panels := e.Panels[n-1]
		f := floor{whole: true, show: 0.28}
		if len(panels) > 1 {
			f.show = 0.45
		}
		v := e.rim + float64(i)*t
		if i == 0 {
			fill = e.face
			if f.show = 0.38; e.Rim == nil {
				f.show = 0.72
			}
			f.upon = func(down float64) { e.carved(v, down) }
		}
		d := plate{class: Layer, region: e.flat, from: v, to: v + t, fill: fill, seams: e.seams(panels)}
		f.plates = []plate{d}
		f.named = []named{{kind: shield.LayerPart, name: fmt.Sprintf("layer %d", n), at: e.right(e.flat, d), detail: counted(1, e.CoreFoam.Name, inPieces(len(panels), "panel"))}}
		e.put(f)
	}
}

// carved draws the grooves that have a place.
func (e *apart) carved(v, down float64) {
	for _, g := range e.Grooves {
		if len(g.Line) == 0 {
			continue
		}
		wide := 2.5
		if g.Tool == "rotary" {
			wide = 5
		}
		e.add(Lines{Class: Groove, Chains: e.profile.chains(g.Line.Polylines(drawn), v, down), Colour: mix(dark, foam, 0.1).veil(0.85), Pen: 0.6 * wide, True: true})
	}
}

// edgeFloor is the strip as it stands round the edge.
func (e *apart) edgeFloor() {
	if e.Strip == 0 {
		return
	}
	out, err := e.flat.Offset(e.Strip)
	if err == nil {
		out, err = out.Subtract(e.flat)
	}
	if err != nil {
		return
	}
	d := plate{class: Edge, region: out, to: e.Total, fill: e.edge}
	width := 0.0
	for _, p := range e.Parts {
		if p.Kind == shield.EdgePart {
			width = p.Shape.Outer.Bounds().Height()
		}
	}
	e.put(floor{whole: true, plates: []plate{d}, show: 0.3, named: []named{{kind: shield.EdgePart, name: "edge strip", at: e.right(out, d), detail: counted(e.EdgeLengths(), mm(e.Strip)+" mm foam", mm(width)+" wide")}}})
}

// backFloor is the back as it is carved, lifted off like a sheet of paper.
func (e *apart) backFloor() {
	lines := slices.Sorted(slices.Values(e.Planks))
	pitch := e.Spec.Back.GrainPitch.MM()
	if len(lines) == 0 && pitch == 0 {
		return
	}
	d := plate{class: Field, region: e.flat, from: e.Total, to: e.Total, fill: e.back}
	for _, x := range lines {
		for _, span := range spans(e.flat, x) {
			d.seams = append(d.seams, []geom.Point{{X: x, Y: span[0]}, {X: x, Y: span[1]}})
		}
	}
	n := named{kind: backPart, name: "planks", at: e.right(e.flat, d), detail: fmt.Sprintf("%d of %s, cut into layer 1", len(lines)+1, mm(e.Spec.Back.PlankWidth.MM()))}
	if len(lines) == 0 {
		n.name, n.detail = "grain", "every "+mm(pitch)+", cut into layer 1"
	}
	e.put(floor{whole: true, plates: []plate{d}, show: 0.4, named: []named{n}, upon: func(down float64) { e.grained(lines, pitch, down) }})
}

// grained bends the grain of the back view.
func (e *apart) grained(lines []float64, pitch, down float64) {
	if pitch == 0 {
		return
	}
	scratch := &board{u: e.u}
	scratch.grain(e.flat, lines, math.Max(pitch, 0.8*e.u), e.back)
	for _, m := range scratch.Marks {
		strokes := m.(Lines)
		for i, chain := range strokes.Chains { // so flat a look makes waves of them
			strokes.Chains[i] = []geom.Point{chain[0], chain[len(chain)-1]}
		}
		strokes.Chains = e.profile.chains(strokes.Chains, e.Total, down)
		e.add(strokes)
	}
}

func (e *apart) coverFloor() {
	if e.Cover == nil {
		return
	}
	r := along(e.Shield, e.flat, e.Cover)
	d := plate{class: Cover, region: r, from: e.Total, to: e.Total + e.Cover.Foam.Thickness.MM(), fill: mix(e.back, dark, 0.22), seams: e.seams(e.Cover.Segments)}
	e.put(floor{whole: true, plates: []plate{d}, show: 0.3, named: []named{{kind: shield.CoverPart, name: "cover strip " + mm(e.Cover.Width), at: e.right(r, d), detail: counted(1, e.Cover.Foam.Name, inPieces(e.Cover.Joints, "segment"))}}})
}
