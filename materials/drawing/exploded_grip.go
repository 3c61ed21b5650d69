package drawing

import (
	"cmp"
	"fmt"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// strapThick and guardThick are how thick straps and thumb guards are drawn, mm. Common practice, no source.
const strapThick, guardThick = 4, 10

// gripFloor is what there is to hold, under the back and further down the further from it: stacks of foam layer by
// layer, bar, straps, a guard. Cover layers over a bar are counted with the blocks.
func (e *apart) gripFloor() {
	f := floor{show: 0.7}
	depth, down := e.Total, 0.0
	layer := func(c Class, thick float64, fill Colour, regions ...geom.Region) (at geom.Point) {
		var lower []plate
		for i, r := range regions {
			lower = append(lower, plate{class: c, region: r, from: depth, to: depth + thick, down: down, fill: fill})
			if p := e.right(r, lower[i]); i == 0 || p.X > at.X {
				at = p
			}
		}
		f.plates = append(lower, f.plates...)
		depth += thick
		return at
	}
	// What comes next lies clear of these.
	clear := func(regions ...geom.Region) {
		down += lying*regions[0].Bounds().Height() + 0.6*e.u
	}
	row := func(c Class, thick float64, fill Colour, regions ...geom.Region) (at geom.Point) {
		at = layer(c, thick, fill, regions...)
		clear(regions...)
		return at
	}
	call := func(at geom.Point, name, detail string) {
		f.named = append(f.named, named{kind: shield.BlockPart, name: name, detail: detail, at: at})
	}
	h, g := e.holding(e.Shield, centroid(e.flat[0].Outer)), e.Grip
	x, straps := heldAt(e.Shield)
	x = -x // seen from the front
	block, foamName := mix(e.back, light, 0.22), e.CoreFoam.Name
	if g.ThumbGuards > 0 {
		call(row(Block, guardThick, block, h.rectangle(x, 0, padWide, padHigh, 16)), "thumb guard", counted(g.ThumbGuards, foamName))
	}
	if n := g.Layers + g.Blocks*e.Spec.Grip.BlockLayers; n > 0 {
		var at geom.Point
		off := 0.0
		if g.Stacks > 0 {
			off = (hand + h.high) / 2
		}
		for i := range max(e.Spec.Grip.BlockLayers, 1) {
			stacks := []geom.Region{h.stepped(x, -off, i), h.stepped(x, off, i)}[:max(g.Stacks, 1)]
			if p := layer(Block, e.CoreFoam.Thickness.MM(), mix(block, light, 0.05*float64(i)), stacks...); i == 0 {
				at = p
			}
		}
		clear(h.rectangle(x, 0, h.wide, off+h.high, 0))
		call(at, "grip block", counted(n, foamName))
	}
	if g.Bars > 0 {
		call(row(Handle, barThick, wood, h.rectangle(x, 0, barThick, hand+1.1*h.high, barThick/2)), "bar", counted(g.Bars, cmp.Or(g.Bar, "wood or tube")))
	}
	if len(straps) > 0 {
		var all []geom.Region
		for _, at := range straps {
			all = append(all, h.rectangle(-at, 0, strapWide, strapHigh, 3))
		}
		name := "strap"
		if g.Adjustable > 0 {
			name = fmt.Sprintf("strap, %d adjustable", g.Adjustable)
		}
		call(row(Strap, strapThick, leather, all...), name, counted(len(straps), "webbing"))
	}
	if g.Ropes > 0 {
		call(row(Rope, ropeThick, hemp, h.bow()), "rope", counted(g.Ropes, "cord"))
	}
	e.put(f)
}

// bow is a rope that hangs between two holes, as it lies when nobody holds it.
func (h hold) bow() geom.Region {
	const end, swing, steps = 95, 34, 28
	var ring geom.Ring
	for _, side := range [2]float64{1, -1} {
		for i := range steps + 1 {
			t := side * (float64(i)/steps*2 - 1)
			ring = append(ring, h.place(-swing*(1-t*t)+side*ropeThick/2, end*t))
		}
	}
	return geom.Region{{Outer: ring}}
}
