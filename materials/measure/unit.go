package measure

import "strings"

// units are all units with the code that documents between businesses use, UN/ECE Recommendation 20, and the other
// ways they are written. Pieces are H87 (piece), not C62 (one): what is counted here can be picked up.
func units() []struct {
	unit      Unit
	code      string
	spellings []string
} {
	return []struct {
		unit      Unit
		code      string
		spellings []string
	}{
		{Each, "H87", []string{"C62", "EA", "pc", "piece", "pieces", "each", "sheet", "sheets", "mat", "mats"}},
		{RunMetre, "MTR", []string{"metre", "metres", "meter", "meters"}},
		{SquareMetre, "MTK", []string{"m2", "sqm", "square metre", "square metres"}},
		{Litre, "LTR", []string{"ltr", "litre", "litres", "liter", "liters"}},
		{Millilitre, "MLT", []string{"millilitre", "millilitres", "milliliter", "milliliters"}},
		{Kilogram, "KGM", []string{"kilo", "kilos", "kilogram", "kilograms"}},
		{Gram, "GRM", []string{"gram", "grams"}},
		{Minute, "MIN", []string{"minute", "minutes"}},
		{Hour, "HUR", []string{"hour", "hours"}},
	}
}

// Code is the unit's code of UN/ECE Recommendation 20; empty for a plain number.
func (u Unit) Code() string {
	for _, known := range units() {
		if known.unit == u {
			return known.code
		}
	}
	return ""
}

// ParseUnit reads a unit by its code or as the trade writes it, in either case.
func ParseUnit(text string) (Unit, error) {
	written := strings.ToLower(strings.TrimSpace(text))
	for _, known := range units() {
		for _, name := range append(known.spellings, known.code, string(known.unit)) {
			if strings.ToLower(name) == written {
				return known.unit, nil
			}
		}
	}
	return "", refuse(text, "This is no unit. Write one of: pcs, m, m², l, ml, kg, g, min, h.")
}
