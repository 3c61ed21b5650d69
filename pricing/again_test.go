package pricing_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/measure"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/schedule"
	"foamwright/pricing/tax"
)

// quick is an effort that leaves a cut plan room to change with the pieces, and the test time.
const quick pricing.Effort = 300

// specs are the shields of testdata and the demo's designs.
func specs(t testing.TB) (all []shield.Spec) {
	for _, pattern := range []string{"../testdata/shields/*.json", "../cmd/foamwright/demo/designs/*.json"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			var within struct{ Spec json.RawMessage }
			if err == nil {
				err = json.Unmarshal(data, &within)
			}
			if err != nil {
				t.Fatal(err)
			}
			if within.Spec != nil {
				data = within.Spec
			}
			spec, err := orderform.Read(data)
			if err != nil {
				t.Fatal(file, err)
			}
			all = append(all, spec)
		}
	}
	return all
}

// moved is a spec and a snapshot of which one to three things are otherwise. What is shared is never written into.
func moved(t *rapid.T, spec shield.Spec, snap pricing.Snapshot) (shield.Spec, pricing.Snapshot) {
	share := func(least, most int) decimal.Decimal {
		return decimal.New(int64(rapid.IntRange(least, most).Draw(t, "percent")), -2)
	}
	moves := map[string]func(){
		"prices": func() {
			snap.Prices = slices.Clone(snap.Prices)
			for i := range snap.Prices {
				snap.Prices[i].Amount = snap.Prices[i].Amount.Mul(share(10, 300))
			}
		},
		"a price gone": func() { snap.Prices = snap.Prices[1:] },
		"rate":         func() { snap.Rates.Hour = share(0, 9000) },
		"margin":       func() { snap.Rates.Margin = share(0, 90) },
		"shares": func() {
			snap.Rates.Handling, snap.Rates.Contingency, snap.Rates.FeeRate = share(0, 30), share(0, 30), share(0, 5)
		},
		"offcuts":   func() { snap.Rates.OffcutShare = share(0, 100) },
		"allowance": func() { snap.Rates.Allowance = share(0, 40) },
		"learning":  func() { snap.Rates.Learning.Curve = share(70, 100) },
		"hours": func() {
			by := share(50, 200)
			snap.Steps = slices.Clone(snap.Steps)
			for i := range snap.Steps {
				s := &snap.Steps[i].Unit
				*s = labour.Spread{Low: s.Low.Mul(by), Likely: s.Likely.Mul(by), High: s.High.Mul(by)}
			}
		},
		"days": func() { snap.Now = snap.Now.AddDate(0, 0, rapid.IntRange(0, 20).Draw(t, "days")) },
		"hour": func() { snap.Now = snap.Now.Add(6 * time.Hour) },
		"calendar": func() {
			snap.Calendar.Away = []schedule.Span{{From: snap.Now, To: snap.Now.AddDate(0, 0, 3), Why: "away"}}
		},
		"usage":  func() { snap.Usage.SheetMargin += measure.Millimetre },
		"gloves": func() { snap.Usage.Gloves = snap.Usage.Gloves.Add(share(100, 900)) },
		"bench":  func() { snap.Bench.Trim += measure.Millimetre },
		"seed":   func() { snap.Seed++ },
		"tax":    func() { snap.Treatment = tax.ReverseCharge },
		"foam": func() {
			snap.Catalogue.Foams = slices.Clone(snap.Catalogue.Foams)
			for i := range snap.Catalogue.Foams {
				snap.Catalogue.Foams[i].Density = snap.Catalogue.Foams[i].Density.Mul(share(80, 120))
			}
		},
		"liquids": func() {
			snap.Catalogue.Liquids = slices.Clone(snap.Catalogue.Liquids)
			for i := range snap.Catalogue.Liquids {
				snap.Catalogue.Liquids[i].Spread = snap.Catalogue.Liquids[i].Spread.Mul(share(80, 120))
			}
		},
		"coats":    func() { spec.Coat.Coats = rapid.SampledFrom([]int{0, 1, 3, 6}).Draw(t, "coats") },
		"clear":    func() { spec.ClearCoats = rapid.IntRange(0, 4).Draw(t, "clear") },
		"system":   func() { spec.Coat.System = rapid.SampledFrom([]string{"none", "latex", "primer"}).Draw(t, "system") },
		"quantity": func() { spec.Quantity = rapid.IntRange(1, 4).Draw(t, "quantity") },
		"words":    func() { spec.Name, spec.Notes, spec.Caveat = "Otherwise", []string{"A note."}, "Open." },
		"detail":   func() { spec.Complexity, spec.Weathering, spec.FirstTime = 4, 2, !spec.FirstTime },
		"rule": func() {
			spec.Rule = rapid.SampledFrom([]string{"", "marsh-small", "fen-round", "none such"}).Draw(t, "rule")
		},
		"own step": func() { spec.Steps = append(slices.Clone(spec.Steps), shield.FreeStep{Name: "Leafing", Minutes: 40}) },
		"by":       func() { spec.Delivery.By = snap.Now.AddDate(0, 0, rapid.IntRange(-2, 40).Draw(t, "by")) },
		"layers":   func() { spec.Core.Layers++ },
		"size":     func() { spec.Outline.Width += 7 * measure.Millimetre },
		"studs":    func() { spec.Studs += 3 },
	}
	names := make([]string, 0, len(moves))
	for name := range moves {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range rapid.SliceOfN(rapid.SampledFrom(names), 0, 3).Draw(t, "moves") {
		moves[name]()
	}
	return spec, snap
}

// An estimate made again is the one that is made anew, to the byte, whatever moved and however often; so is what cannot
// be made; and the one it was made from stays as it was.
func TestAgainIsMake(t *testing.T) {
	all := specs(t)
	snap, err := demo.Snapshot(time.Date(2026, time.March, 5, 10, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	written := func(e pricing.Estimate) string {
		data, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	first, began := map[int]pricing.Estimate{}, map[int]string{}
	taken, planned := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(all)-1).Draw(t, "spec")
		e, ok := first[i]
		if !ok {
			if e, err = pricing.Make(t.Context(), all[i], snap, quick); err != nil {
				t.Fatal(err)
			}
			first[i], began[i] = e, written(e)
		}
		spec, at := all[i], snap
		for range rapid.IntRange(1, 2).Draw(t, "times") {
			spec, at = moved(t, spec, at)
			want, refused := pricing.Make(t.Context(), spec, at, quick)
			got, err := e.Again(t.Context(), spec, at, quick)
			if (err == nil) != (refused == nil) || err != nil && err.Error() != refused.Error() {
				t.Fatalf("again %v, anew %v", err, refused)
			}
			if again, anew := written(got), written(want); again != anew {
				for n := range again {
					if again[n] != anew[n] {
						t.Fatalf("again …%s\nanew …%s", again[max(0, n-200):min(len(again), n+200)], anew[max(0, n-200):min(len(anew), n+200)])
					}
				}
			}
			if err != nil {
				continue
			}
			if &got.Foam[0].Plan.Placements[0] == &e.Foam[0].Plan.Placements[0] {
				taken++
			} else {
				planned++
			}
			e = got
		}
	})
	for i, e := range first {
		if written(e) != began[i] {
			t.Errorf("the first estimate of %s is another one now", e.Shield.Spec.Name)
		}
	}
	if taken < 10 || planned < 10 {
		t.Errorf("plans were taken over %d times and made anew %d times: one of them is hardly tried", taken, planned)
	}
}

// Where only a rate moves, the shield itself is taken over, whatever it is.
func TestAgainTakesTheShieldOver(t *testing.T) {
	snap, err := demo.Snapshot(time.Date(2026, time.March, 5, 10, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	dearer := snap
	dearer.Rates.Hour = decimal.NewFromInt(35)
	for _, spec := range specs(t) {
		e, err := pricing.Make(t.Context(), spec, snap, quick)
		if err != nil {
			t.Fatal(err)
		}
		again, err := e.Again(t.Context(), e.Spec(), dearer, quick)
		if err != nil || &again.Shield.Parts[0] != &e.Shield.Parts[0] || &again.TakeOff.Lines[0] != &e.TakeOff.Lines[0] {
			t.Errorf("%s was made anew; %v", spec.Name, err)
		}
	}
}
