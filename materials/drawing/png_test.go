package drawing_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"pgregory.net/rapid"

	"foamwright/materials/drawing"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

type fataler interface{ Fatal(...any) } // testing.T and rapid.T

func picture(t fataler, d drawing.Drawing, pixels int) image.Image {
	data, err := drawing.PNG(d, pixels)
	if err != nil {
		t.Fatal(err)
	}
	p, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPNG(t *testing.T) {
	for name, spec := range shields() {
		for _, d := range views(build(t, spec)) {
			first, err := drawing.PNG(d, 1400)
			if err != nil {
				t.Fatal(err)
			}
			again, _ := drawing.PNG(d, 1400)
			if !bytes.Equal(first, again) {
				t.Errorf("%s %s: two pictures of one drawing differ", name, d.View)
			}
			if len(first) > 180_000 {
				t.Errorf("%s %s has %d bytes", name, d.View, len(first))
			}
			p, _, err := image.DecodeConfig(bytes.NewReader(first))
			if err != nil || max(p.Width, p.Height) != 1400 {
				t.Errorf("%s %s: %d × %d pixels, %v", name, d.View, p.Width, p.Height, err)
			}
			if got, want := float64(p.Width)/float64(p.Height), d.Sheet.Width()/d.Sheet.Height(); math.Abs(got/want-1) > 0.003 {
				t.Errorf("%s %s: proportion %v, want %v", name, d.View, got, want)
			}
		}
	}
}

func TestPNGSizes(t *testing.T) {
	d := drawing.Face(build(t, kite()), nil)
	for _, pixels := range []int{-1, 0, 99, 4001} {
		if _, err := drawing.PNG(d, pixels); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%d pixels: %v", pixels, err)
		}
	}
}

// Colours are where they belong, exactly: no mixing of the palette touches a flat fill.
func TestPNGColours(t *testing.T) {
	d := drawing.Face(build(t, kite()), palette())
	for name, sheet := range map[string]drawing.Drawing{"paper": d, "plain": d.Plain()} {
		p := picture(t, sheet, 1400)
		at := func(x, y float64) color.RGBA {
			k := 1400 / math.Max(d.Sheet.Width(), d.Sheet.Height())
			return color.RGBAModel.Convert(p.At(int((x-d.Sheet.Min.X)*k), int((y-d.Sheet.Min.Y)*k))).(color.RGBA)
		}
		want := map[string]color.RGBA{"field": {0x30, 0x50, 0x6b, 255}, "rim": {0xb9, 0x92, 0x4a, 255}, "heron": {0xec, 0xe7, 0xda, 255}, "white": {255, 255, 255, 255}}
		got := map[string]color.RGBA{"field": at(-80, 300), "rim": at(-270, 225), "heron": at(-18, 520), "white": want["white"]}
		if name == "plain" {
			got["white"] = at(d.Sheet.Min.X+1, d.Sheet.Min.Y+1)
		}
		for what := range want {
			if got[what] != want[what] {
				t.Errorf("%s: %s is %v, want %v", name, what, got[what], want[what])
			}
		}
	}
}

// covered measures the dark part of a picture in mm².
func covered(t fataler, sheet geom.Rect, marks ...drawing.Mark) float64 {
	p := picture(t, drawing.Drawing{Sheet: sheet, Text: 1, Marks: marks}, pixelsFor(sheet)).(*image.Paletted)
	count := make([]int, len(p.Palette))
	for _, i := range p.Pix {
		count[i]++
	}
	sum := 0.0
	for i, n := range count {
		sum += float64(n) * (1 - float64(color.GrayModel.Convert(p.Palette[i]).(color.Gray).Y)/255)
	}
	return sum * pixel(sheet) * pixel(sheet)
}

// pixelsFor is how many to measure with: a slender outline needs more of them.
func pixelsFor(sheet geom.Rect) int {
	return min(4000, int(1200*math.Sqrt(math.Max(sheet.Width()/sheet.Height(), sheet.Height()/sheet.Width()))))
}

// pixel is the side of one in mm. Smoothed edges are right to a fiftieth of it.
func pixel(sheet geom.Rect) float64 {
	return math.Max(sheet.Width(), sheet.Height()) / float64(pixelsFor(sheet))
}

// What is drawn fills the area that is priced: the outline within a thousandth, the rim within a hundredth of it.
func TestAreaDrawnIsAreaPriced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyShield(t)
		margin := 0.02 * math.Max(s.Box.Width(), s.Box.Height())
		sheet := geom.Rect{Min: geom.Point{X: s.Box.Min.X - margin, Y: -margin}, Max: geom.Point{X: s.Box.Max.X + margin, Y: s.Box.Max.Y + margin}}
		for _, m := range drawing.Face(s, nil).Marks {
			a, ok := m.(drawing.Area)
			if !ok || a.Class != drawing.Field && a.Class != drawing.Rim {
				continue
			}
			want, share := s.Area, 0.001
			if a.Class == drawing.Rim {
				want, share = s.Rim.Area, 0.01
			}
			a.Fill, a.Pen = 0x000000ff, 0
			if got := covered(t, sheet, a); math.Abs(got-want) > share*want+0.02*s.Perimeter*pixel(sheet) {
				t.Fatalf("%s covers %v mm², want %v", a.Class, got, want)
			}
		}
	})
}

// A hole stays open, and lines keep their width round corners.
func TestStrokesAndHoles(t *testing.T) {
	sheet := geom.Rect{Max: geom.Point{X: 100, Y: 100}}
	holed, err := geom.ParsePath("M10 10H90V90H10Z M30 30H70V70H30Z")
	if err != nil {
		t.Fatal(err)
	}
	l := []geom.Point{{X: 20, Y: 80}, {X: 50, Y: 20}, {X: 80, Y: 80}}
	for name, c := range map[string]struct {
		mark drawing.Mark
		want float64
	}{
		"hole": {drawing.Area{Region: holed.Flatten(0.01), Fill: 0x000000ff}, 6400 - 1600},

		"corner": {drawing.Lines{Chains: [][]geom.Point{l}, Pen: 4, Colour: 0x000000ff}, 2*67.082*4 - corner(4)},
		"dashes": {drawing.Lines{Chains: [][]geom.Point{{{X: 10, Y: 20}, {X: 90, Y: 30}}}, Pen: 4, Colour: 0x000000ff, Dash: []float64{10, 10}}, 4 * (4*10 + 0.623)},
		"dots":   {drawing.Dots{At: []geom.Point{{X: 30, Y: 30}, {X: 70, Y: 70}}, Diameter: 20, Fill: 0x000000ff}, 200 * math.Pi},
		"level":  {drawing.Lines{Chains: [][]geom.Point{{{X: 10, Y: 50}, {X: 90, Y: 50}}}, Pen: 4, Colour: 0x000000ff}, 320},
	} {
		if got := covered(t, sheet, c.mark); math.Abs(got-c.want) > 0.01*c.want {
			t.Errorf("%s covers %.2f mm², want %.2f", name, got, c.want)
		}
	}
}

// corner is by how much a corner of the legs above covers less than its two legs side by side: they overlap within
// by (w/2)² tan(a/2), a the turn, and the round corner adds a sector of that turn.
func corner(w float64) float64 {
	turn := math.Pi - 2*math.Atan(0.5)
	return w * w / 4 * (math.Tan(turn/2) - turn/2)
}
