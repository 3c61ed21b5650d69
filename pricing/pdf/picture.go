package pdf

import (
	"foamwright/materials/drawing"
	"foamwright/pricing/sales"
)

// Picture is the face of what was quoted, as SVG for the page.
func (r *Renderer) Picture(q sales.Sheet) string {
	return drawing.SVG(drawing.Face(q.Estimate.Shield, q.Workshop.Figures.Catalogue.Swatches()))
}
