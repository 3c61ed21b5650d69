//go:build unix

package pricing_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"pgregory.net/rapid"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// longest is the processor time one estimate may take, whatever is asked for. It is not the clock's: another
// program on the machine must not fail a test.
const longest = 2 * time.Second

func used(t rapid.TB) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// priceOrRefuse prices a written spec live and holds it to what every spec gets: an answer in time, with a price
// that is one, or a fault in words.
func priceOrRefuse(t rapid.TB, data []byte, snap pricing.Snapshot) {
	began := used(t)
	spec, err := orderform.Read(data)
	var e pricing.Estimate
	if err == nil {
		e, err = pricing.Make(context.Background(), spec, snap, pricing.Live)
	}
	if took := used(t) - began; took > longest {
		t.Errorf("took %s", took)
	}
	if err != nil {
		if k := fault.KindOf(err); k != fault.Invalid && k != fault.TooLarge {
			t.Fatalf("fails inside: %v", err)
		}
		for _, p := range fault.ProblemsOf(err) {
			if len(p.Remedy) < 10 || strings.Contains(p.String(), "%!") {
				t.Errorf("says %q", p)
			}
		}
		return
	}
	s := e.Shield
	for _, v := range []float64{s.Area, s.Perimeter, s.Box.Width(), s.Box.Height(), s.Total} {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 || s.Made() && v == 0 {
			t.Errorf("measures %v", v)
		}
	}
	if s.Made() && (e.TakeOff.Mass.Sign() <= 0 || len(e.Foam) == 0) || e.Price.Gross.Sign() <= 0 || !e.Work.Hours.IsPositive() || !e.Price.Net.Add(e.Price.Tax).Equal(e.Price.Gross) {
		t.Errorf("%s kg, %d foams, %s h at %s", e.TakeOff.Mass, len(e.Foam), e.Work.Hours, e.Price.Gross)
	}
}

