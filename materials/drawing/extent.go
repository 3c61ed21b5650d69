package drawing

import (
	"math"

	"foamwright/materials/geom"
)

func (a Area) box() (geom.Rect, bool) {
	b := a.Region.Bounds()
	return grown(b, a.Pen/2), len(a.Region) > 0
}

func (l Lines) box() (geom.Rect, bool) {
	var b geom.Rect
	any := false
	for _, c := range l.Chains {
		for _, p := range c {
			b, any = joined(b, geom.Rect{Min: p, Max: p}, any), true
		}
	}
	return grown(b, l.Pen/2), any
}

func (d Dots) box() (geom.Rect, bool) {
	return Lines{Chains: [][]geom.Point{d.At}, Pen: d.Diameter}.box()
}

// box is the room a text needs in any usual sans-serif: fonts differ, so it is a wide guess.
func (t Text) box() (geom.Rect, bool) {
	long := 0.0
	for _, r := range t.Words {
		switch r {
		case ' ', '.', ',', ':', 'i', 'l', 'j', 't', 'f', 'r', '\'':
			long += 0.36
		case 'm', 'w', 'M', 'W':
			long += 0.95
		default:
			long += 0.64
		}
	}
	long *= t.Size
	from := map[Anchor]float64{Middle: -long / 2, End: -long}[t.Anchor]
	b := geom.Rect{Min: geom.Point{X: from, Y: -0.76 * t.Size}, Max: geom.Point{X: from + long, Y: 0.22 * t.Size}}
	corners := geom.Region{{Outer: geom.Ring{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}}}
	return corners.Transform(geom.Rotate(t.Turn).Then(geom.Translate(t.At.X, t.At.Y))).Bounds(), t.Words != ""
}

// Room is the box of a text in any usual sans-serif, a wide guess; false for one without words.
func (t Text) Room() (geom.Rect, bool) { return t.box() }

// extent is the box around all marks.
func extent(marks []Mark) geom.Rect {
	var all geom.Rect
	any := false
	for _, m := range marks {
		if b, ok := m.box(); ok {
			all, any = joined(all, b, any), true
		}
	}
	return all
}

func joined(a, b geom.Rect, any bool) geom.Rect {
	if !any {
		return b
	}
	return geom.Rect{
		Min: geom.Point{X: math.Min(a.Min.X, b.Min.X), Y: math.Min(a.Min.Y, b.Min.Y)},
		Max: geom.Point{X: math.Max(a.Max.X, b.Max.X), Y: math.Max(a.Max.Y, b.Max.Y)},
	}
}

func grown(b geom.Rect, by float64) geom.Rect {
	return geom.Rect{Min: geom.Point{X: b.Min.X - by, Y: b.Min.Y - by}, Max: geom.Point{X: b.Max.X + by, Y: b.Max.Y + by}}
}
