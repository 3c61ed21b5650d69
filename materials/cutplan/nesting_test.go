package cutplan

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foamwright/materials/geom"
)

// binInstance is a bin-packing instance and its known optimum.
type binInstance struct {
	name    string
	optimum int
}

// binTable lists the instances of testdata/nesting/binpack.
func binTable(t testing.TB) []binInstance {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(nesting, "binpack", "optimum.txt"))
	if err != nil {
		t.Fatal(err)
	}
	var out []binInstance
	for line := range strings.Lines(string(data)) {
		var in binInstance
		if _, err := fmt.Sscan(line, &in.name, &in.optimum); err != nil {
			t.Fatal(err)
		}
		out = append(out, in)
	}
	return out
}

// stripJob reads an instance of testdata/nesting/strip: a roll long enough for any plan.
func stripJob(t testing.TB, name string) Job {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(nesting, "strip", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var in struct {
		Height float64 `json:"strip_height"`
		Items  []struct {
			ID, Demand int
			Turns      []float64 `json:"allowed_orientations"` // absent: any
			Shape      struct{ Data [][2]float64 }
		}
	}
	if err := json.Unmarshal(data, &in); err != nil {
		t.Fatal(err)
	}
	area, longest := 0.0, 0.0
	var job Job
	for _, it := range in.Items {
		p := Piece{Label: fmt.Sprint(it.ID), Count: it.Demand, Turns: it.Turns, Shape: geom.Shape{Outer: ring(it.Shape.Data)}}
		box := p.Shape.Outer.Bounds()
		area += net(p.Shape) * float64(p.Count)
		longest = max(longest, box.Width(), box.Height())
		job.Pieces = append(job.Pieces, p)
	}
	job.Sheets = []Sheet{{Label: "strip", Roll: true, Width: 2*area/in.Height + longest, Height: in.Height, Weight: 1}}
	return job
}

// density is the area of the pieces by that of the roll used, per cent.
func density(job Job, plan Plan) float64 {
	area := 0.0
	for _, p := range job.Pieces {
		area += net(p.Shape) * float64(p.Count)
	}
	far := 0.0
	for _, a := range plan.Placements {
		far = max(far, a.ring(job.Pieces[a.Piece].Shape.Outer).Bounds().Max.X)
	}
	return 100 * area / (far * job.Sheets[0].Height)
}
