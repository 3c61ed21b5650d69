package plot

import (
	"math"

	"github.com/shopspring/decimal"
)

// scale turns values into places between two ends of an axis.
type scale struct{ low, high, from, to float64 }

func (s scale) at(v float64) float64 {
	if s.high == s.low {
		return s.from
	}
	return s.from + (v-s.low)/(s.high-s.low)*(s.to-s.from)
}

// extent is what an axis has to hold.
type extent struct {
	low, high float64
	whole     bool // all values are whole: no step is less than one
	any       bool
}

func (e *extent) take(d decimal.Decimal) {
	v := d.InexactFloat64()
	if !e.any {
		*e = extent{v, v, true, true}
	}
	e.low, e.high, e.whole = math.Min(e.low, v), math.Max(e.high, v), e.whole && d.IsInteger()
}

// values is the extent of all values, their intervals, the line at a value and nought.
func (s *sheet) values() (e extent) {
	for _, series := range s.Series {
		for _, p := range series.Points {
			e.take(p.Value)
			if p.Low.Valid && p.High.Valid {
				e.take(p.Low.Decimal)
				e.take(p.High.Decimal)
			}
		}
	}
	if e.any && s.Rule.Valid {
		e.take(s.Rule.Decimal)
	}
	if e.any {
		e.take(decimal.Zero)
	}
	return e
}

// places is the extent of where points stand along the other axis, with nought.
func (s *sheet) places() (e extent) {
	e.take(decimal.Zero)
	for _, series := range s.Series {
		for _, p := range series.Points {
			e.take(p.At)
		}
	}
	return e
}

// steps are the values that an axis is marked at, at most so many and two, and its ends: whole steps of 1, 2 or 5 of a
// power of ten.
func (e extent) steps(most int) (ticks []float64, from, to float64) {
	low, high := e.low, e.high
	if high == low {
		high = low + 1
	}
	raw := (high - low) / float64(most)
	if e.whole {
		raw = math.Max(raw, 1)
	}
	ten := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * ten
	for _, m := range []float64{5, 2, 1} {
		if m*ten >= raw*(1-1e-9) {
			step = m * ten
		}
	}
	first, last := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
	for n := first; n <= last && len(ticks) < most+3; n++ {
		ticks = append(ticks, n*step)
	}
	return ticks, first * step, last * step
}

// written is a tick as the chart writes values.
func written(unit func(decimal.Decimal) string, v float64) string {
	d := decimal.NewFromFloat(v).Round(6)
	if unit == nil {
		return d.String()
	}
	return unit(d)
}
