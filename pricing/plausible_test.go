package pricing_test

import (
	"slices"
	"strings"
	"testing"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// snapshot is the least a shield of two layers needs.
func snapshot(t *testing.T) pricing.Snapshot {
	t.Helper()
	steps, err := labour.Seed()
	if err != nil {
		t.Fatal(err)
	}
	mm := measure.Millimetre
	return pricing.Snapshot{
		Catalogue: materials.Catalogue{
			Foams:   []materials.Foam{{Code: "sheet-10", Name: "Sheet", Form: materials.Sheet, Thickness: 10 * mm, Width: 1000 * mm, Height: 2000 * mm, Density: dec("100")}},
			Liquids: []materials.Liquid{{Code: "contact", Name: "Contact adhesive", Use: materials.UseAdhesive, Spread: dec("0.18"), Loss: dec("0.15")}},
		},
		Prices: []pricing.Price{{Item: "sheet-10", Amount: dec("38"), Pack: dec("1")}, {Item: "contact", Amount: dec("62"), Pack: dec("5"), Unit: measure.Litre}},
		Rates:  pricing.Rates{Currency: "EUR", Hour: dec("30"), Allowance: dec("0.15"), Margin: dec("0.2"), Contingency: dec("0.08")},
		Bench:  shield.UsualBench(), Usage: takeoff.UsualUsage(), Steps: steps,
		Tax: tax.Regime{Registered: true, Mode: money.HalfUp, Rates: []tax.Rate{{Code: "standard", Name: "Tax", Percent: dec("20")}}}, TaxCode: "standard",
	}
}

func round() shield.Spec {
	return shield.Spec{
		Name: "round", Quantity: 1, Outline: shield.Outline{Shape: shield.Round, Diameter: 500 * measure.Millimetre},
		Core: shield.Core{Foam: "sheet-10", Layers: 2}, Grip: shield.Grip{Kind: "none"}, Coat: shield.Coat{System: "none"},
	}
}

// A figure outside the trade's range is pointed out and still used.
func TestDoubts(t *testing.T) {
	plain, err := pricing.Make(t.Context(), round(), snapshot(t), pricing.Live)
	if err != nil {
		t.Fatal(err)
	}
	says := func(e pricing.Estimate, words string) bool {
		return slices.ContainsFunc(e.Warnings, func(w string) bool { return strings.Contains(w, words) })
	}
	if says(plain, "spreads") || says(plain, "min a unit") {
		t.Errorf("usual figures are doubted: %v", plain.Warnings)
	}
	odd := snapshot(t)
	odd.Catalogue.Liquids[0].Spread = dec("1.8")
	for i := range odd.Steps {
		if odd.Steps[i].Code == "spread" {
			odd.Steps[i].Unit.Likely = dec("40")
		}
	}
	e, err := pricing.Make(t.Context(), round(), odd, pricing.Live)
	if err != nil {
		t.Fatal(err)
	}
	if !says(e, "spreads 1.8 l/m²") || !says(e, "takes 40 min") {
		t.Errorf("nothing is doubted: %v", e.Warnings)
	}
	if e.Materials[1].Cost.Cmp(plain.Materials[1].Cost) <= 0 {
		t.Error("a doubted figure was changed")
	}
}
