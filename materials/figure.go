package materials

import (
	"fmt"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
)

// Figure is one of the workshop's own figures, to be read and written: a number or a length, with the range that can be
// reckoned with.
type Figure struct {
	Name, Group, What, Unit string
	Number                  *decimal.Decimal // nil of a length
	Length                  *measure.Length
	Least, Most             float64 // of a length in mm
}

// Typed is the figure as a person types it.
func (f Figure) Typed() string {
	if f.Length != nil {
		return f.Length.String()
	}
	return f.Number.String()
}

// CheckFigures is nil when all are within their ranges, else a fault with everything that is not, by name.
func CheckFigures(all []Figure) error {
	var l fault.List
	for _, f := range all {
		if f.Length != nil {
			if mm := f.Length.MM(); mm < f.Least || mm > f.Most {
				l.Add(f.Name, f.Typed(), fmt.Sprintf("Write a length from %v to %v mm, with its unit.", f.Least, f.Most))
			}
		} else if f.Number.LessThan(decimal.NewFromFloat(f.Least)) || f.Number.GreaterThan(decimal.NewFromFloat(f.Most)) {
			l.Add(f.Name, f.Typed(), fmt.Sprintf("Write a figure from %v to %v.", f.Least, f.Most))
		}
	}
	return l.Err()
}
