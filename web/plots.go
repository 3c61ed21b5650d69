package web

import (
	"html/template"

	"foamwright/materials/drawing"
	"foamwright/pricing/plot"
)

// plotWords are the kinds of plots, as templates name them.
func plotWords() template.FuncMap {
	kind := func(draw func(plot.Chart, float64) drawing.Drawing) func(plot.Chart) template.HTML {
		return func(c plot.Chart) template.HTML { return plotted(c, draw) }
	}
	return template.FuncMap{"bars": kind(plot.Bars), "columns": kind(plot.Columns), "curve": kind(plot.Curve), "scatter": kind(plot.Scatter)}
}

// plotted is a plot twice, for a wide screen and a telephone; the style shows one of them.
func plotted(c plot.Chart, draw func(plot.Chart, float64) drawing.Drawing) template.HTML {
	return template.HTML(`<figure class="plotted"><figcaption>` + template.HTMLEscapeString(c.Title) + `</figcaption><div class="wide">` + drawing.SVG(draw(c, plot.Wide)) +
		`</div><div class="slim">` + drawing.SVG(draw(c, plot.Narrow)) + `</div></figure>`)
}
