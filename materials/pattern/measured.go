package pattern

import (
	"fmt"

	"foamwright/materials/shield"
)

// measured notes what is cut along a ruler: strips, blocks and plain rectangles.
func (d *drafting) measured() {
	if d.Spec.Edge != nil {
		d.bars("edge strip", mm(d.Strip)+" mm foam", shield.EdgePart)
	}
	if c := d.Cover; c != nil {
		d.add(Pattern{Name: "cover strip, on the back", Foam: c.Foam.Name, Notes: []string{fmt.Sprintf(
			"%s mm wide, along the outline over the joint of edge strip and back: %s mm round the outside, %s mm inside%s.",
			mm(c.Width), whole(c.Outer), whole(c.Inner), joints(c.Joints))}})
	}
	d.bars("grip", d.CoreFoam.Name, shield.BlockPart)
	for i, part := range d.Spec.Parts {
		if part.D == "" {
			d.add(Pattern{Name: part.Name, Foam: d.Free[i].Foam.Name, Notes: []string{
				fmt.Sprintf("%d of %s × %s mm.", part.Count*part.Layers, mm(part.Width.MM()), mm(part.Height.MM()))}})
		}
	}
}

// bars notes the rectangular parts of a kind, equal ones together.
func (d *drafting) bars(name, foam string, kind shield.Kind) {
	var sizes []string
	count := map[string]int{}
	for _, p := range d.Parts {
		if p.Kind != kind {
			continue
		}
		box := p.Shape.Outer.Bounds()
		size := mm(box.Width()) + " × " + mm(box.Height()) + " mm"
		if kind == shield.BlockPart {
			size += ", " + p.Label
		}
		if count[size] == 0 {
			sizes = append(sizes, size)
		}
		count[size] += p.Count
	}
	if len(sizes) == 0 {
		return
	}
	p := Pattern{Name: name, Foam: foam}
	for _, size := range sizes {
		p.Notes = append(p.Notes, fmt.Sprintf("%d of %s.", count[size], size))
	}
	d.add(p)
}
