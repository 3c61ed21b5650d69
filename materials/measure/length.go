// Package measure holds exact lengths and quantities, reads the lengths a maker writes, and is the one
// boundary where a measured float becomes a decimal.
//
// Units: a Length is a whole number of nanometres (1/64 in is exact); a Quantity is a decimal in m², m, l,
// kg, min, h or pieces, rounded once to the unit's declared places. Limits: lengths up to 1 km either way.
package measure

import (
	"regexp"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
)

// Length is a whole number of nanometres: exact for every unit the trade writes, down to 1/64 in.
type Length int64

// Common lengths.
const (
	Millimetre Length = 1_000_000
	Centimetre        = 10 * Millimetre
	Metre             = 1_000 * Millimetre
	Inch              = 25_400_000 // ISO 80000-3: 25.4 mm exactly
	Foot              = 12 * Inch

	longest = 1_000 * Metre
)

// MM is the length in millimetres, for geometry.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// FromMM is the nearest length to a measured number of millimetres. The caller has made sure it is finite
// and under a kilometre; anything else is a fault in the geometry and panics.
func FromMM(mm float64) Length {
	if !(mm > -1e6 && mm < 1e6) {
		panic("measure: a length that is no number or over a kilometre came out of the geometry")
	}
	if mm < 0 {
		return -Length(-mm*float64(Millimetre) + 0.5)
	}
	return Length(mm*float64(Millimetre) + 0.5)
}

// Decimal is the length in millimetres, exactly.
func (l Length) Decimal() decimal.Decimal { return decimal.New(int64(l), -6) }

// String is the length in millimetres with its unit, "571.5 mm".
func (l Length) String() string { return l.Decimal().String() + " mm" }

// unitOf is the length of a written unit.
func unitOf(name string) (Length, bool) {
	switch name {
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return Millimetre, true
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return Centimetre, true
	case "m", "metre", "metres", "meter", "meters":
		return Metre, true
	case "in", "inch", "inches", `"`, "″", "”":
		return Inch, true
	case "ft", "foot", "feet", "'", "′", "’":
		return Foot, true
	}
	return 0, false
}

// number is a fraction alone, or a whole or decimal number with a fraction after it.
const number = `(?:(\d{1,4})\s*/\s*(\d{1,4})|(\d{1,9}(?:[.,]\d{1,6})?)(?:\s+(\d{1,4})\s*/\s*(\d{1,4}))?)`

// A length is one or two parts of number and unit; the second may leave out "in" after feet.
var (
	part    = regexp.MustCompile(`^\s*` + number + `\s*([a-z]+|["'″′”’])?\.?\s*`)
	vulgar  = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3", "⁄", "/", " ", " ", " ", " ")
	bareNum = regexp.MustCompile(`^[+-]?\s*` + number + `$`)
)

// ParseLength reads a length with its unit: "56 cm", "56,5 cm", "22 1/2 in", "1 ft 10 in", `1' 10"`.
// A number without a unit is refused: nobody guesses whether 80 means centimetres or inches.
func ParseLength(text string) (Length, error) {
	s := strings.ToLower(strings.TrimSpace(vulgar.Replace(text)))
	if s == "" {
		return 0, refuse(text, "Write a length with its unit, for example 56 cm or 22 1/2 in.")
	}
	negative := strings.HasPrefix(s, "-") || strings.HasPrefix(s, "−")
	s = strings.TrimLeft(s, "+-− ")
	total, rest, last := decimal.Zero, s, Length(0)
	for parts := 0; rest != ""; parts++ {
		m := part.FindStringSubmatch(rest)
		if m == nil || parts == 2 {
			return 0, refuse(text, "This is not a length. Write one such as 56 cm, 22 1/2 in or 1 ft 10 in.")
		}
		value, ok := value(m[3], m[1]+m[4], m[2]+m[5])
		if !ok {
			return 0, refuse(text, "A fraction cannot be over nothing. Write one such as 1/2.")
		}
		unit, known := unitOf(m[6])
		switch {
		case m[6] == "" && last == Foot:
			unit = Inch
		case m[6] == "" && bareNum.MatchString(s):
			return 0, refuse(text, strings.TrimSpace(text)+" what? Write the unit too, for example "+strings.TrimSpace(text)+" cm.")
		case !known:
			return 0, refuse(text, "The unit is not known. Use mm, cm, m, in or ft.")
		}
		if parts == 1 && !(last == Foot && unit == Inch) {
			return 0, refuse(text, "Only feet and inches go together, as in 1 ft 10 in.")
		}
		total = total.Add(value.Mul(decimal.NewFromInt(int64(unit))))
		last, rest = unit, rest[len(m[0]):]
	}
	if negative {
		return 0, refuse(text, "A length cannot be below zero.")
	}
	if total.GreaterThan(decimal.NewFromInt(int64(longest))) {
		return 0, refuse(text, "That is longer than a kilometre. Check the unit.")
	}
	return Length(total.Round(0).IntPart()), nil
}

// ParseMillimetres reads a bare JSON number, which is a number of millimetres.
func ParseMillimetres(text string) (Length, error) {
	d, err := decimal.NewFromString(text)
	switch {
	case err != nil || len(text) > 40:
		return 0, refuse(text, "This is not a number of millimetres.")
	case d.IsNegative():
		return 0, refuse(text, "A length cannot be below zero.")
	case d.Exponent() > 6 || d.GreaterThan(decimal.New(int64(longest), -6)):
		return 0, refuse(text, "That is longer than a kilometre. A bare number is millimetres.")
	}
	return Length(d.Shift(6).Round(0).IntPart()), nil
}

// value is whole plus numerator over denominator; false when the denominator is zero.
func value(whole, over, under string) (decimal.Decimal, bool) {
	v := decimal.Zero
	if whole != "" {
		v = decimal.RequireFromString(strings.Replace(whole, ",", ".", 1))
	}
	if over == "" {
		return v, true
	}
	d := decimal.RequireFromString(under)
	if d.IsZero() {
		return v, false
	}
	return v.Add(decimal.RequireFromString(over).DivRound(d, 12)), true
}

func refuse(value, remedy string) error {
	var l fault.List
	l.Add("", value, remedy)
	return l.Err()
}
