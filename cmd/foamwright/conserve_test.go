package main

import (
	"maps"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/api"
	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/cutplan"
	"foamwright/materials/geom"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
)

// Nothing gets lost between a spec and its price, whatever is written: panels sum to their layer, painted regions to
// the face, cut pieces to the list of parts, every line comes out by its own words, and the lines sum to the price.
func TestNothingGetsLost(t *testing.T) {
	t.Parallel()
	snap, err := demo.Snapshot(thursday())
	if err != nil {
		t.Fatal(err)
	}
	made := 0
	rapid.Check(t, func(r *rapid.T) {
		data := writer{r, snap.Catalogue}.spec()
		r.Logf("%s", data)
		form, err := orderform.Parse(data)
		if err != nil {
			r.Fatal(err)
		}
		spec, err := form.Spec()
		if err != nil {
			r.Fatal(err)
		}
		e, err := pricing.Make(t.Context(), spec, snap, pricing.Live)
		if err != nil {
			r.Skip(err) // a curve too tight, a drawn shape too thin for its strip
		}
		made++
		layersAddUp(r, e.Shield)
		faceAddsUp(r, e)
		cutPiecesAddUp(r, e)
		linesComeOut(r, api.EstimateOf(e))
		priceAddsUp(r, e)
	})
	t.Logf("%d specs priced", made)
}

// The specs that nothing gets lost of have every entry of the order form, each in one that can be made. They are drawn
// from written seeds, so that it is not left to chance.
func TestAnySpecHasEveryEntry(t *testing.T) {
	t.Parallel()
	snap, err := demo.Snapshot(thursday())
	if err != nil {
		t.Fatal(err)
	}
	const most = 400
	specs := rapid.Custom(func(r *rapid.T) []byte { return writer{r, snap.Catalogue}.spec() })
	left := map[string]bool{}
	for _, field := range fieldsOf(reflect.TypeFor[orderform.Form](), "") {
		left[field] = field != "outline.file" && field != "core.former" // the command line's alone; the demo has none of its own
	}
	isLeft := func(field string) bool { return left[numbered.ReplaceAllString(field, "")] }
	for seed := range most {
		form, err := orderform.Parse(specs.Example(seed))
		if err != nil {
			t.Fatal(err)
		}
		fields := slices.Collect(maps.Keys(form.Fields()))
		if !slices.ContainsFunc(fields, isLeft) {
			continue
		}
		spec, err := form.Spec()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := pricing.Make(t.Context(), spec, snap, pricing.Live); err != nil {
			continue // a curve too tight, a drawn shape too thin for its strip
		}
		for _, field := range fields {
			left[numbered.ReplaceAllString(field, "")] = false
		}
	}
	for field, missing := range left {
		if missing {
			t.Errorf("no spec of %d that can be made has %s", most, field)
		}
	}
}

var numbered = regexp.MustCompile(`\.\d+`)

// fieldsOf are the names of all entries, rows without their numbers.
func fieldsOf(f reflect.Type, path string) (all []string) {
	for f.Kind() == reflect.Pointer || f.Kind() == reflect.Slice {
		f = f.Elem()
	}
	if f == reflect.TypeFor[orderform.Text]() || f == reflect.TypeFor[orderform.Size]() {
		return []string{strings.TrimPrefix(path, ".")}
	}
	for i := range f.NumField() {
		name, _, _ := strings.Cut(f.Field(i).Tag.Get("json"), ",")
		all = append(all, fieldsOf(f.Field(i).Type, path+"."+name)...)
	}
	return all
}

// layersAddUp wants the panels of all layers to sum to the layers, each as much longer as its own template is.
func layersAddUp(t *rapid.T, s shield.Shield) {
	got, want := 0.0, 0.0
	for _, p := range s.Parts {
		if p.Kind == shield.LayerPart {
			got += p.Net * float64(p.Count)
		}
	}
	for i := range s.Spec.Core.Layers {
		stretch := 1.0
		if s.Curve != nil && s.Curve.Longer != nil {
			stretch = s.Curve.Radii[i] / s.Curve.Radii[0]
		}
		want += s.Area * stretch
	}
	if math.Abs(got-want) > 1e-6*want {
		t.Errorf("panels are %.3f mm², layers %.3f", got, want)
	}
}

