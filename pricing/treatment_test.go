package pricing_test

import (
	"strings"
	"testing"

	"foamwright/pricing"
	"foamwright/pricing/tax"
)

// A buyer who is charged no tax pays the net price, rounded up as prices without tax are, and reads why; the figures
// before it are those of anybody. Where the workshop charges no tax anyway, nothing changes.
func TestTreatments(t *testing.T) {
	spec, snap := round(), snapshot(t)
	snap.Rates.Step = dec("5")
	usual, err := pricing.Make(t.Context(), spec, snap, pricing.Live)
	if err != nil {
		t.Fatal(err)
	}
	for treatment, reason := range map[tax.Treatment]string{tax.ReverseCharge: "Reverse charge", tax.Export: "Export", tax.Exempt: "Exempt"} {
		snap := snap
		snap.Treatment = treatment
		e, err := pricing.Make(t.Context(), spec, snap, pricing.Live)
		if err != nil {
			t.Fatal(err)
		}
		p := e.Price
		if p.Tax.Sign() != 0 || !p.Gross.Equal(p.Net) || !p.Cost.Equal(usual.Price.Cost) || !p.UnitNet.Equal(usual.Price.UnitNet) || e.Digest() == usual.Digest() {
			t.Errorf("%s: net %s, tax %s, gross %s, cost %s", treatment, p.Net, p.Tax, p.Gross, p.Cost)
		}
		if step := snap.Rates.Step; !p.Net.Decimal().Mod(step).IsZero() {
			t.Errorf("%s: the net price %s is no multiple of %s", treatment, p.Net, step)
		}
		told := ""
		for _, l := range p.Lines {
			if l.Key == "tax" {
				told += l.Label
			}
		}
		if !strings.HasPrefix(told, reason) || strings.Contains(told, "%") {
			t.Errorf("%s: the build-up says %q of tax", treatment, told)
		}
		snap.Tax.Registered = false
		if e, err = pricing.Make(t.Context(), spec, snap, pricing.Live); err != nil || e.Price.Rate.Reason != "" {
			t.Errorf("%s, and not registered: %+v, %v", treatment, e.Price.Rate, err)
		}
	}
}
