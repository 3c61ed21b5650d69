package figures

import (
	"os"
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// Some inputs are moved by hand and estimated from nothing, by Make: margin and cost are those of the sensitivity. The
// shares of cost say roughly what to expect, too.
func TestSensitivityIsThatOfWholeEstimates(t *testing.T) {
	file, err := os.ReadFile("../../cmd/foamwright/demo/designs/ferry-buckler.json")
	must(t, err)
	spec, err := orderform.Read(file)
	must(t, err)
	snap, err := demo.Snapshot(time.Date(2026, 9, 14, 0, 0, 0, 0, time.UTC))
	must(t, err)
	made := func(snap pricing.Snapshot) pricing.Costing {
		e, err := pricing.Make(t.Context(), spec, snap, pricing.Live)
		must(t, err)
		return e.Costing()
	}
	e, err := pricing.Make(t.Context(), spec, snap, pricing.Live)
	must(t, err)
	all, err := moveAll(t.Context(), e, snap)
	must(t, err)
	if !slices.IsSortedFunc(all, func(a, b Input) int { return b.By.Abs().Cmp(a.By.Abs()) }) {
		t.Error("what moves the margin most does not come first")
	}
	more := decimal.RequireFromString("1.1")
	rate, price, minutes, share := snap, snap, snap, snap
	rate.Rates.Hour = snap.Rates.Hour.Mul(more)
	share.Rates.Contingency = snap.Rates.Contingency.Mul(more)
	price.Prices, minutes.Steps = slices.Clone(snap.Prices), slices.Clone(snap.Steps)
	for i, p := range price.Prices {
		if p.Item == e.Foam[0].Foam.Code {
			price.Prices[i].Amount = p.Amount.Mul(more)
		}
	}
	for i := range minutes.Steps {
		if s := &minutes.Steps[i]; s.Group == "cut" {
			s.Setup.Low, s.Setup.Likely, s.Setup.High = s.Setup.Low.Mul(more), s.Setup.Likely.Mul(more), s.Setup.High.Mul(more)
			s.Unit.Low, s.Unit.Likely, s.Unit.High = s.Unit.Low.Mul(more), s.Unit.Likely.Mul(more), s.Unit.High.Mul(more)
		}
	}
	was := e.Costing()
	for name, moved := range map[string]pricing.Snapshot{"Shop rate": rate, "Share for the unforeseen": share, "Price of " + e.Foam[0].Foam.Name: price, "Minutes of marking and cutting": minutes} {
		i := slices.IndexFunc(all, func(in Input) bool { return in.Name == name })
		if i < 0 {
			t.Fatalf("%s is not among %v", name, all)
		}
		is := made(moved)
		is.Net, is.Fee = was.Net, was.Fee
		want := is.Earned().Decimal().DivRound(was.Net.Sub(was.Fee).Decimal(), 8)
		if in := all[i]; !in.Cost.Equal(is.Cost()) || !in.Margin.Share.Equal(want) || !in.By.Equal(want.Sub(MarginIn(was).Share)) || !in.By.IsNegative() {
			t.Errorf("%s: cost %s, margin %s; by a whole estimate %s and %s", name, in.Cost, in.Margin.Share, is.Cost(), want)
		}
	}
	if d := dearer(e, snap.Rates); !d.Net.Equal(was.Net.Add(per(was.Net, decimal.NewFromInt(10)))) || MarginIn(d).Share.LessThanOrEqual(MarginIn(was).Share) {
		t.Errorf("a tenth more than %s is %s", was.Net, d.Net)
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
