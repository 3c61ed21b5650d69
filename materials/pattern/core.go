package pattern

import (
	"fmt"
	"slices"

	"foamwright/materials/geom"
)

// trim is how much larger layers are cut: a single one is cut to its line.
func (d *drafting) trim() float64 {
	if d.Spec.Core.Layers == 1 && d.Rim == nil {
		return 0
	}
	return d.Bench.Trim.MM()
}

// core makes the template of the layers, or one for each where they differ in width.
func (d *drafting) core() error {
	n := d.Spec.Core.Layers
	if d.Curve == nil || d.Curve.Longer == nil {
		return d.layer("core", n, 1, true, true)
	}
	for i := range n {
		stretch := d.stretch(i)
		name := fmt.Sprintf("layer %d of %d", i+1, n)
		if err := d.layer(name, 1, stretch, i == 0, i == n-1); err != nil {
			return err
		}
		if p := &d.patterns[len(d.patterns)-1]; i == 0 {
			p.Notes = append(p.Notes, "Layer 1 is at the back, on the former; every layer has a template of its own.")
		} else {
			p.Notes = append(p.Notes, fmt.Sprintf("Along the curve it is %s mm wider than layer 1.", mm(d.Curve.Longer[i])))
		}
	}
	return nil
}

// stretch is how much wider than the first a layer's own template is; the rim comes after the last layer. It is 1
// where one template does for all.
func (d *drafting) stretch(i int) float64 {
	if d.Curve == nil || d.Curve.Longer == nil {
		return 1
	}
	return d.Curve.Radii[i] / d.Curve.Radii[0]
}

// layer is one template: its finished edge, its trim line and what is marked on its back and front.
func (d *drafting) layer(name string, count int, stretch float64, back, front bool) error {
	p := Pattern{Name: d.sized(name), Count: count, Foam: d.CoreFoam.Name}
	widen := geom.Scale(stretch, 1)
	flat, outer := d.Flat.Transform(widen), d.Flat.Transform(widen)
	if t := d.trim(); t > 0 {
		grown, err := flat.Offset(t)
		if err != nil {
			return err
		}
		outer = grown
		d.put(&p, Trim, "cut here: "+mm(t)+" mm to level off", chains(outer))
		p.Notes = append(p.Notes, "Cut on the dashed line, "+mm(t)+" mm outside; level the sides to the solid line once the layers are glued.")
	}
	d.put(&p, Cut, "finished edge", d.Outline.Transform(widen).Polylines(drawn))
	d.middle(&p, outer)
	if front && d.Rim != nil {
		inside, err := flat.Offset(-d.Rim.Width)
		if err != nil {
			return err
		}
		d.put(&p, Mark, "rim, on the face", chains(inside))
		if !d.wanted.Rim && stretch == 1 {
			p.Notes = append(p.Notes, "The rim is cut from this template too, "+mm(d.Rim.Width)+" mm wide: outside like the layers, inside on the line marked rim, of "+d.Rim.Foam.Name+joints(d.Rim.Joints)+".")
		}
	}
	if back {
		for _, x := range d.Planks {
			for _, span := range upright(flat, x*stretch) {
				d.put(&p, Mark, "plank, on the back", [][]geom.Point{span})
			}
		}
	}
	if front && (!d.half || d.evenGrooves()) {
		d.grooved(&p, stretch)
	}
	if front && (!d.half || d.evenPlaces()) {
		d.placed(&p, stretch)
	}
	if !fits(outer, d.CoreFoam.Width.MM(), d.CoreFoam.Height.MM()) {
		p.Notes = append(p.Notes, "It is larger than one sheet: join the panels of a layer first, then draw round the template.")
	}
	d.add(p)
	return nil
}

// middle draws the centre line where there is foam: where a half is turned over, or what a whole is lined up by.
func (d *drafting) middle(p *Pattern, outer geom.Region) {
	line := Line{Class: Mark, Words: "centre line"}
	if d.half {
		line = Line{Class: Fold, Words: "centre line: fold / turn over here"}
		p.Notes = append(p.Notes, "A half: draw round it, turn it over along the centre line, and draw round the other side.")
	}
	for _, line.Chain = range upright(outer, 0) {
		p.Lines = append(p.Lines, line)
	}
}

// rim is the template of the face rim, where one is asked for.
func (d *drafting) rim() error {
	r := d.Rim
	if r == nil || !d.wanted.Rim && d.stretch(1) == 1 {
		return nil // it is on the template of the layers
	}
	p := Pattern{Name: d.sized("rim"), Count: 1, Foam: r.Foam.Name, Notes: []string{mm(r.Width) + " mm wide" + joints(r.Joints) + "."}}
	// The rim is bent over all layers: with templates of their own it is the widest.
	widen := geom.Scale(d.stretch(d.Spec.Core.Layers), 1)
	flat := d.Flat.Transform(widen)
	inside, err := flat.Offset(-r.Width)
	if err != nil {
		return err
	}
	outer := flat
	if t := d.trim(); t > 0 {
		if outer, err = flat.Offset(t); err != nil {
			return err
		}
		d.put(&p, Trim, "cut here: "+mm(t)+" mm to level off", chains(outer))
	}
	d.put(&p, Cut, "finished edge", d.Outline.Transform(widen).Polylines(drawn))
	d.put(&p, Cut, "inside of the rim", chains(inside))
	band, err := outer.Subtract(inside)
	if err != nil {
		return err
	}
	d.middle(&p, band)
	d.add(p)
	return nil
}

func joints(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", in %d segments", n)
}

// fits tells whether a region can be laid whole on one sheet, at some turn.
func fits(r geom.Region, w, h float64) bool {
	slack, _ := geom.FitsRectangle(r.Points(), w, h)
	return slack >= 0
}

// upright is what of one upright line lies inside a region, from the top.
func upright(r geom.Region, x float64) [][]geom.Point {
	var hits []float64
	for _, chain := range chains(r) {
		for i, p := range chain[1:] {
			if q := chain[i]; (q.X <= x) != (p.X <= x) {
				hits = append(hits, q.Y+(p.Y-q.Y)*(x-q.X)/(p.X-q.X))
			}
		}
	}
	slices.Sort(hits)
	var spans [][]geom.Point
	for i := 0; i+1 < len(hits); i += 2 {
		spans = append(spans, []geom.Point{{X: x, Y: hits[i]}, {X: x, Y: hits[i+1]}})
	}
	return spans
}
