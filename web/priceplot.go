package web

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/stock"
)

// prices is how prices of an item's packs went, each for one stock unit, so that packs of several sizes compare: a
// step on the day a price begins, days along the bottom.
type prices struct {
	Lines []plotLine
	Rows  []plotTick // prices
	Days  []plotTick
	Now   int  // where today is
	Ahead bool // prices of days to come are shown
	Unit  string
}

type plotLine struct {
	Name, Path string
	N          int
}

type plotTick struct {
	At    int
	Label string
}

// Edges of the plot within its 560 × 250.
const (
	plotLeft, plotRight = 56, 548
	plotTop, plotBottom = 14, 214
	mostLines           = 4
)

// pricePlot draws an item's prices up to a day, or up to the last that is known; nil without any.
func pricePlot(line stock.Line, names map[string]string, now time.Time) *prices {
	first, last, highest := now, now, decimal.Zero
	var packs []stock.Offer
	for _, o := range line.Offers {
		if len(o.Prices) == 0 || len(packs) == mostLines {
			continue
		}
		packs = append(packs, o)
		for _, p := range o.Prices {
			if p.From.Before(first) {
				first = p.From
			}
			if p.From.After(last) {
				last = p.From
			}
			highest = decimal.Max(highest, perUnit(o, p))
		}
	}
	if len(packs) == 0 {
		return nil
	}
	d := &prices{Unit: string(line.Item.Unit), Ahead: last.After(now)}
	last = last.AddDate(0, 0, max(7, int(last.Sub(first).Hours()/24/12)))
	span := int64(max(1, last.Sub(first)/time.Hour))
	x := func(t time.Time) int {
		return plotLeft + int(int64(t.Sub(first)/time.Hour)*(plotRight-plotLeft)/span)
	}
	step, top := ladder(highest)
	y := func(v decimal.Decimal) int {
		return plotBottom - int(v.Mul(decimal.NewFromInt(plotBottom-plotTop)).Div(top).Round(0).IntPart())
	}
	for v := decimal.Zero; v.LessThanOrEqual(top); v = v.Add(step) {
		d.Rows = append(d.Rows, plotTick{y(v), worth(v)})
	}
	d.Now = x(now)
	for _, t := range days(first, last) {
		d.Days = append(d.Days, plotTick{x(t), t.Format("Jan 06")})
	}
	for n, o := range packs {
		var path strings.Builder
		var before time.Time
		for _, p := range slices.Backward(o.Prices) {
			if path.Len() == 0 {
				fmt.Fprintf(&path, "M%d %d", x(p.From), y(perUnit(o, p)))
			} else if p.From.Equal(before) {
				fmt.Fprintf(&path, "V%d", y(perUnit(o, p)))
			} else {
				fmt.Fprintf(&path, "H%dV%d", x(p.From), y(perUnit(o, p)))
			}
			before = p.From
		}
		fmt.Fprintf(&path, "H%d", plotRight)
		d.Lines = append(d.Lines, plotLine{fmt.Sprintf("%s, pack of %s", names[o.Supplier], quantity(o.Pack, line.Item.Unit)), path.String(), n})
	}
	return d
}

// perUnit is what one stock unit costs, to the cent; what costs less than one, to a hundredth of that.
func perUnit(o stock.Offer, p stock.Price) decimal.Decimal {
	v := p.Amount.DivRound(o.Pack, 4)
	if v.LessThan(decimal.NewFromInt(1)) {
		return v
	}
	return v.Round(2)
}

// ladder is a round step between the lines of a scale from nothing, three to six of them, and where it ends.
func ladder(highest decimal.Decimal) (step, top decimal.Decimal) {
	step = decimal.New(1, -2)
	for k := 0; highest.GreaterThan(step.Mul(decimal.NewFromInt(5))); k++ {
		step = step.Mul(decimal.RequireFromString([]string{"2", "2.5", "2"}[k%3]))
	}
	return step, decimal.Max(step, highest.Div(step).Ceil().Mul(step))
}

// days are firsts of months between two days, six at most.
func days(first, last time.Time) []time.Time {
	for _, months := range []int{1, 2, 3, 6, 12, 24, 60, 120} {
		var list []time.Time
		at := time.Date(first.Year(), first.Month(), 1, 0, 0, 0, 0, time.UTC)
		for (int(at.Month())-1+at.Year()*12)%months != 0 || at.Before(first) {
			at = at.AddDate(0, 1, 0)
		}
		for ; at.Before(last); at = at.AddDate(0, months, 0) {
			list = append(list, at)
		}
		if len(list) <= 6 {
			return list
		}
	}
	return nil
}
