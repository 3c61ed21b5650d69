package stock

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"
)

// Pack is a size something is sold in, and what it costs.
type Pack struct{ Size, Price decimal.Decimal }

// Cheapest is how many of each pack cover a quantity at the least cost; of equal costs the one that leaves least
// over, then the one of fewest packs. Packs have a size above 0. Nothing to cover, or no packs, gives none.
func Cheapest(quantity decimal.Decimal, packs []Pack) []int {
	c := covering{packs: packs, best: make([]int, len(packs)), trial: make([]int, len(packs))}
	if !quantity.IsPositive() || len(packs) == 0 {
		return c.best
	}
	c.order = make([]int, len(packs))
	for i := range packs {
		c.order[i] = i
	}
	// The best value first, of equal value the largest: the first cover tried is then near the best one, and little
	// else has to be looked at.
	slices.SortStableFunc(c.order, func(a, b int) int {
		return cmp.Or(perUnit(packs[a]).Cmp(perUnit(packs[b])), packs[b].Size.Cmp(packs[a].Size))
	})
	c.cover(0, 0, quantity, decimal.Zero)
	return c.best
}

// covering looks for the cheapest cover: counts of one pack after the other, given up when even the best value for
// what is left costs more than the best cover so far.
type covering struct {
	packs       []Pack
	order       []int // by value
	best, trial []int
	cost, over  decimal.Decimal
	count       int
	found       bool
}

func (c *covering) cover(depth, count int, left, cost decimal.Decimal) {
	if !left.IsPositive() {
		c.keep(left.Neg(), cost)
		return
	}
	if depth == len(c.order) {
		return
	}
	i := c.order[depth]
	p := c.packs[i]
	// What is left costs at least this much: the packs after this one are no better value. At the same cost nothing
	// left over is beaten only by fewer packs.
	least := cost.Add(left.Mul(p.Price).DivRound(p.Size, 8))
	if c.found && (least.Sub(tiny).GreaterThan(c.cost) ||
		c.over.IsZero() && !least.Add(tiny).LessThan(c.cost) && count+ceil(left, decimal.Max(p.Size, c.largest(depth+1))) >= c.count) {
		return
	}
	most := ceil(left, p.Size)
	for n := most; n >= max(0, most-c.slack(depth)); n-- {
		c.trial[i] = n
		times := decimal.NewFromInt(int64(n))
		c.cover(depth+1, count+n, left.Sub(p.Size.Mul(times)), cost.Add(p.Price.Mul(times)))
	}
	c.trial[i] = 0
}

// slack is how many packs fewer than would cover alone are worth trying: as many as the largest other pack is
// times this one's size, since more of the others could be swapped back for better value.
func (c *covering) slack(depth int) int {
	return ceil(c.largest(depth+1), c.packs[c.order[depth]].Size) + 2*len(c.order)
}

// largest is the size of the largest pack from a depth on.
func (c *covering) largest(depth int) decimal.Decimal {
	largest := decimal.Zero
	for _, i := range c.order[depth:] {
		largest = decimal.Max(largest, c.packs[i].Size)
	}
	return largest
}

// ceil is how many of a size cover a quantity.
func ceil(quantity, size decimal.Decimal) int { return int(quantity.Div(size).Ceil().IntPart()) }

func (c *covering) keep(over, cost decimal.Decimal) {
	count := 0
	for _, n := range c.trial {
		count += n
	}
	order := cmp.Or(cost.Cmp(c.cost), over.Cmp(c.over), cmp.Compare(count, c.count))
	if !c.found || order < 0 {
		c.cost, c.over, c.count, c.found = cost, over, count, true
		copy(c.best, c.trial)
	}
}

var tiny = decimal.New(1, -6)

func perUnit(p Pack) decimal.Decimal { return p.Price.DivRound(p.Size, 16) }