// faceAddsUp lays the painted regions on the face by overlays: ground, rim, and what parts of another colour cover.
func faceAddsUp(t *rapid.T, e pricing.Estimate) {
	ground := -1.0
	for _, product := range e.TakeOff.Drivers[takeoff.ColourCoatM2].Sum {
		for _, f := range product {
			if f.Label == "m² face" {
				ground = f.Value.InexactFloat64() * 1e6
			}
		}
	}
	if ground < 0 {
		return // the face is not painted
	}
	s := e.Shield
	var covered geom.Region
	inside := s.Flat
	rim := 0.0
	if s.Rim != nil {
		inside, rim = s.Rim.Inside, s.Rim.Region.Area() // as drawn: where it lies further out it is longer
	}
	for _, p := range append(s.Pieces[:len(s.Pieces):len(s.Pieces)], s.Gems...) {
		if p.Colour == "" {
			continue
		}
		on, err := p.Region.Intersect(inside)
		if err == nil {
			covered, err = covered.Union(on)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	// Parts lie on the face as polygons to 0.05 mm, the ground is printed to 1 cm².
	if sum := ground + rim + covered.Area(); math.Abs(sum-s.Area) > 100+1e-4*s.Area {
		t.Errorf("ground %.0f, rim %.0f and parts %.0f mm² are %.0f, the face is %.0f", ground, rim, covered.Area(), sum, s.Area)
	}
}

// cutPiecesAddUp wants every part of every shield on a sheet once, and the areas to be those of the parts: exactly as cut,
// to the cm² that is printed as finished.
func cutPiecesAddUp(t *rapid.T, e pricing.Estimate) {
	want, wantNet, pieces := map[string]float64{}, map[string]float64{}, 0
	for _, p := range e.Shield.Parts {
		n := p.Count * e.Shield.Spec.Quantity
		pieces += n
		want[p.Foam] += float64(n) * geom.Region{p.Shape}.Area()
		wantNet[p.Foam] += float64(n) * p.Net
	}
	for _, f := range e.Foam {
		if err := cutplan.Verify(f.Job, f.Plan); err != nil {
			t.Error(err)
		}
		got := 0.0
		for _, at := range f.Plan.Placements {
			got += geom.Region{f.Job.Pieces[at.Piece].Shape}.Area()
		}
		pieces -= len(f.Plan.Placements)
		if code := f.Foam.Code; math.Abs(got-want[code]) > 1e-9*got || math.Abs(f.Net.Value.InexactFloat64()*1e6-wantNet[code]) > 51 {
			t.Errorf("%s: %.3f mm² cut, %.3f listed; net %s, listed %.0f mm²", code, got, want[code], f.Net, wantNet[code])
		}
		if used := got/1e6 + f.Kept.Value.InexactFloat64(); used > f.Sheet.Value.InexactFloat64()*float64(f.Sheets)+1e-4 {
			t.Errorf("%s: %f m² cut and kept of %d sheets", f.Foam.Code, used, f.Sheets)
		}
	}
	if pieces != 0 {
		t.Errorf("%d pieces of the list are on no sheet", pieces)
	}
}

// priceAddsUp adds the slip up as a customer would: each sum is what stands above it.
func priceAddsUp(t *rapid.T, e pricing.Estimate) {
	total := decimal.Zero
	for _, c := range e.Materials {
		total = total.Add(c.Cost.Decimal())
	}
	for _, l := range api.EstimateOf(e).Price.Lines {
		amount := decimal.RequireFromString(l.Amount)
		if !l.Sum {
			total = total.Add(amount)
		} else if !total.Equal(amount) {
			t.Errorf("%s is %s, above it stand %s", l.Label, amount, total)
		}
	}
	p := api.EstimateOf(e).Price
	if sum := decimal.RequireFromString(p.Deposit).Add(decimal.RequireFromString(p.Balance)); !sum.Equal(total) || !total.Equal(e.Price.Gross.Decimal()) {
		t.Errorf("deposit and balance are %s, the lines %s, the price %s", sum, total, e.Price.Gross)
	}
}
