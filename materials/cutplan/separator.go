package cutplan

import (
	"math/rand/v2"

	"foamwright/materials/geom"
)

// spot is where a unit lies; sheet −1 is nowhere yet.
type spot struct {
	sheet int // index into separator.sheets
	lie   *lie
	at    geom.Point
	fat   geom.Rect // box of the swollen outline as it lies, less what rounding may do
}

func (l *lie) spot(sheet int, at geom.Point) spot {
	b := l.solid.box
	return spot{sheet, l, at, geom.Rect{
		Min: geom.Point{X: b.Min.X + at.X + eps, Y: b.Min.Y + at.Y + eps},
		Max: geom.Point{X: b.Max.X + at.X - eps, Y: b.Max.Y + at.Y - eps},
	}}
}

// tray is one opened sheet of the separator: its kind, the part of it that pieces may use, what lies on it.
type tray struct {
	kind  int
	inner geom.Rect
	units []int
}

// separator holds a layout whose pieces may overlap, and pulls them apart by guided local search: every pair
// that goes on overlapping weighs more and more, and one piece at a time moves to where its overlaps weigh
// least. After Faroe, Pisinger and Zachariasen (guided local search for bin packing, 2003) and Egeblad, Nielsen
// and Odgaard (nesting by overlap minimisation, 2007).
type separator struct {
	*stock
	trays  []tray
	at     []spot    // by unit
	depths []float64 // mm, of each pair of units and, in the last column, of a unit and its sheet's frame
	weight []float64
	wide   int // length of a row
	rng    *rand.Rand
	evals  float64
	only   int // the one sheet that is separated; −1 for all
	stop   func() bool
}

func (s *stock) separator(rng *rand.Rand) *separator {
	p := &separator{stock: s, at: make([]spot, len(s.units)), wide: len(s.units) + 1, rng: rng, only: -1}
	p.depths, p.weight = make([]float64, len(s.units)*p.wide), make([]float64, len(s.units)*p.wide)
	for i := range p.at {
		p.at[i].sheet = -1
	}
	p.even()
	return p
}

// even makes all weights one.
func (p *separator) even() {
	for i := range p.weight {
		p.weight[i] = 1
	}
}

// touch is the penetration of a unit that lies so into another, and into the frame of its sheet.
func (p *separator) touch(v int, l *lie, x, y float64) float64 {
	o, b := &p.at[v], &l.solid.box
	if x+b.Max.X <= o.fat.Min.X || x+b.Min.X >= o.fat.Max.X || y+b.Max.Y <= o.fat.Min.Y || y+b.Min.Y >= o.fat.Max.Y {
		p.evals += 0.05
		return 0
	}
	d, looks := p.pair(o.lie.solid, l.solid).depth(x-o.at.X, y-o.at.Y)
	p.evals += 0.1 + float64(looks)/20
	return d
}

func (p *separator) frame(kind int, l *lie, x, y float64) float64 {
	f := p.frames[kind]
	if f == nil {
		return 0
	}
	d, looks := p.pair(f, l.bare).depth(x, y)
	p.evals += 0.1 + float64(looks)/20
	return d
}

// put lays a unit, taking it from where it was, and finds its overlaps.
func (p *separator) put(u, sheet int, l *lie, at geom.Point) {
	p.lift(u)
	t := &p.trays[sheet]
	for _, v := range t.units {
		d := p.touch(v, l, at.X, at.Y)
		p.depths[u*p.wide+v], p.depths[v*p.wide+u] = d, d
	}
	if u >= p.seated {
		p.depths[u*p.wide+p.wide-1] = p.frame(t.kind, l, at.X, at.Y)
	}
	t.units = append(t.units, u)
	p.at[u] = l.spot(sheet, at)
}

// lift takes a unit off its sheet.
func (p *separator) lift(u int) {
	if p.at[u].sheet < 0 {
		return
	}
	t := &p.trays[p.at[u].sheet]
	k := 0
	for _, v := range t.units {
		if v != u {
			t.units[k] = v
			k++
			p.depths[u*p.wide+v], p.depths[v*p.wide+u] = 0, 0
		}
	}
	t.units = t.units[:k]
	p.depths[u*p.wide+p.wide-1] = 0
	p.at[u].sheet = -1
}

// burden is the overlap of a unit, weighted and not.
func (p *separator) burden(u int) (weighted, plain float64) {
	if p.at[u].sheet < 0 {
		return 0, 0
	}
	row, w := p.depths[u*p.wide:(u+1)*p.wide], p.weight[u*p.wide:(u+1)*p.wide]
	for _, v := range p.trays[p.at[u].sheet].units {
		if row[v] > 0 {
			weighted += row[v] * w[v]
			plain += row[v]
		}
	}
	d := row[p.wide-1]
	return weighted + d*w[p.wide-1], plain + d
}

// overlap is the sum of all depths, mm.
func (p *separator) overlap() float64 {
	sum := 0.0
	for u := range p.at {
		_, d := p.burden(u)
		sum += d + p.depths[u*p.wide+p.wide-1]
	}
	return sum / 2
}

// weigh makes the weights of overlapping pairs grow, the deepest most, and those of others fall back.
func (p *separator) weigh() {
	deepest := 0.0
	for _, d := range p.depths {
		deepest = max(deepest, d)
	}
	for i, d := range p.depths {
		if d > 0 {
			p.weight[i] *= 1.2 + 0.8*d/deepest
		} else if p.weight[i] > 1 {
			p.weight[i] = max(1, p.weight[i]*0.95)
		}
	}
}
