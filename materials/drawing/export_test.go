package drawing

import "foamwright/materials/geom"

// Box is the room a mark takes, for the tests.
func Box(m Mark) (geom.Rect, bool) { return m.box() }
