package cutplan

import (
	"math"
	"slices"
)

// tradeLooks is how many looks for each unit on the sheet one trade may take, tournament how many trades are
// drawn for the one that gains most.
const tradeLooks, tournament = 3_000, 6

// anew is after how many rounds the trades begin again from the best plan, lest they run into a dead end.
const anew = 6

// trade is units that change places between two sheets: those in give leave the fuller one, those in get come to it.
type trade struct {
	fuller, other int
	give, get     []int
	gain          float64 // mm²
}

// shift makes full sheets fuller at the cost of the others, by trades that a separation of the two sheets alone
// proves, until one is empty or the effort is spent. What it reaches is kept to go on from, even when no
// sheet is saved yet. After the minimum-bin-slack heuristics of bin packing.
func (p *improver) shift() {
	if _, ok := p.aim(); !ok || len(p.from().Sheets) < 2 {
		return
	}
	if p.turns%anew == anew-1 {
		p.base = Plan{}
	}
	p.load(p.from(), -1)
	end := p.evals + p.effort
	for p.evals < end && !p.stop() {
		p.evals += 2
		t, ok := p.draw()
		if !ok {
			continue
		}
		if p.strike(t) && len(p.trays[t.other].units) == 0 {
			p.take()
			return
		}
	}
	p.base = p.layout()
}

// draw picks a trade that makes the fuller of two sheets fuller and does not overfill it.
func (p *improver) draw() (best trade, ok bool) {
	a, b := p.rng.IntN(len(p.trays)), p.rng.IntN(len(p.trays))
	if a == b || p.trays[a].kind != p.trays[b].kind {
		return best, false
	}
	fa, fb := p.filled(a), p.filled(b)
	if fa < fb {
		a, b, fa = b, a, fb
	}
	slack := p.needs.usable[p.trays[a].kind] - fa
	for range tournament {
		t := trade{fuller: a, other: b, give: p.some(a, p.rng.IntN(3)), get: p.some(b, 1+p.rng.IntN(3))}
		for _, u := range t.get {
			t.gain += p.needs.areas[p.units[u].piece]
		}
		for _, u := range t.give {
			t.gain -= p.needs.areas[p.units[u].piece]
		}
		if t.gain > 1e-6 && t.gain <= slack*(1+1e-9) && t.gain > best.gain {
			best, ok = t, true
		}
	}
	return best, ok
}

func (p *improver) filled(tray int) float64 {
	sum := 0.0
	for _, u := range p.trays[tray].units {
		sum += p.needs.areas[p.units[u].piece]
	}
	return sum
}

// some draws up to n units from a sheet, none of them seated.
func (p *improver) some(tray, n int) []int {
	var out []int
	on := p.trays[tray].units
	for range min(n, len(on)) {
		if u := on[p.rng.IntN(len(on))]; u >= p.seated && !slices.Contains(out, u) {
			out = append(out, u)
		}
	}
	return out
}

// strike carries out a trade if both sheets can be separated; if not, all lies as before.
func (p *improver) strike(t trade) bool {
	var was []int
	var spots []spot
	for _, i := range []int{t.fuller, t.other} {
		for _, u := range p.trays[i].units {
			was, spots = append(was, u), append(spots, p.at[u])
		}
	}
	for _, u := range append(slices.Clone(t.give), t.get...) {
		p.lift(u)
	}
	if p.pack(t.fuller, t.get) && p.pack(t.other, t.give) {
		return true
	}
	for _, u := range was {
		p.lift(u)
	}
	for i, u := range was {
		p.put(u, spots[i].sheet, spots[i].lie, spots[i].at)
	}
	return false
}

// pack adds units to one sheet and separates it alone.
func (p *improver) pack(tray int, units []int) bool {
	if len(units) == 0 {
		return true
	}
	p.even()
	for _, u := range units {
		b := best{spot: spot{sheet: -1}, cost: math.Inf(1)}
		for _, l := range p.lies[p.units[u].piece] {
			if b.cost > 0 {
				p.seek(u, tray, l, &b)
			}
		}
		if b.sheet < 0 {
			return false
		}
		p.put(u, b.sheet, b.lie, b.at)
	}
	p.only = tray
	defer func() { p.only = -1 }()
	return p.separate(tradeLooks * float64(len(p.trays[tray].units)))
}

// from is the plan to go on from: the best one or, of as many sheets, one with fuller sheets.
func (p *improver) from() Plan {
	if len(p.base.Sheets) == len(p.s.plan.Sheets) {
		return p.base
	}
	return p.s.plan
}
