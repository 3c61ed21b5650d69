package pattern

import (
	"slices"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// onFront is a raised part where it lies on the front layer: it keeps its size, and its place moves outward with a
// template that is wider than the first.
func onFront(p shield.Placed, stretch float64) shield.Placed {
	box := p.Region.Bounds()
	p.Region = p.Region.Transform(geom.Translate((stretch-1)*(box.Min.X+box.Max.X)/2, 0))
	return p
}

// evenPlaces tells whether the places of pieces and gems are alike on both sides, so that a half template can show
// them.
func (d *drafting) evenPlaces() bool {
	var all [][]geom.Point
	for _, p := range slices.Concat(d.Pieces, d.Gems) {
		all = append(all, chains(p.Region)...)
	}
	return mirrored(all)
}

// placed draws round what is glued on the face, copies at one place once.
func (d *drafting) placed(p *Pattern, stretch float64) {
	last := ""
	for _, one := range slices.Concat(d.Pieces, d.Gems) {
		if here := one.Name + where(one, 0); here != last {
			last = here
			d.put(p, Mark, "here: "+clean(one.Name), chains(onFront(one, stretch).Region))
		}
	}
}
