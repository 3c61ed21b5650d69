package cutplan

import (
	"math"

	"foamwright/materials/geom"
)

// exchange swaps the places of two units that differ, at least one of them among the larger half, so that no
// sheet is overfull by area where that can be had.
func (p *separator) exchange() {
	free := len(p.at) - p.seated
	if free < 2 {
		return
	}
	room := make([]float64, len(p.trays))
	for i, t := range p.trays {
		room[i] = p.usable(t)
		for _, u := range t.units {
			room[i] -= p.areas[p.units[u].piece]
		}
	}
	var a, b int
	least := math.Inf(1)
	for range 40 {
		x, y := p.seated+p.rng.IntN((free+1)/2), p.seated+p.rng.IntN(free)
		if p.only >= 0 {
			on := p.trays[p.only].units
			x, y = on[p.rng.IntN(len(on))], on[p.rng.IntN(len(on))]
		}
		if p.units[x].piece == p.units[y].piece || min(x, y) < p.seated {
			continue
		}
		over := 0.0
		if sx, sy := p.at[x].sheet, p.at[y].sheet; sx != sy {
			d := p.areas[p.units[x].piece] - p.areas[p.units[y].piece]
			over = max(0, -(room[sx]+d)) + max(0, -(room[sy]-d)) - max(0, -room[sx]) - max(0, -room[sy])
		}
		if over < least {
			a, b, least = x, y, over
		}
	}
	sa, sb := p.at[a], p.at[b]
	if sa.sheet < 0 || sb.sheet < 0 { // no pair was found, and the first unit lies nowhere just now
		return
	}
	la, lb := p.fitting(a, sb), p.fitting(b, sa)
	if math.IsInf(least, 1) || la == nil || lb == nil {
		return
	}
	p.lift(a)
	p.lift(b)
	p.put(a, sb.sheet, la, p.within(la, sb))
	p.put(b, sa.sheet, lb, p.within(lb, sa))
}

// usable is the area of a sheet that pieces may use.
func (p *separator) usable(t tray) float64 {
	g := p.grounds[t.kind]
	return min(g.area, t.inner.Width()*t.inner.Height())
}

// fitting is a lie of a unit that fits the sheet of a spot, drawn at random.
func (p *separator) fitting(u int, s spot) *lie {
	lies := p.lies[p.units[u].piece]
	first := p.rng.IntN(len(lies))
	for i := range lies {
		l := lies[(first+i)%len(lies)]
		if _, ok := l.room(p.trays[s.sheet].inner); ok {
			return l
		}
	}
	return nil
}

// within is the place of a lie that has its middle where the spot has its own, moved inside the sheet.
func (p *separator) within(l *lie, s spot) geom.Point {
	room, _ := l.room(p.trays[s.sheet].inner)
	x := s.at.X + (s.lie.box.Min.X+s.lie.box.Max.X-l.box.Min.X-l.box.Max.X)/2
	y := s.at.Y + (s.lie.box.Min.Y+s.lie.box.Max.Y-l.box.Min.Y-l.box.Max.Y)/2
	return geom.Point{X: min(room.Max.X, max(room.Min.X, x)), Y: min(room.Max.Y, max(room.Min.Y, y))}
}
