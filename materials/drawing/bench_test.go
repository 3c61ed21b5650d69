package drawing_test

import (
	"testing"

	"foamwright/materials/drawing"
)

func BenchmarkFaceAndSVG(b *testing.B) {
	s, colours := build(b, kite()), palette()
	for b.Loop() {
		drawing.SVG(drawing.Face(s, colours))
	}
}

func BenchmarkPNG(b *testing.B) {
	s := build(b, kite())
	for name, d := range map[string]drawing.Drawing{"face": drawing.Face(s, palette()), "back": drawing.Back(s, palette()), "plain face": drawing.Face(s, palette()).Plain()} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := drawing.PNG(d, 1400); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
