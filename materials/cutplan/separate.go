package cutplan

import (
	"math"
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

// mostSheets and mostLies bound the sheets and the lies looked at for one move.
const mostSheets, mostLies = 8, 5

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
		from := p.rng.IntN(len(lies))
		for i := range min(len(lies), mostLies) {
			if b.cost > 0 {
				p.seek(u, t, lies[(from+i)%len(lies)], &b)
			}
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
