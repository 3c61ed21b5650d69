package cutplan

import (
	"math"

	"foamwright/materials/geom"
)

// separate moves overlapping units until none overlap or the effort, in evaluations, is spent. Where the
// overlap has not shrunk for some rounds it goes back to the least seen and exchanges two units.
func (p *separator) separate(effort float64) bool {
	end := p.evals + effort
	least, stale := p.overlap(), 0
	keep := append([]spot(nil), p.at...)
	order := make([]int, 0, len(p.at))
	for least > 0 && p.evals < end && !p.stop() {
		order = order[:0]
		for u := p.seated; u < len(p.at); u++ {
			if _, d := p.burden(u); d > 0 {
				order = append(order, u)
			}
		}
		p.rng.Shuffle(len(order), func(i, k int) { order[i], order[k] = order[k], order[i] })
		for _, u := range order {
			if p.evals >= end || p.stop() {
				break
			}
			p.move(u)
		}
		sum := p.overlap()
		if sum == 0 {
			return true
		}
		p.weigh()
		if sum < least*0.98 {
			least, stale = sum, 0
			copy(keep, p.at)
		} else if stale++; stale > patience {
			p.restore(keep)
			p.exchange()
			p.even()
			stale, least = 0, math.Inf(1)
		}
	}
	return least == 0
}

// patience is how many rounds without progress the search bears.
const patience = 20

// mostSheets bounds the sheets looked at for one move.
const mostSheets = 8

// move takes a unit to the place of least weighted overlap found on its own sheet and a few others.
func (p *separator) move(u int) {
	now, plain := p.burden(u)
	if plain == 0 {
		return
	}
	was := p.at[u]
	b := best{was, now}
	n := len(p.trays)
	lies := p.lies[p.units[u].piece]
	first := p.rng.IntN(n)
	for i, k := 0, 0; i < n && k < mostSheets; i++ {
		t := (first + i) % n
		if i == 0 {
			t = was.sheet
		} else if t == was.sheet {
			continue
		}
		if k++; p.only >= 0 && t != p.only {
			break
		}
		for _, l := range lies {
			if b.cost == 0 {
				break
			}
			p.seek(u, t, l, &b)
		}
	}
	if b.cost < now {
		p.put(u, b.sheet, b.lie, b.at)
	}
}

// insert lays a unit that lies nowhere where it overlaps least.
func (p *separator) insert(u int) bool {
	b := best{spot: spot{sheet: -1}, cost: math.Inf(1)}
	for t := range p.trays {
		for _, l := range p.lies[p.units[u].piece] {
			if b.cost > 0 {
				p.seek(u, t, l, &b)
			}
		}
	}
	if b.sheet < 0 {
		return false
	}
	p.put(u, b.sheet, b.lie, b.at)
	return true
}

func (p *separator) restore(spots []spot) {
	for u := range p.at {
		p.lift(u)
	}
	for u, s := range spots {
		if s.sheet >= 0 {
			p.put(u, s.sheet, s.lie, s.at)
		}
	}
}

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
