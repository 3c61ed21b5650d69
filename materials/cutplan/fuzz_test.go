package cutplan

import (
	"context"
	"encoding/binary"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Any outline at all is either refused with a fault or laid out soundly.
func FuzzPlan(f *testing.F) {
	f.Add([]byte("\x00\x00\x00\x00\x20\x00\x00\x00\x00\x00\x20\x00"), 3.0, 5.0)
	f.Add([]byte("\x00\x00\x00\x00\x20\x00\x00\x00\x00\x10\x20\x00\x30\x00\x10\x00"), 0.0, 0.0)
	f.Add([]byte("\x00\x00\x00\x00\x30\x00\x00\x00\x30\x00\x30\x00\x10\x00\x08\x00\x00\x00\x30\x00"), 1.0, 0.0)
	f.Fuzz(func(t *testing.T, corners []byte, spacing, margin float64) {
		var r geom.Ring
		for ; len(corners) >= 4 && len(r) < 60; corners = corners[4:] {
			x, y := int16(binary.LittleEndian.Uint16(corners)), int16(binary.LittleEndian.Uint16(corners[2:]))
			r = append(r, geom.Point{X: float64(x) / 8, Y: float64(y) / 8})
		}
		job := Job{Spacing: spacing, Margin: margin, Keep: UsualKeep(),
			Sheets: []Sheet{{Label: "mat", Width: 900, Height: 700, Weight: 1}},
			Pieces: []Piece{{Label: "any", Shape: geom.Shape{Outer: r}, Count: 3, Mirror: true}, {Label: "block", Shape: rectangle(90, 60), Count: 2}}}
		plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 500})
		if err != nil {
			if fault.KindOf(err) == fault.Internal {
				t.Fatal(err)
			}
			return
		}
		if err := Verify(job, plan); err != nil {
			t.Fatal(err)
		}
	})
}
