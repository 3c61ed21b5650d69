package pattern

import (
	"foamwright/materials/geom"
)

// grooves are the grooves that were drawn, as chains.
func (d *drafting) grooves() [][]geom.Point {
	var all [][]geom.Point
	for _, g := range d.Grooves {
		all = append(all, g.Line.Polylines(drawn)...)
	}
	return all
}

// evenGrooves tells whether the grooves are alike on both sides, so that a half template can show them.
func (d *drafting) evenGrooves() bool { return mirrored(d.grooves()) }

// grooved draws the grooves on the front layer, as wide as that is.
func (d *drafting) grooved(p *Pattern, stretch float64) {
	for _, g := range d.Grooves {
		widen := geom.Scale(stretch, 1)
		if box := g.Line.Bounds(); g.Set {
			widen = geom.Translate((stretch-1)*(box.Min.X+box.Max.X)/2, 0)
		}
		d.put(p, Mark, "groove, "+g.Tool, g.Line.Transform(widen).Polylines(drawn))
	}
}

// carved draws grooves that differ left and right on a sheet of their own, to be pricked through beside a half
// template: the centre line and the distance from the top say where it goes.
func (d *drafting) carved() error {
	if !d.half || len(d.grooves()) == 0 || d.evenGrooves() {
		return nil
	}
	d.half = false
	defer func() { d.half = true }()
	p := Pattern{Name: "grooves"}
	d.grooved(&p, d.stretch(d.Spec.Core.Layers-1))
	box := p.Bounds()
	line := []geom.Point{{X: 0, Y: box.Min.Y}, {X: 0, Y: box.Max.Y}}
	if box.Height() < 20 { // a level groove alone would leave the centre line without a length
		line[0].Y, line[1].Y = box.Min.Y-10, box.Max.Y+10
	}
	p.Lines = append(p.Lines, Line{Mark, "centre line", line})
	p.Notes = []string{"For the face: lay it on the centre line, the line's upper end " + mm(line[0].Y) + " mm below the top edge, and prick the grooves through."}
	d.add(p)
	return nil
}
