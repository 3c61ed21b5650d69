package takeoff

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

const (
	squareFoot = 0.09290304  // m²
	gallon     = 3.785411784 // l, US
	mil        = 25.4        // µm
)

func closeTo(t *testing.T, what string, got decimal.Decimal, want, within float64) {
	t.Helper()
	if v := got.InexactFloat64(); math.Abs(v-want) > within {
		t.Errorf("%s: %v, want %v ± %v", what, v, want, within)
	}
}

// What covers so many m² a litre lies so thick, wet and dry, by its volume solids. Each to the digits of its source.
func TestFilm(t *testing.T) {
	const american = squareFoot / gallon // m²/l of one ft²/gal
	for _, c := range []struct {
		source       string
		solids       string
		coverage     float64 // m²/l
		wet, dry     float64 // µm; 0 where the source gives none
		wetBy, dryBy float64
	}{
		{"scribd document 343849341", "0.65", 208.52 * american, 0, 5 * mil, 0, 0.05},
		{"scribd document 343849341", "0.65", 5.2, 0, 125, 0, 0.05},
		{"scribd 476982351, Tech Note 5.3", "0.71", 5.68, 176, 125, 0.1, 0.05},
		{"scribd 476982351, Tech Note 5.3", "0.50", 10, 100, 50, 0, 0},
		{"painting-advice.blogspot.com, 2014-06", "1", 10, 100, 0, 0, 0},
		{"painting-advice.blogspot.com, 2014-06", "1", 8, 125, 0, 0, 0},
		{"a coatings primer: 1 US gal over 100 ft²", "1", 100 * american, 16 * mil, 0, 0.05 * mil, 0},
		{"231 in³ over 0.001 in, worked out exactly", "1", 231 / 0.001 / 144 * american, mil, mil, 1e-9, 1e-9},
	} {
		l := materials.Liquid{Solids: d(c.solids)}
		spread := decimal.NewFromFloat(1 / c.coverage)
		if c.wet > 0 {
			closeTo(t, c.source+", wet", l.Wet(spread), c.wet, c.wetBy)
		}
		if c.dry > 0 {
			closeTo(t, c.source+", dry", l.Dry(spread), c.dry, c.dryBy)
		}
	}
}

// The loss here is a share on top of what is on the work, as the trade adds it. Sources that take a share of all that is
// opened divide by 1 − loss: the same litres with loss ÷ (1 − loss) here.
func TestLoss(t *testing.T) {
	onTop := func(ofAll string) decimal.Decimal { return d(ofAll).DivRound(one.Sub(d(ofAll)), 16) }
	pour := func(m2, spread string, loss decimal.Decimal) decimal.Decimal {
		k := &taking{}
		l := materials.Liquid{Spread: d(spread), Loss: loss}
		return k.pour(Coats, l, of(measure.F(d(m2), "m²")), []measure.Factor{measure.F(l.Spread, "l/m²")})
	}
	// 100 ft²/gal with 30 % lost covers 70: corrosionpedia, definition 2294. Here in units of what 1 gal covers.
	closeTo(t, "70 of 100", pour("70", "0.01", onTop("0.30")), 1, 0.0005)
	// 9.310489 l of which 70 % are used are 13.3 l: safecsgoskins.com, coverage page.
	closeTo(t, "13.3 l", pour("9.310489", "1", onTop("0.30")), 13.3, 0.005)
	// 1 m² of glue on both faces at 0.18 l/m² and 15 %: common practice, no source.
	closeTo(t, "glue", pour("2", "0.18", d("0.15")), 0.414, 0)
}

// Four coats of latex are a third of a mm when dry, the first thinned to three parts in four: common practice, no source.
// Foam weighs what area × thickness × density say: 1 m² × 10 mm × 100 kg/m³ = 1.000 kg, worked out exactly.
func TestSkinAndMass(t *testing.T) {
	sheet := materials.Foam{Code: "sheet-10", Name: "Sheet", Thickness: 10 * measure.Millimetre, Width: measure.Metre, Height: 2 * measure.Metre, Density: d("100")}
	latex := materials.Liquid{Code: "latex", Use: materials.UseLatex, Density: d("0.95"), Solids: d("0.62"), Spread: d("0.13"), FirstSpread: d("0.20"), Loss: d("0.12")}
	primer := materials.Liquid{Code: "primer", Use: materials.UsePrimer, Density: d("1.05"), Solids: d("0.40"), Spread: d("0.12")}
	c := materials.Catalogue{Foams: []materials.Foam{sheet}, Liquids: []materials.Liquid{latex, primer}}
	spec := shield.Spec{Kind: shield.Prop, Quantity: 1, Coat: shield.Coat{System: "none"}, Grip: shield.Grip{Kind: "none"},
		Parts: []shield.FreePart{{Name: "plate", Foam: sheet.Code, Width: measure.Metre, Height: measure.Metre, Count: 1, Layers: 1, Loose: true}}}
	for _, x := range []struct {
		system   string
		coats    int
		film, kg float64
	}{
		{"none", 0, 0, 1},
		{"latex", 4, 334.8, 0},
		{"primer", 3, 144, 0},
	} {
		spec.Coat = shield.Coat{System: x.system, Coats: x.coats}
		s, err := shield.Make(spec, c, shield.UsualBench())
		if err != nil {
			t.Fatal(err)
		}
		got := Count(s, c, UsualUsage())
		closeTo(t, x.system+" film, µm", got.DryFilm, x.film, 0.01)
		if x.kg > 0 {
			closeTo(t, "kg", got.Mass, x.kg, 0)
		}
	}
	// Its rubber is 0.912 kg/l and 60 % of its mass (ISO 2004:2017, type HA, seen in a summary: at least 60 %), so of a
	// litre of 0.95 kg this share of the volume stays. By the mix rule a litre weighs 0.9453 to 0.9523 kg.
	closeTo(t, "latex solids by volume", latex.Solids, 0.95*0.60/0.912, 0.006)
	closeTo(t, "latex density", latex.Density, (0.9453+0.9523)/2, (0.9523-0.9453)/2)
}
