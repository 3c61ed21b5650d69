package money

import "github.com/shopspring/decimal"

// Mode is what becomes of the part that cannot be paid, in the terms of General Decimal Arithmetic. All modes
// work on magnitudes, so a credit rounds like the invoice it takes back.
type Mode string

// The modes that tax laws ask for. Round always uses HalfUp.
const (
	HalfUp   Mode = "half-up"   // to the nearest, half away from zero
	HalfDown Mode = "half-down" // to the nearest, half towards zero
	Down     Mode = "down"      // towards zero
)

// ParseMode reads the name of a mode.
func ParseMode(name string) (Mode, error) {
	switch m := Mode(name); m {
	case HalfUp, HalfDown, Down:
		return m, nil
	}
	return "", refuse(name, "This way of rounding is not known. Use half-up, half-down or down.")
}

// Quo is n/d rounded once to the given places, exactly: a tie is seen as a tie however long the quotient.
// A zero d or an unknown mode is a fault of the program and panics.
func (m Mode) Quo(n, d decimal.Decimal, places int32) decimal.Decimal {
	q, r := n.QuoRem(d, places) // towards zero
	switch m {
	case HalfUp:
		return n.DivRound(d, places)
	case HalfDown:
		if r.Abs().Mul(decimal.NewFromInt(2)).GreaterThan(d.Abs().Shift(-places)) {
			return n.DivRound(d, places)
		}
		return q
	case Down:
		return q
	}
	panic("money: no rounding mode " + string(m))
}

// RoundTo is the multiple of a step nearest to the amount, half away from zero: cash, where small coins are
// gone. A step of nothing, or less, leaves the amount as it is.
func (a Amount) RoundTo(step Amount) Amount {
	c := common(a, step)
	if step.Sign() <= 0 {
		return a
	}
	return Amount{a.value.DivRound(step.value, 0).Mul(step.value), c}
}

// RoundUpTo is the first multiple of a step that is no smaller than the amount, in magnitude: a price in whole
// fives. A step of nothing, or less, leaves the amount as it is.
func (a Amount) RoundUpTo(step Amount) Amount {
	c := common(a, step)
	if step.Sign() <= 0 {
		return a
	}
	q, r := a.value.QuoRem(step.value, 0)
	q = q.Add(decimal.NewFromInt(int64(r.Sign())))
	return Amount{q.Mul(step.value), c}
}
