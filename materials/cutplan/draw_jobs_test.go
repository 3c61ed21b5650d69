package cutplan

import (
	"flag"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/geom"
)

// checks sets how many cases rapid draws for this test: n, or many more under FOAMWRIGHT_TORTURE=1.
func checks(t *testing.T, n, torture int) {
	t.Helper()
	if os.Getenv("FOAMWRIGHT_TORTURE") == "1" {
		n = torture
	}
	f := flag.Lookup("rapid.checks")
	was := f.Value.String()
	if err := flag.Set("rapid.checks", strconv.Itoa(n)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = flag.Set("rapid.checks", was) })
}

// drawShape draws a piece of up to size mm: the parts of a shield and free outlines, some with holes,
// turned and moved off the origin.
func drawShape(t *rapid.T, size float64) geom.Shape {
	w := rapid.Float64Range(size/10, size).Draw(t, "width")
	h := rapid.Float64Range(size/10, size).Draw(t, "height")
	n := rapid.IntRange(3, 60).Draw(t, "corners")
	var s geom.Shape
	switch rapid.IntRange(0, 6).Draw(t, "kind") {
	case 0:
		s = rectangle(w, h)
	case 1:
		s.Outer = oval(w, h, n)
	case 2:
		s.Outer = heater(min(w, h), max(w, h)*1.1, h/5, n)
	case 3:
		s.Outer = star(w/2, w/rapid.Float64Range(3, 9).Draw(t, "notch"), 3+n/4)
	case 4: // a rim
		s = geom.Shape{Outer: oval(w, h, n), Holes: []geom.Ring{oval(w*0.7, h*0.7, n)}}
	case 5: // a bracket
		s.Outer = geom.Ring{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h / 5}, {X: w / 4, Y: h / 5}, {X: w / 4, Y: h}, {X: 0, Y: h}}
	case 6: // any outline that a ray from the middle crosses once
		for i := range n {
			d := rapid.Float64Range(size/12, size/2).Draw(t, "ray")
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			s.Outer = append(s.Outer, geom.Point{X: d * cos, Y: d * sin})
		}
	}
	return drawPose(t, size).Apply(s)
}

func drawPose(t *rapid.T, size float64) Pose {
	return Pose{
		Turn:     rapid.SampledFrom([]float64{0, 0, 90, 30, 237.3}).Draw(t, "turned"),
		Mirrored: rapid.Bool().Draw(t, "mirrored"),
		At:       geom.Point{X: rapid.Float64Range(-size, size).Draw(t, "x"), Y: rapid.Float64Range(-size, size).Draw(t, "y")},
	}
}

// drawJob draws a job that can be planned: a mat without limit takes every piece, beside offcuts of odd
// shapes and panels at their seats.
func drawJob(t *rapid.T) Job {
	job := Job{
		Spacing:     rapid.SampledFrom([]float64{0, 0, 1.5, 3, 12}).Draw(t, "spacing"),
		Margin:      rapid.SampledFrom([]float64{0, 0, 1, 5, 20}).Draw(t, "margin"),
		Keep:        UsualKeep(),
		CreditShare: rapid.IntRange(0, 1000).Draw(t, "credit"),
		Sheets:      []Sheet{{Label: "mat", Width: 620, Height: 600, Weight: 1000}},
	}
	if rapid.Bool().Draw(t, "ell") {
		job.Sheets = append(job.Sheets, Sheet{Label: "ell", Weight: 300, Limit: 2, Offcut: true,
			Shape: geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 500, Y: 0}, {X: 500, Y: 200}, {X: 220, Y: 200}, {X: 220, Y: 450}, {X: 0, Y: 450}}}})
	}
	if rapid.Bool().Draw(t, "odd") {
		s := drawPose(t, 500).Apply(geom.Shape{Outer: oval(500, 400, 13), Holes: []geom.Ring{oval(80, 120, 8)}})
		job.Sheets = append(job.Sheets, Sheet{Label: "odd", Weight: 100, Limit: 1, Offcut: true, Shape: s})
	}
	if rapid.Bool().Draw(t, "large") {
		job.Sheets = append(job.Sheets, Sheet{Label: "large", Width: 1200, Height: 800, Weight: rapid.Int64Range(1, 4000).Draw(t, "weight"), Limit: rapid.IntRange(0, 2).Draw(t, "limit")})
	}
	for range rapid.IntRange(1, 7).Draw(t, "pieces") {
		p := Piece{Label: "piece", Shape: drawShape(t, 380), Count: rapid.IntRange(1, 3).Draw(t, "count"), Mirror: rapid.Bool().Draw(t, "over")}
		p.Turns = rapid.SampledFrom([][]float64{nil, {0}, {0, 180}, quarters(), {0, 33, -120.5}}).Draw(t, "turns")
		job.Pieces = append(job.Pieces, p)
	}
	if rapid.IntRange(0, 3).Draw(t, "seated") == 0 {
		panel := geom.Shape{Outer: geom.Ring{{X: 0, Y: 0}, {X: 300, Y: 0}, {X: 250, Y: 600}, {X: 0, Y: 600}}}
		job.Pieces = append(job.Pieces, Piece{Label: "panel", Shape: panel, Count: 2,
			On: &Seat{Sheet: 0, Pose: Pose{Turn: 180, At: geom.Point{X: 620, Y: 600}}}})
	}
	return job
}
