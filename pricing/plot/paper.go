package plot

import "foamwright/materials/drawing"

// acrossPaper is how many pixels a plot on paper has on its longer side: over 200 to an inch where that is 170 mm.
const acrossPaper = 1440

// Paper is a plot as a PNG for a document: on white, with its lines at the steps, 1440 pixels on its longer side.
func Paper(d drawing.Drawing) ([]byte, error) {
	if len(d.Marks) > 0 {
		if ground, ok := d.Marks[0].(drawing.Area); ok && ground.Class == drawing.Ground {
			d.Marks = d.Marks[1:]
		}
	}
	return drawing.PNG(d, acrossPaper)
}
