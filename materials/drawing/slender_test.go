package drawing_test

import (
	"testing"

	"foamwright/materials/drawing"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

// The words of a section keep off each other where the shield is hardly wider than its layers are thick.
func TestSlenderSection(t *testing.T) {
	for _, width := range []measure.Length{50, 60, 75, 100, 150, 200, 300} {
		for _, layers := range []int{1, 3, 6} {
			for _, former := range []measure.Length{0, 200, 400} {
				for _, strip := range []*shield.Edge{nil, {Foam: "sheet-3", Corners: "wrapped"}} {
					spec := plain("slender", shield.Outline{Shape: shield.Rectangle, Width: width * mm, Height: 400 * mm})
					spec.Core.Layers, spec.Core.Former, spec.Edge = layers, former*mm, strip
					spec.Rim = &shield.Rim{Foam: "sheet-10", Width: 5 * mm}
					if err := overlap(drawing.Section(build(t, spec))); err != nil {
						t.Errorf("%d mm wide, %d layers, former %d, strip %v: %v", width, layers, former, strip != nil, err)
					}
				}
			}
		}
	}
}
