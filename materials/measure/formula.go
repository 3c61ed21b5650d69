package measure

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// Factor is one number of a formula with what it stands for: 2 "faces", 0.18 "l/m²", 1.15 "loss".
type Factor struct {
	Value decimal.Decimal
	Label string
}

// F makes a factor from an exact decimal.
func F(value decimal.Decimal, label string) Factor { return Factor{value, label} }

// N makes a factor from a whole number.
func N(n int, label string) Factor { return Factor{decimal.NewFromInt(int64(n)), label} }

// M makes a factor from a measured float: the one rounding to the unit's places happens here.
func M(x float64, u Unit, label string) Factor {
	return Factor{Of(x, u).Value, strings.TrimSpace(string(u) + " " + label)}
}

// Formula is a sum of products, times common factors. Text and number come from the same values, so a
// line can never say one thing and charge another.
type Formula struct {
	Sum   [][]Factor
	Times []Factor
	Least decimal.Decimal // the result is at least this; zero means no least
	Whole bool            // the result is rounded up to a whole number
	Unit  Unit
}

// Add puts one more product into the sum. A product with a zero in it says nothing and is left out, and so is
// a factor of one beside others.
func (f *Formula) Add(product ...Factor) {
	for _, x := range product {
		if x.Value.IsZero() {
			return
		}
	}
	f.Sum = append(f.Sum, telling(product))
}

// By multiplies the whole sum.
func (f *Formula) By(factors ...Factor) {
	for _, x := range factors {
		if !x.Value.Equal(one) {
			f.Times = append(f.Times[:len(f.Times):len(f.Times)], x)
		}
	}
}

// telling leaves out factors of one, unless nothing else is there.
func telling(product []Factor) []Factor {
	if !slices.ContainsFunc(product, func(x Factor) bool { return x.Value.Equal(one) }) {
		return slices.Clip(product)
	}
	var kept []Factor
	for _, x := range product {
		if !x.Value.Equal(one) {
			kept = append(kept, x)
		}
	}
	if len(kept) == 0 {
		return product[:1]
	}
	return kept
}

var one = decimal.NewFromInt(1)

// Empty tells whether nothing was added.
func (f Formula) Empty() bool { return len(f.Sum) == 0 }

// Quantity is the value: exact arithmetic, rounded once to the unit's places at the end.
func (f Formula) Quantity() Quantity {
	v := f.exact()
	if f.Whole {
		v = v.RoundCeil(0)
	}
	if v.LessThan(f.Least) {
		v = f.Least
	}
	return Quantity{v.Round(f.Unit.Places()), f.Unit}
}

func (f Formula) exact() decimal.Decimal {
	sum := decimal.Zero
	for _, p := range f.Sum {
		sum = sum.Add(product(p))
	}
	return sum.Mul(product(f.Times))
}

// String is the formula with its result, "0.4120 m² × 2 faces × 0.18 l/m² × 1.15 loss = 0.171 l".
func (f Formula) String() string {
	if f.Empty() {
		return Quantity{decimal.Zero, f.Unit}.String()
	}
	terms := make([]string, len(f.Sum))
	for i, p := range f.Sum {
		terms[i] = text(p)
	}
	s := strings.Join(terms, " + ")
	if len(f.Times) > 0 {
		if len(terms) > 1 {
			s = "(" + s + ")"
		}
		s += " × " + text(f.Times)
	}
	switch v := f.exact(); {
	case v.LessThan(f.Least):
		s += ", at least " + f.Least.String()
	case f.Whole && !v.IsInteger():
		s += ", rounded up"
	}
	return s + " = " + f.Quantity().String()
}

func product(factors []Factor) decimal.Decimal {
	v := one
	for _, x := range factors {
		v = v.Mul(x.Value)
	}
	return v
}

func text(factors []Factor) string {
	parts := make([]string, len(factors))
	for i, x := range factors {
		parts[i] = strings.TrimSpace(x.Value.String() + " " + x.Label)
	}
	return strings.Join(parts, " × ")
}