func demoFigures(t testing.TB) pricing.Snapshot {
	snap, err := demo.Snapshot(time.Date(2026, time.March, 5, 10, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	return snap
}

// FuzzSpec throws bytes at the whole way from a file to a price. It starts from the shields of testdata and the
// demo's designs; what once failed lies in testdata/fuzz.
func FuzzSpec(f *testing.F) {
	for _, pattern := range []string{"../testdata/shields/*.json", "../cmd/foamwright/demo/designs/*.json"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatal(pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			var c struct{ Spec json.RawMessage }
			if json.Unmarshal(data, &c) == nil && c.Spec != nil {
				data = c.Spec
			}
			f.Add(data)
		}
	}
	snap := demoFigures(f)
	f.Fuzz(func(t *testing.T, data []byte) { priceOrRefuse(t, data, snap) })
}

// Any spec of known entries, sensible or not, is priced or refused in words and in time.
func TestAnySpec(t *testing.T) {
	snap := demoFigures(t)
	rapid.Check(t, func(r *rapid.T) { priceOrRefuse(r, anySpec(r, snap), snap) })
}

// FuzzAnySpec is the same property led by what the program runs through.
func FuzzAnySpec(f *testing.F) {
	snap := demoFigures(f)
	for seed := range byte(16) { // a spec is drawn from some kilobytes
		data := make([]byte, 8<<10)
		random := rand.NewChaCha8([32]byte{seed})
		_, _ = random.Read(data) // never fails
		f.Add(data)
	}
	f.Fuzz(rapid.MakeFuzz(func(r *rapid.T) { priceOrRefuse(r, anySpec(r, snap), snap) }))
}

// anySpec draws a spec: mostly of sizes that props have, now and then of any.
func anySpec(r *rapid.T, snap pricing.Snapshot) []byte {
	foam := rapid.SampledFrom(snap.Catalogue.FoamCodes())
	colour := rapid.SampledFrom(snap.Catalogue.Colours())
	length := rapid.Custom(func(r *rapid.T) string {
		switch rapid.IntRange(0, 60).Draw(r, "kind") {
		case 0:
			return rapid.SampledFrom([]string{"0 mm", "0.000001 mm", "999 m", "3 m", "2999.999999 mm", "50 mm", "1/64 in"}).Draw(r, "edge")
		case 1, 2:
			return fmt.Sprintf("%d mm", rapid.IntRange(0, 4000).Draw(r, "any"))
		}
		return fmt.Sprintf("%g mm", float64(rapid.IntRange(50, 1200).Draw(r, "usual"))+rapid.SampledFrom([]float64{0, 0.5, 0.001}).Draw(r, "more"))
	})
	small := rapid.Custom(func(r *rapid.T) string {
		if rapid.IntRange(0, 40).Draw(r, "kind") == 0 {
			return fmt.Sprintf("%d mm", rapid.IntRange(0, 120).Draw(r, "any"))
		}
		return fmt.Sprintf("%d mm", rapid.IntRange(20, 60).Draw(r, "usual"))
	})
	count := func(most int) int { return rapid.IntRange(0, most).Draw(r, "count") }
	maybe := func() bool { return rapid.Bool().Draw(r, "there") }
	list := func(most int, one func() map[string]any) []any {
		var all []any
		for range rapid.IntRange(0, most).Draw(r, "rows") {
			all = append(all, one())
		}
		return all
	}
	spec := map[string]any{
		"quantity": rapid.SampledFrom([]int{1, 1, 1, 2, 12, 60, 500}).Draw(r, "quantity"), "complexity": count(5), "studs": count(40),
		"outline": map[string]any{
			"shape":    rapid.SampledFrom([]string{"round", "oval", "rectangle", "heater", "kite", "polygon", "half", "path"}).Draw(r, "shape"),
			"diameter": length.Draw(r, "diameter"), "width": length.Draw(r, "width"), "height": length.Draw(r, "height"),
			"shoulder": small.Draw(r, "shoulder"), "corner": small.Draw(r, "corner"), "sides": rapid.IntRange(3, 24).Draw(r, "sides"),
			"d": anyPath(r, 900), "is": rapid.SampledFrom([]string{"core", "core", "finished"}).Draw(r, "is"),
			"width_is": rapid.SampledFrom([]string{"along the curve", "straight across", "flat"}).Draw(r, "width_is"),
		},
		"core": map[string]any{
			"foam": foam.Draw(r, "foam"), "layers": rapid.IntRange(1, 12).Draw(r, "layers"), "joint": rapid.SampledFrom([]string{"interlock", "butt"}).Draw(r, "joint"),
			"templates": rapid.SampledFrom([]string{"same", "per layer"}).Draw(r, "templates"), "set": rapid.SampledFrom([]string{"cold", "heat"}).Draw(r, "set"),
		},
		"pieces": list(3, func() map[string]any {
			return map[string]any{"foam": foam.Draw(r, "foam"), "d": anyPath(r, 200), "count": rapid.IntRange(1, 6).Draw(r, "count"), "layers": rapid.IntRange(1, 6).Draw(r, "layers"),
				"mirror": maybe(), "colour": colour.Draw(r, "colour"), "turn": rapid.IntRange(-360, 360).Draw(r, "turn"), "at": map[string]any{"x": small.Draw(r, "x"), "y": length.Draw(r, "y")}}
		}),
		"gems": list(2, func() map[string]any {
			return map[string]any{"width": small.Draw(r, "width"), "height": small.Draw(r, "height"), "count": rapid.IntRange(1, 60).Draw(r, "count"), "layers": rapid.IntRange(1, 6).Draw(r, "layers"), "colour": colour.Draw(r, "colour")}
		}),
		"grooves": list(2, func() map[string]any {
			return map[string]any{"tool": rapid.SampledFrom([]string{"knife", "rotary"}).Draw(r, "tool"), "length": length.Draw(r, "length"), "passes": rapid.IntRange(1, 5).Draw(r, "passes")}
		}),
		"back": map[string]any{"finish": rapid.SampledFrom([]string{"plain", "planks"}).Draw(r, "finish"), "plank_width": small.Draw(r, "plank"), "grain_pitch": small.Draw(r, "pitch")},
		"grip": map[string]any{"kind": rapid.SampledFrom([]string{"none", "bar", "straps", "strap and bar", "rope"}).Draw(r, "kind"), "block_layers": count(12), "strap": count(6), "thumb_guard": maybe(), "block_length": small.Draw(r, "block")},
		"coat": map[string]any{"system": rapid.SampledFrom([]string{"none", "latex", "primer"}).Draw(r, "system"), "coats": rapid.IntRange(1, 12).Draw(r, "coats")},
		"paint": list(3, func() map[string]any {
			return map[string]any{"colour": colour.Draw(r, "colour"), "where": rapid.SampledFrom([]string{"face", "edge", "back"}).Draw(r, "where"), "coats": rapid.IntRange(1, 8).Draw(r, "coats")}
		}),
		"clear_coats": count(10), "weathering": count(3), "delivery": map[string]any{"ship": maybe()},
	}
	if maybe() {
		spec["core"].(map[string]any)["former_radius"] = length.Draw(r, "former")
	}
	if maybe() {
		spec["rim"] = map[string]any{"foam": foam.Draw(r, "foam"), "width": small.Draw(r, "width"), "colour": colour.Draw(r, "colour")}
	}
	if maybe() {
		spec["edge"] = map[string]any{"foam": foam.Draw(r, "foam"), "corners": rapid.SampledFrom([]string{"met", "wrapped"}).Draw(r, "corners")}
	}
	data, err := json.Marshal(spec)
	if err != nil {
		r.Fatalf("%v", err)
	}
	return data
}

// anyPath draws an outline about so large: a star of up to some hundred points about a centre, sometimes of curves,
// now and then crossing itself.
func anyPath(r *rapid.T, size int) string {
	n := rapid.SampledFrom([]int{4, 4, 6, 8, 20, 60, 300, 2000}).Draw(r, "points")
	deep := rapid.IntRange(20, 100).Draw(r, "deep")
	curved := rapid.SampledFrom([]string{"L", "L", "T"}).Draw(r, "curved")
	turns := rapid.SampledFrom([]int{1, 1, 1, 1, 2}).Draw(r, "turns")
	b := strings.Builder{}
	for i := range n {
		radius, angle := float64(size)/2, 2*math.Pi*float64(turns*i)/float64(n)
		if i%2 == 1 {
			radius *= float64(deep) / 100
		}
		command := curved
		if i == 0 {
			command = "M"
		}
		fmt.Fprintf(&b, "%s%.3f %.3f", command, radius*math.Cos(angle), radius*math.Sin(angle))
	}
	return b.String() + "Z"
}
