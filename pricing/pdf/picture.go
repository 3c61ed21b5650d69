package pdf

import (
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/drawing"
	"foamwright/pricing/sales"
)

// Picture is the face of what was quoted, as SVG for a page, in the customer's tongue; empty where nothing is to be seen.
func (r *Renderer) Picture(s sales.Sheet) string {
	if s.Estimate.Shield.Shapeless() {
		return ""
	}
	d := face(s)
	if t := s.Tongue(); t.Code() != "en" {
		d.Title, d.Words = t.Say("Face of %s", s.Estimate.Shield.Spec.Name), strings.Join(sales.Describe(t, s.Estimate.Shield), " ")
	}
	return drawing.SVG(d)
}

// face is the face, lettered in the customer's tongue.
func face(s sales.Sheet) drawing.Drawing {
	t := s.Tongue()
	return drawing.FaceIn(s.Estimate.Shield, s.Workshop.Figures.Catalogue.Swatches(), drawing.Labels{
		Say: t.Say, Number: func(mm float64) string { return t.Number(decimal.NewFromFloat(mm).Round(1)) },
	})
}
