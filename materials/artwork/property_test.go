package artwork_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/artwork"
	"foamwright/materials/geom"
)

// steps draws a transform list, as written and as the map it stands for.
func steps(t *rapid.T, label string) (string, geom.Matrix) {
	num := func(from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, label) }
	list, m := []string{}, geom.Scale(1, 1)
	for range rapid.IntRange(0, 4).Draw(t, label+" steps") {
		var text string
		var step geom.Matrix
		switch rapid.IntRange(0, 7).Draw(t, label) {
		case 0:
			x, y := num(-200, 200), num(-200, 200)
			text, step = fmt.Sprintf("translate(%v,%v)", x, y), geom.Translate(x, y)
		case 1:
			x := num(-200, 200)
			text, step = fmt.Sprintf("translate( %v )", x), geom.Translate(x, 0)
		case 2:
			k := num(.5, 2)
			text, step = fmt.Sprintf("scale (%v)", k), geom.Scale(k, k)
		case 3:
			x, y := num(.5, 2), num(-2, -.5)
			text, step = fmt.Sprintf("scale(%v %v)", x, y), geom.Scale(x, y)
		case 4:
			turn := num(-360, 360)
			text, step = fmt.Sprintf("rotate(%v)", turn), geom.Rotate(turn)
		case 5:
			turn, x, y := num(-360, 360), num(-200, 200), num(-200, 200)
			text = fmt.Sprintf("rotate(%v,%v\n%v)", turn, x, y)
			step = geom.Translate(-x, -y).Then(geom.Rotate(turn)).Then(geom.Translate(x, y))
		case 6:
			turn := num(-60, 60)
			text, step = "skewX("+strconv.FormatFloat(turn, 'e', -1, 64)+")", geom.Matrix{A: 1, C: math.Tan(turn * math.Pi / 180), D: 1}
			if rapid.Bool().Draw(t, label) {
				text, step = strings.Replace(text, "X", "Y", 1), geom.Matrix{A: 1, B: step.C, D: 1}
			}
		case 7:
			a, b, c, d := num(.5, 2), num(-.4, .4), num(-.4, .4), num(.5, 2)
			text, step = fmt.Sprintf("matrix(%v %v,%v , %v 3e0 +4.)", a, b, c, d), geom.Matrix{A: a, B: b, C: c, D: d, E: 3, F: 4}
		}
		list, m = append(list, text), step.Then(m) // what stands first is done last
	}
	return strings.Join(list, rapid.SampledFrom([]string{" ", ",", " , ", "\n"}).Draw(t, "between")), m
}

// A shape within groups is geom's outline under geom's transforms.
func TestTransformsAreGeoms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.Float64Range(50, 500).Draw(t, "w"), rapid.Float64Range(50, 500).Draw(t, "h")
		outer, m := steps(t, "outer")
		inner, n := steps(t, "inner")
		rx := rapid.Float64Range(0, 25).Draw(t, "corner")
		var drawn string
		var path geom.Path
		switch rapid.IntRange(0, 3).Draw(t, "shape") {
		case 0:
			drawn = fmt.Sprintf(`<rect x="%v" y="7" width="%v" height="%v" ry="%v"/>`, 5-w/2, w, h, rx)
			path, _ = geom.Rectangle(w, h, rx)
		case 1:
			drawn = fmt.Sprintf(`<ellipse cx="5" cy="%v" rx="%v" ry="%v"/>`, 7+h/2, w/2, h/2)
			path, _ = geom.Ellipse(w, h)
		case 2:
			drawn = fmt.Sprintf(`<circle cx="5" cy="%v" r="%v"/>`, 7+w/2, w/2)
			path, _ = geom.Ellipse(w, w)
		case 3:
			drawn = fmt.Sprintf(`<polygon points="%v,7 %v,7 5,%v"/>`, 5-w/2, 5+w/2, 7+h)
			path = new(geom.Builder).MoveTo(-w/2, 0).LineTo(w/2, 0).LineTo(0, h).Close().Path()
		}
		path = path.Transform(geom.Translate(5, 7)).Transform(n).Transform(m)
		d, err := artwork.Read(sheet(fmt.Sprintf(`<g transform="%s"><g transform="%s">%s</g></g>`, outer, inner, drawn)), artwork.Options{})
		if err != nil {
			t.Fatalf("%s %s %s: %v", outer, inner, drawn, err)
		}
		same(t, d, path)
	})
}

// same wants the outline to be a path, moved to its top centre.
func same(t *rapid.T, d artwork.Drawing, want geom.Path) {
	box, got := want.Bounds(), d.Outline().Transform(geom.Translate(d.Origin.X, d.Origin.Y))
	scale := 1 + math.Abs(box.Min.X) + math.Abs(box.Min.Y) + math.Abs(box.Max.X) + math.Abs(box.Max.Y)
	for what, off := range map[string]float64{
		"area":   (got.Area() - want.Area()) / scale,
		"length": got.Length() - want.Length(),
		"left":   got.Bounds().Min.X - box.Min.X,
		"top":    got.Bounds().Min.Y - box.Min.Y,
		"right":  got.Bounds().Max.X - box.Max.X,
		"down":   got.Bounds().Max.Y - box.Max.Y,
	} {
		if !(math.Abs(off) <= 1e-9*scale) {
			t.Fatalf("%s is off by %g on %s", what, off, want.D())
		}
	}
}

// blob draws an outline round a middle, of every kind of segment; few of them cross themselves.
func blob(t *rapid.T) geom.Path {
	n, b := rapid.IntRange(3, 9).Draw(t, "corners"), new(geom.Builder)
	at := func(i float64) (x, y float64) {
		r := rapid.Float64Range(100, 300).Draw(t, "r")
		s, c := math.Sincos(2 * math.Pi * i / float64(n))
		return 300 + r*c, 400 + r*s
	}
	x0, y0 := at(0)
	b.MoveTo(x0, y0)
	for i := range n {
		x, y := x0, y0
		if i < n-1 {
			x, y = at(float64(i + 1))
		}
		cx, cy := at(float64(i) + .5)
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			b.LineTo(x, y)
		case 1:
			b.QuadTo(cx, cy, x, y)
		case 2:
			b.CubicTo(cx, cy, cx, cy, x, y)
		case 3:
			b.ArcTo(500, 600, 30, false, true, x, y)
		}
	}
	return b.Close().Path()
}

// An outline written into a file of any unit and view box reads back the same.
func TestWrittenAndReadAgain(t *testing.T) {
	units := map[string]float64{"mm": 1, "cm": 10, "in": 25.4, "pt": pt, "pc": 12 * pt, "Q": .25}
	rapid.Check(t, func(t *rapid.T) {
		path := blob(t)
		if path.Check() != nil {
			t.Skip("crosses itself")
		}
		unit := rapid.SampledFrom([]string{"mm", "cm", "in", "pt", "pc", "Q"}).Draw(t, "unit")
		k := rapid.Float64Range(.01, 30).Draw(t, "mm a unit of the view box")
		x, y := rapid.Float64Range(-500, 500).Draw(t, "left"), rapid.Float64Range(-500, 500).Draw(t, "top")
		drawn := path.Transform(geom.Scale(1/k, 1/k)).Transform(geom.Translate(x, y))
		file := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%v%s" height="%v%s" viewBox="%v %v %v %v"><path d="%s"/></svg>`,
			600/units[unit], unit, 900/units[unit], unit, x, y, 600/k, 900/k, drawn.D())
		d, err := artwork.Read([]byte(file), artwork.Options{})
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		same(t, d, path)
	})
}
