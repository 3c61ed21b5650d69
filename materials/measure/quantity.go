package measure

import (
	"math"
	"strings"

	"github.com/shopspring/decimal"
)

// Unit is what a quantity is counted in, written as the trade writes it.
type Unit string

// The units of the take-off and their declared places: m², m and ratios four, l and kg three, min and h two, ml, g and pieces none.
const (
	SquareMetre Unit = "m²"
	RunMetre    Unit = "m"
	Litre       Unit = "l"
	Millilitre  Unit = "ml"
	Kilogram    Unit = "kg"
	Gram        Unit = "g"
	Minute      Unit = "min"
	Hour        Unit = "h"
	Each        Unit = "pcs"
	Ratio       Unit = "" // a plain number: thickness over 30 mm
)

// Places is how many decimal places a quantity of this unit keeps.
func (u Unit) Places() int32 {
	switch u {
	case SquareMetre, RunMetre, Ratio:
		return 4
	case Litre, Kilogram:
		return 3
	case Minute, Hour:
		return 2
	}
	return 0
}

// Quantity is an exact amount in a unit.
type Quantity struct {
	Value decimal.Decimal
	Unit  Unit
}

// Of takes a measured float over the boundary into decimals, rounding once, half away from zero, to the
// unit's places. Geometry refuses what is not finite, so a value that is not finite is a fault here and panics.
func Of(x float64, u Unit) Quantity {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		panic("measure: a quantity that is no number came out of the geometry")
	}
	return Quantity{decimal.NewFromFloat(x).Round(u.Places()), u}
}

// String is the quantity with its unit, "0.4120 m²".
func (q Quantity) String() string {
	return strings.TrimSpace(q.Value.StringFixed(q.Unit.Places()) + " " + string(q.Unit))
}
