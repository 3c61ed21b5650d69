package measure_test

import (
	"strings"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
)

// Codes and names: UN/ECE Recommendation 20, revision 11e, as OpenPEPPOL publishes it in
// structure/codelist/UNECERec20-11e.xml.
func TestUnitCodes(t *testing.T) {
	for _, c := range []struct {
		unit       measure.Unit
		code, name string
	}{
		{measure.Each, "H87", "piece"}, {measure.RunMetre, "MTR", "metre"}, {measure.SquareMetre, "MTK", "square metre"},
		{measure.Litre, "LTR", "litre"}, {measure.Millilitre, "MLT", "millilitre"}, {measure.Kilogram, "KGM", "kilogram"},
		{measure.Gram, "GRM", "gram"}, {measure.Minute, "MIN", "minute"}, {measure.Hour, "HUR", "hour"},
	} {
		if got := c.unit.Code(); got != c.code {
			t.Errorf("%s has the code %q, want %q", c.unit, got, c.code)
		}
		for _, written := range []string{c.code, strings.ToLower(c.code), c.name, string(c.unit), " " + strings.ToUpper(c.name) + "\t"} {
			if got, err := measure.ParseUnit(written); err != nil || got != c.unit {
				t.Errorf("%q is read as %q, %v", written, got, err)
			}
		}
	}
	for _, same := range []string{"C62", "EA"} { // "one" and "each" are counted like pieces
		if got, err := measure.ParseUnit(same); err != nil || got != measure.Each {
			t.Errorf("%s is read as %q, %v", same, got, err)
		}
	}
	if measure.Ratio.Code() != "" {
		t.Error("a plain number has a code")
	}
	for _, wrong := range []string{"", "MMT", "XDR", "gallon"} {
		if _, err := measure.ParseUnit(wrong); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%q is read: %v", wrong, err)
		}
	}
}
