package drawing

import (
	"cmp"
	"math"
	"slices"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// floor is what lies on one height of an exploded view, its lowest plates first.
type floor struct {
	plates []plate
	upon   func(down float64) // what is drawn on them
	named  []named
	lift   float64 // how far its plates are pulled apart among themselves, mm of the page
	show   float64 // how much of it is to be seen below what lies above, as a share of how deep the shield lies
	whole  bool    // it reaches from edge to edge
}

// apart is an exploded view in the making: its floors from the top down.
type apart struct {
	*board
	shield.Shield
	profile
	coats
	flat   geom.Region
	rim    float64 // thickness of the rim: how far the front of the core lies below that of the shield
	floors []floor
}

// Exploded is the shield pulled apart as it lies on the bench, face up: what is glued on last lies highest. Every
// part is drawn true to proportion, bent as it comes off the former, with its number in the order of laying up, its
// name, how many there are and of what. Of a prop, which has no order, it is nothing.
func Exploded(s shield.Shield, palette map[string]string) Drawing {
	if len(s.Flat) == 0 {
		return nothing("exploded", "parts only: nothing to pull apart")
	}
	wide := math.Max(s.Box.Width(), 0.55*s.Box.Height())
	b := newBoard("exploded", s.Spec.Name+" pulled apart", "", 0.075*wide)
	e := apart{board: b, Shield: s, profile: profileOf(s), coats: coatsOf(s, palette), flat: closely(s), rim: s.Total - s.Core}
	for _, put := range []func(){e.raisedFloor, e.rimFloor, e.layerFloors, e.edgeFloor, e.backFloor, e.coverFloor, e.gripFloor} {
		put()
	}
	e.lower()
	e.number()
	e.lines()
	for _, f := range slices.Backward(e.floors) {
		for _, p := range f.plates {
			b.plate(e.profile, p)
		}
		if f.upon != nil {
			f.upon(f.plates[0].down)
		}
	}
	e.label()
	return b.finish()
}

func (e *apart) put(f floor) {
	if len(f.plates) > 0 {
		e.floors = append(e.floors, f)
	}
}

// lower moves every floor down the page, clear of the one above it.
func (e *apart) lower() {
	deep := lying*e.Box.Height() + standing*e.low
	down, first := 0.0, true
	for i := range e.floors {
		f := &e.floors[i]
		if !first {
			down += math.Max(f.show*deep, labelHigh*e.u*(1+0.65*float64(len(e.floors[i-1].named)-1))) + f.lift
		}
		first = false
		for k := range f.plates {
			f.plates[k].down += down
		}
		for k := range f.named {
			f.named[k].at.Y += down
		}
	}
}

// lines join the ends of what reaches from edge to edge, to show that it was one.
func (e *apart) lines() {
	var ends [2][]geom.Point
	for _, f := range e.floors {
		if f.whole {
			for i, x := range [2]float64{-e.half, e.half} {
				// The places furthest out, as sides finds them, lie level.
				_, right := sides(e.flat[0].Outer)
				ends[i] = append(ends[i], e.seen(geom.Point{X: x, Y: right.Y}, f.plates[0].from, f.plates[0].down))
			}
		}
	}
	for _, chain := range ends {
		e.add(Lines{Class: Centre, Chains: [][]geom.Point{chain}, Pen: detailPen * e.u, Dash: []float64{0.8 * e.u, 0.35 * e.u}})
	}
}

// step is how far the layers of one piece are pulled apart, mm of the page.
func (e *apart) step() float64 { return 0.6 * e.u }

// raised is a stack of plates on the core, its lowest layer first, and where its name points to.
func (e *apart) raised(c Class, r geom.Region, thick float64, layers int, fill Colour) (all []plate, at geom.Point) {
	for i := range max(layers, 1) {
		v := e.rim - float64(i)*thick
		all = append(all, plate{class: c, region: r, from: v - thick, to: v, down: -float64(i) * e.step(), fill: fill})
	}
	return all, e.right(r, all[0])
}

// right is the place furthest to the right on a plate as it is seen, a little inward.
func (e *apart) right(r geom.Region, d plate) geom.Point {
	best := geom.Point{X: math.Inf(-1)}
	for _, s := range r {
		for _, p := range e.profile.chain(closed(s.Outer), d.from, 0) {
			if p.X > best.X {
				best = p
			}
		}
	}
	best.Y += d.down
	return best
}

// raisedFloor is all that is glued on the face, as it lies there.
func (e *apart) raisedFloor() {
	f := floor{}
	e.studs(&f)
	e.pieces(&f)
	e.gems(&f)
	e.put(f)
}

// gems are in the air above the pieces, since they may lie on them.
func (e *apart) gems(f *floor) {
	above := 0.0
	if len(e.Pieces) > 0 {
		above = 1.5 * e.step()
	}
	next := 0
	for _, g := range e.Spec.Gems {
		if g.Count == 0 {
			continue
		}
		n := named{kind: shield.GemPart, name: "gem " + mm(g.Width.MM()) + " × " + mm(g.Height.MM()), detail: counted(g.Count*g.Layers, e.Gems[next].Foam.Name, layered(g.Layers))}
		for range g.Count {
			one := e.Gems[next]
			next++
			fill := e.coats.named(one.Colour, mix(e.bare, light, 0.3))
			plates, at := e.raised(Gem, one.Region, one.Foam.Thickness.MM(), one.Layers, fill)
			for i := range plates {
				plates[i].down -= above
			}
			f.plates = append(f.plates, plates...)
			n.point(geom.Point{X: at.X, Y: at.Y - above})
			f.lift = math.Max(f.lift, float64(one.Layers-1)*e.step()+above)
		}
		f.named = append(f.named, n)
	}
}

// pieces lie before those that are further up on the face.
func (e *apart) pieces(f *floor) {
	var stacks [][]plate
	next := 0
	for _, p := range e.Spec.Pieces {
		poses := 1
		if p.Mirror {
			poses = 2
		}
		if p.Count == 0 {
			continue
		}
		n := named{kind: shield.PiecePart, name: p.Name, detail: counted(p.Count*p.Layers*poses, e.Pieces[next].Foam.Name, layered(p.Layers), mirrored(p.Count*p.Layers*(poses-1)))}
		for range poses {
			one := e.Pieces[next]
			next += p.Count
			plates, at := e.raised(Piece, one.Region, one.Foam.Thickness.MM(), one.Layers, e.coats.named(one.Colour, mix(e.bare, light, 0.2)))
			stacks = append(stacks, plates)
			n.point(at)
			f.lift = math.Max(f.lift, float64(one.Layers-1)*e.step())
		}
		f.named = append(f.named, n)
	}
	foot := func(stack []plate) float64 { return stack[0].region.Bounds().Max.Y }
	slices.SortStableFunc(stacks, func(a, b []plate) int { return cmp.Compare(foot(a), foot(b)) })
	f.plates = append(f.plates, slices.Concat(stacks...)...)
}

func (e *apart) studs(f *floor) {
	at, size := studs(e.Shield, e.flat, 1.2*e.u)
	if len(at) == 0 {
		return
	}
	var all geom.Region
	for _, p := range at {
		all = append(all, geom.Shape{Outer: circle(p, size/2, 8)})
	}
	d := plate{class: Stud, region: all, from: -0.4 * size, fill: steel}
	f.plates = append(f.plates, d)
	f.named = append(f.named, named{kind: shield.GemPart, name: "studs", at: e.right(all, d), detail: counted(len(at), e.CoreFoam.Name)})
}
