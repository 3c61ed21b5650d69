package cutplan

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foamwright/materials/geom"
)

const nesting = "../../testdata/nesting"

// foamJob reads a job of testdata/nesting/foam.
func foamJob(t testing.TB, name string) Job {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(nesting, "foam", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var in struct {
		Sheet     [2]float64
		Spacing   float64
		Rotations []float64
		Items     []struct {
			ID, Demand int
			Outer      [][2]float64
			Holes      [][][2]float64
		}
	}
	if err := json.Unmarshal(data, &in); err != nil {
		t.Fatal(err)
	}
	job := Job{Spacing: in.Spacing, Keep: UsualKeep(), CreditShare: 500,
		Sheets: []Sheet{{Label: "mat", Width: in.Sheet[0], Height: in.Sheet[1], Weight: 1000}}}
	for _, it := range in.Items {
		p := Piece{Label: fmt.Sprintf("item %d", it.ID), Count: it.Demand, Turns: in.Rotations, Shape: geom.Shape{Outer: ring(it.Outer)}}
		for _, h := range it.Holes {
			p.Shape.Holes = append(p.Shape.Holes, ring(h))
		}
		job.Pieces = append(job.Pieces, p)
	}
	return job
}

// binJob reads an instance of testdata/nesting/binpack.
func binJob(t testing.TB, name string) Job {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(nesting, "binpack", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	in := strings.NewReader(string(data))
	next := func() (x float64) {
		if _, err := fmt.Fscan(in, &x); err != nil {
			t.Fatal(err)
		}
		return x
	}
	n := int(next())
	job := Job{Sheets: []Sheet{{Label: "bin", Width: next(), Height: next(), Weight: 1}}}
	for i := range n {
		var r geom.Ring
		for range int(next()) {
			x := next()
			r = append(r, geom.Point{X: x, Y: next()})
		}
		job.Pieces = append(job.Pieces, Piece{Label: fmt.Sprint(i), Count: 1, Turns: quarters(), Shape: geom.Shape{Outer: r}})
	}
	return job
}

func ring(xys [][2]float64) geom.Ring {
	var r geom.Ring
	for _, p := range xys {
		r = append(r, geom.Point{X: p[0], Y: p[1]})
	}
	return r
}

func quarters() []float64 { return []float64{0, 90, 180, 270} }

func rectangle(w, h float64) geom.Shape { return Sheet{Width: w, Height: h}.outline() }

// oval of n corners about the origin.
func oval(w, h float64, n int) geom.Ring {
	var r geom.Ring
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r = append(r, geom.Point{X: w / 2 * cos, Y: h / 2 * sin})
	}
	return r
}

// heater shield outline: flat top of width w, straight to s, then one arc a side meeting at (0, h); the
// construction is the usual tangent arc, from memory.
func heater(w, h, s float64, n int) geom.Ring {
	a, b := w/2, h-s
	radius := (a*a + b*b) / (2 * a)
	phi := math.Atan2(b, radius-a)
	r := geom.Ring{{X: -a, Y: 0}, {X: a, Y: 0}}
	for i := range n {
		sin, cos := math.Sincos(phi * float64(i) / float64(n))
		r = append(r, geom.Point{X: a - radius + radius*cos, Y: s + radius*sin})
	}
	for i := n; i > 0; i-- {
		sin, cos := math.Sincos(phi * float64(i) / float64(n))
		r = append(r, geom.Point{X: radius - a - radius*cos, Y: s + radius*sin})
	}
	return append(r, geom.Point{X: -a, Y: s})
}

// star of 2n corners, hollow between its points.
func star(outer, inner float64, n int) geom.Ring {
	var r geom.Ring
	for i := range 2 * n {
		d := outer
		if i%2 == 1 {
			d = inner
		}
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(n))
		r = append(r, geom.Point{X: d * cos, Y: d * sin})
	}
	return r
}
