package pattern

import (
	"fmt"
	"math"
	"strings"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// pieces are the shapes on the face, as they were drawn.
func (d *drafting) pieces() error {
	placed := d.Pieces
	for _, piece := range d.Spec.Pieces {
		if piece.Count == 0 {
			continue
		}
		path, err := geom.ParsePath(piece.D)
		if err != nil {
			return err
		}
		p := Pattern{Name: piece.Name, Count: piece.Count * piece.Layers, Mirrored: piece.Mirror}
		p.outline(path)
		p.layered(piece.Layers)
		poses := 1
		if piece.Mirror {
			poses = 2
		}
		for i := range poses {
			p.Foam = placed[0].Foam.Name
			p.Notes = append(p.Notes, []string{"On the face: ", "Its mirror image: "}[i]+where(onFront(placed[0], d.front()), piece.Turn*float64(1-2*i)))
			placed = placed[piece.Count:]
		}
		d.add(p)
	}
	return nil
}

// front is how much wider than the first the front layer is.
func (d *drafting) front() float64 { return d.stretch(max(d.Spec.Core.Layers, 1) - 1) }

// mostTold is for how many gems their places are written out; of more the drawing tells.
const mostTold = 8

// told adds where gems go to the template of that name.
func (d *drafting) told(name string, gems []shield.Placed, turn float64) {
	var all []string
	for _, one := range gems[:min(len(gems), mostTold)] {
		all = append(all, strings.TrimSuffix(where(onFront(one, d.front()), turn), "."))
	}
	for i := range d.patterns {
		if p := &d.patterns[i]; p.Name == name && p.Foam == gems[0].Foam.Name {
			p.Notes = append(p.Notes, "On the face: "+strings.Join(all, "; ")+".")
		}
	}
}

// where says in words where a piece goes, by the middle of its box.
func where(p shield.Placed, turn float64) string {
	box := p.Region.Bounds()
	x, y := math.Round((box.Min.X+box.Max.X)/2), math.Round((box.Min.Y+box.Max.Y)/2)
	side := "on the centre line"
	switch {
	case x > 0:
		side = mm(x) + " mm right of the centre line"
	case x < 0:
		side = mm(-x) + " mm left of the centre line"
	}
	words := fmt.Sprintf("its middle %s mm below the top, %s", mm(y), side)
	switch {
	case turn > 0:
		words += fmt.Sprintf(", turned %s° clockwise", mm(turn))
	case turn < 0:
		words += fmt.Sprintf(", turned %s° anticlockwise", mm(-turn))
	}
	return words + "."
}

// gems are ovals; equal ones of one foam share a template.
func (d *drafting) gems() error {
	placed := d.Gems
	for _, gem := range d.Spec.Gems {
		if gem.Count == 0 {
			continue
		}
		name := fmt.Sprintf("gem %s × %s", mm(gem.Width.MM()), mm(gem.Height.MM()))
		if err := d.oval(name, placed[0].Foam.Name, gem.Width.MM(), gem.Height.MM(), gem.Count, gem.Layers); err != nil {
			return err
		}
		d.told(name, placed[:gem.Count], gem.Turn)
		placed = placed[gem.Count:]
	}
	if n := d.Spec.Studs; n > 0 && d.Made() {
		stud := d.Bench.Stud.MM()
		return d.oval("stud", d.CoreFoam.Name, stud, stud, n, 1)
	}
	return nil
}

// oval adds a template with its axes marked, or to the count of one that is there.
func (d *drafting) oval(name, foam string, width, height float64, count, layers int) error {
	for i, p := range d.patterns {
		if p.Name == name && p.Foam == foam {
			d.patterns[i].Count += count * layers
			return nil
		}
	}
	path, err := geom.Ellipse(width, height)
	if err != nil {
		return err
	}
	p := Pattern{Name: name, Foam: foam, Count: count * layers}
	p.outline(path)
	arm := math.Min(width, height) / 6
	p.Lines = append(p.Lines,
		Line{Class: Mark, Chain: []geom.Point{{X: -arm, Y: height / 2}, {X: arm, Y: height / 2}}},
		Line{Class: Mark, Chain: []geom.Point{{X: 0, Y: height/2 - arm}, {X: 0, Y: height/2 + arm}}})
	p.layered(layers)
	d.add(p)
	return nil
}

// free are the parts of the spec's own that were drawn; rectangles are only measured out.
func (d *drafting) free() error {
	for i, part := range d.Spec.Parts {
		if part.D == "" {
			continue
		}
		path, err := geom.ParsePath(part.D)
		if err != nil {
			return err
		}
		p := Pattern{Name: part.Name, Foam: d.Free[i].Foam.Name, Count: part.Count * part.Layers}
		p.outline(path)
		p.layered(part.Layers)
		d.add(p)
	}
	return nil
}

func (p *Pattern) outline(path geom.Path) {
	for _, chain := range path.Polylines(drawn) {
		if chain[0] != chain[len(chain)-1] {
			chain = append(chain, chain[0]) // back at its start to a nanometre, as an outline is
		}
		p.Lines = append(p.Lines, Line{Class: Cut, Chain: chain})
	}
}

func (p *Pattern) layered(n int) {
	if n > 1 {
		p.Notes = append(p.Notes, fmt.Sprintf("%d layers are glued on each other.", n))
	}
}
