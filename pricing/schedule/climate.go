package schedule

import "github.com/shopspring/decimal"

// Climate is the air things dry in: °C and % relative humidity.
type Climate struct{ Celsius, Humidity decimal.Decimal }

// Reference is the air that the waits of the table of steps are for.
func Reference() Climate {
	return Climate{Celsius: decimal.NewFromInt(20), Humidity: decimal.NewFromInt(50)}
}

// Damp is how far the air stands against what latex bears: from 70 % it dries slower than can be reckoned with, from
// 85 % on it should not be coated at all (common practice, no source; the maker decides).
type Damp int

// The degrees of damp.
const (
	Fine Damp = iota
	Slow
	TooDamp
)

// Damp judges the air for latex.
func (c Climate) Damp() Damp {
	switch {
	case c.Humidity.GreaterThanOrEqual(decimal.NewFromInt(85)):
		return TooDamp
	case c.Humidity.GreaterThanOrEqual(decimal.NewFromInt(70)):
		return Slow
	}
	return Fine
}

// Factor is how much longer what is borne by water dries in this air than at 20 °C and 50 %: it doubles with every
// 10 °C less, and goes with what the air still takes up, 50 ÷ (100 − humidity), held between 0.7 and 3 (common
// practice, no source). Two places.
func (c Climate) Factor() decimal.Decimal {
	least, most := decimal.New(7, -1), decimal.NewFromInt(3)
	air := most
	if dry := decimal.NewFromInt(100).Sub(c.Humidity); dry.IsPositive() {
		air = decimal.Max(least, decimal.Min(most, decimal.NewFromInt(50).DivRound(dry, 8)))
	}
	return c.warmth().Mul(air).Round(2)
}

// Warmth is how much longer glue and sealant, which no humidity holds up, set than at 20 °C: twice as long for every
// 10 °C less (common practice, no source; the data sheet comes first). Two places.
func (c Climate) Warmth() decimal.Decimal { return c.warmth().Round(2) }

func (c Climate) warmth() decimal.Decimal {
	w, err := decimal.NewFromInt(2).PowWithPrecision(decimal.NewFromInt(20).Sub(c.Celsius).DivRound(decimal.NewFromInt(10), 8), 8)
	if err != nil { // a power of 2 always has one
		return decimal.NewFromInt(1)
	}
	return w
}
