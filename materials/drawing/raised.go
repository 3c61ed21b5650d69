package drawing

import (
	"math"
	"slices"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// studs are spread evenly along the middle of the rim, or a little inside the edge where there is none, from
// the top of the centre line on.
func (b *board) studs(s shield.Shield, flat geom.Region) {
	at, size := studs(s, flat, 1.2*b.u)
	if len(at) == 0 {
		return
	}
	var gleam []geom.Point
	for _, p := range at {
		gleam = append(gleam, geom.Point{X: p.X - 0.14*size, Y: p.Y - 0.16*size})
	}
	b.add(Dots{Stud, at, size + 2*detailPen*b.u, dark}, Dots{Stud, at, size, steel}, Dots{Stud, gleam, 0.36 * size, mix(steel, light, 0.75)})
}

// studs are where studs go, so many mm in from the edge where there is no rim, and their diameter.
func studs(s shield.Shield, flat geom.Region, in float64) (at []geom.Point, size float64) {
	if s.Spec.Studs == 0 {
		return nil, 0
	}
	size = s.Bench.Stud.MM()
	if s.Rim != nil {
		in = s.Rim.Width / 2
		size = math.Min(size, 0.5*s.Rim.Width)
	}
	mid, err := flat.Offset(-in)
	if err != nil || len(mid) == 0 {
		return nil, 0
	}
	w := newWalk(mid[0].Outer)
	step := w.length / float64(s.Spec.Studs)
	size = math.Min(size, 0.6*step)
	for i := range s.Spec.Studs {
		at = append(at, w.at(w.top()+float64(i)*step))
	}
	return at, size
}

// pieces are raised: each throws a shadow to the lower right, a longer one the more layers it has.
func (b *board) pieces(s shield.Shield, c coats) {
	for i, p := range s.Pieces {
		if i > 0 && alike(p, s.Pieces[i-1]) {
			continue // its copies have no places of their own
		}
		b.shadow(p)
		b.area(Piece, p.Region, c.named(p.Colour, mix(c.bare, light, 0.2)), outlinePen)
	}
}

func alike(p, q shield.Placed) bool {
	return p.Name == q.Name && p.Colour == q.Colour && slices.EqualFunc(p.Region, q.Region, func(a, b geom.Shape) bool { return slices.Equal(a.Outer, b.Outer) })
}

func (b *board) shadow(p shield.Placed) {
	far := (0.12 + 0.06*float64(min(p.Layers, 4))) * b.u
	b.area(Shade, p.Region.Transform(geom.Translate(0.7*far, far)), dark.veil(0.22), 0)
}

// grooves that were drawn: a dark channel with a lit lower edge, as wide as the tool cuts (common practice, no
// source). Those given by length alone have no place.
func (b *board) grooves(s shield.Shield) {
	for _, g := range s.Grooves {
		if len(g.Line) == 0 {
			continue
		}
		wide := 2.5
		if g.Tool == "rotary" {
			wide = 5
		}
		wide = math.Min(wide, 0.35*b.u)
		chains := g.Line.Polylines(drawn)
		lit := make([][]geom.Point, len(chains))
		for i, chain := range chains {
			for _, p := range chain {
				lit[i] = append(lit[i], geom.Point{X: p.X + 0.25*wide, Y: p.Y + 0.35*wide})
			}
		}
		b.add(Lines{Class: Groove, Chains: lit, Colour: light.veil(0.3), Pen: wide, True: true})
		b.add(Lines{Class: Groove, Chains: chains, Colour: mix(dark, foam, 0.1).veil(0.85), Pen: wide, True: true})
	}
}

// gems are domes: a lighter crown, and a gleam where the light comes from; a faceted one has a flat crown and edges.
func (b *board) gems(s shield.Shield, c coats) {
	next := 0
	for _, spec := range s.Spec.Gems {
		for range spec.Count {
			g := s.Gems[next]
			next++
			b.shadow(g)
			b.gem(g.Region, spec, c.named(g.Colour, mix(c.bare, light, 0.3)))
		}
	}
}

func (b *board) gem(r geom.Region, spec shield.Gem, colour Colour) {
	box := r.Bounds()
	x, y := (box.Min.X+box.Max.X)/2, (box.Min.Y+box.Max.Y)/2
	b.area(Gem, r, mix(colour, dark, 0.18), outlinePen)
	if !spec.Faceted {
		part := func(share, dx, dy float64) geom.Region {
			return r.Transform(geom.Translate(-x, -y).Then(geom.Scale(share, share)).Then(geom.Translate(x+dx*box.Width(), y+dy*box.Height())))
		}
		b.area(Gem, part(0.76, -0.02, -0.025), colour, 0)
		b.area(Gem, part(0.48, -0.06, -0.07), mix(colour, light, 0.16), 0)
		b.area(Gem, part(0.17, -0.14, -0.18), light.veil(0.7), 0)
		return
	}
	// Eight facets round a table, each as light as it faces the upper left.
	const facets = 8
	turned := geom.Rotate(spec.Turn).Then(geom.Translate(x, y))
	corner := func(i int, share float64) geom.Point {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / facets)
		return turned.Apply(geom.Point{X: share * cos * spec.Width.MM() / 2, Y: share * sin * spec.Height.MM() / 2})
	}
	var table geom.Ring
	for i := range facets {
		sin, cos := math.Sincos(2 * math.Pi * float64(i+1) / facets)
		tone := mix(colour, light, 0.14-0.2*(cos+sin))
		if cos+sin > 0.7 {
			tone = mix(colour, dark, 0.12*(cos+sin))
		}
		table = append(table, corner(i, 0.5))
		b.area(Gem, geom.Region{{Outer: geom.Ring{corner(i, 0.5), corner(i, 0.94), corner(i+1, 0.94), corner(i+1, 0.5)}}}, tone, 0)
	}
	b.area(Gem, geom.Region{{Outer: table}}, mix(colour, light, 0.2), finePen)
	var edges [][]geom.Point
	for i := range facets {
		edges = append(edges, []geom.Point{corner(i, 0.5), corner(i, 0.97)})
	}
	b.add(Lines{Class: Ink, Chains: edges, Pen: finePen * b.u})
}
