package artwork_test

import (
	"fmt"
	"strings"
	"testing"

	"foamwright/materials/artwork"
)

// twoHundred is an outline, 99 pieces of four curves, 50 gems and 50 lines, in layers.
func twoHundred() []byte {
	var s strings.Builder
	s.WriteString(`<g b:label="Outline"><path style="fill:none" d="M0,0 H400 V250 C400,420 280,540 200,600 C120,540 0,420 0,250 Z"/></g><g b:label="Pieces">`)
	for i := range 99 {
		fmt.Fprintf(&s, `<path id="path%d" style="fill:#ece7da;stroke:#000" transform="translate(%d,%d)" d="m 0,5 c 0,-2.76 2.24,-5 5,-5 c 2.76,0 5,2.24 5,5 c 0,2.76 -2.24,5 -5,5 c -2.76,0 -5,-2.24 -5,-5 z"/>`, i, 20+i%20*15, 20+i/20*15)
	}
	for i := range 50 {
		fmt.Fprintf(&s, `<circle cx="%d" cy="%d" r="4"/>`, 20+i%10*30, 150+i/10*15)
	}
	s.WriteString(`</g><g b:label="Grooves" style="fill:none">`)
	for i := range 50 {
		fmt.Fprintf(&s, `<path d="M20 %dh300"/>`, 300+i*2)
	}
	return sheet(s.String() + "</g>")
}

func BenchmarkRead200Paths(b *testing.B) {
	file := twoHundred()
	for b.Loop() {
		if d := read(b, file, artwork.Options{}); len(d.Shapes) != 200 {
			b.Fatal(len(d.Shapes))
		}
	}
}

func BenchmarkReadLayers(b *testing.B) {
	for b.Loop() {
		readFile(b, "heater-layers.svg", artwork.Options{})
	}
}
