package measure_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
)

func TestParseLength(t *testing.T) {
	// 1 in = 25.4 mm and 1 ft = 12 in exactly: the international yard and pound agreement, as in ISO 80000-3 (from memory).
	for text, mm := range map[string]float64{
		"56 cm": 560, "56,5 cm": 565, "56.5cm": 565, "560 mm": 560, "0.56 m": 560, "1.2 m": 1200, "3 metres": 3000,
		"22 1/2 in": 571.5, "22½ in": 571.5, "1/2 in": 12.7, "22.5 inches": 571.5, `22 1/2"`: 571.5,
		"1 ft 10 in": 558.8, "1 ft 10": 558.8, `1' 10"`: 558.8, `1′10″`: 558.8, "2 ft": 609.6, "1 ft 10 1/4": 565.15,
		"1/64 in": 0.396875, " 80 CM ": 800, "12 in.": 304.8,
	} {
		got, err := measure.ParseLength(text)
		if err != nil || got.MM() != mm {
			t.Errorf("%q: got %v mm, %v; want %v mm", text, got.MM(), err, mm)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"80": "80 what?", "22 1/2": "22 1/2 what?", "": "Write a length", "-5 cm": "below zero", "NaN": "not a length",
		"1e308 mm": "unit is not known", "5 furlongs": "unit is not known", "5 cm 3 cm": "feet and inches", "1/0 in": "over nothing",
		"10 ft 2 ft": "feet and inches", "999999999 m": "kilometre", "12345678901 mm": "unit is not known", "five cm": "not a length",
		"1 ft 2 in 3": "not a length", "inf": "not a length", "١٢ cm": "not a length",
	} {
		_, err := measure.ParseLength(text)
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; want a fault with %q", text, err, want)
		}
	}
}

func TestParseMillimetres(t *testing.T) {
	for text, mm := range map[string]float64{"560": 560, "5.6e2": 560, "0.5": 0.5} {
		if got, err := measure.ParseMillimetres(text); err != nil || got.MM() != mm {
			t.Errorf("%s: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"1e308", "-1", "x", "1e2000000000", "1000001"} {
		if _, err := measure.ParseMillimetres(text); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s was accepted: %v", text, err)
		}
	}
}

func TestLengthRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := measure.Length(rapid.Int64Range(0, int64(1000*measure.Metre)).Draw(t, "nm"))
		got, err := measure.ParseLength(l.String())
		if err != nil || got != l {
			t.Fatalf("%s came back as %s, %v", l, got, err)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"56 cm", "22 1/2 in", "1 ft 10", "80", "-3 mm", "½ in", "1e9 m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := measure.ParseLength(s)
		if err == nil && (l < 0 || l > 1000*measure.Metre) {
			t.Fatalf("%q gave %d", s, l)
		}
		if err != nil && fault.KindOf(err) != fault.Invalid {
			t.Fatalf("%q: an unexplained failure: %v", s, err)
		}
	})
}
