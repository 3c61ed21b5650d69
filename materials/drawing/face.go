package drawing

import (
	"fmt"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// Face is the shield from the front, drawn flat as its template is cut. The palette gives the colours named in
// the spec as #rrggbb; what it does not have is drawn bare. Of a prop, which has no outline, it is the parts.
func Face(s shield.Shield, palette map[string]string) Drawing { return FaceIn(s, palette, english()) }

// Labels are how a drawing is lettered.
type Labels struct {
	Say    func(english string, args ...any) string // a label in some language, as fmt.Sprintf is told it
	Number func(mm float64) string                  // to a tenth
}

func english() Labels { return Labels{fmt.Sprintf, mm} }

// FaceIn is Face lettered otherwise. Its Title and Words stay English: they are the caller's to say.
func FaceIn(s shield.Shield, palette map[string]string, labels Labels) Drawing {
	if len(s.Flat) == 0 {
		return loose(s, palette, labels)
	}
	c := coatsOf(s, palette)
	b := newBoard("face", "Face of "+s.Spec.Name, faceWords(s), textFor(s.Box))
	b.Labels = labels
	flat := closely(s)
	b.body(s, flat, c.edge)
	if s.Rim == nil {
		b.area(Field, flat, c.face, outlinePen)
	} else {
		b.area(Field, flat, c.face, 0)
		rim := along(s, flat, s.Rim)
		b.shadeInside(rim)
		b.area(Rim, rim, c.rim, outlinePen)
	}
	b.centre(s.Box, c.face)
	b.studs(s, flat)
	b.pieces(s, c)
	b.grooves(s)
	b.gems(s, c)
	b.faceMeasures(s, flat, c)
	return b.finish()
}

// drawn is how closely polygons follow their curves, mm: the shield's own do. Chords lose two thirds of it times the
// perimeter; where that is more than a thousandth of the area, as on small or slender outlines, it is too coarse.
const drawn = 0.05

func coarse(s shield.Shield) bool { return drawn*s.Perimeter > 0.0015*s.Area }

// closely is the outline as polygons, as close as its size asks for.
func closely(s shield.Shield) geom.Region {
	if coarse(s) {
		return s.Outline.Flatten(0.0004 * s.Area / s.Perimeter)
	}
	return s.Flat
}

// along is a band that follows the outline as closely as that was drawn.
func along(s shield.Shield, flat geom.Region, band *shield.Band) geom.Region {
	if coarse(s) {
		if close, err := flat.Subtract(band.Inside); err == nil {
			return close
		}
	}
	return band.Region
}

// body lays the shield on the paper: its shadow, and the thin strip round its edge under what comes next.
func (b *board) body(s shield.Shield, flat geom.Region, edge Colour) {
	out := flat
	if s.Strip > 0 {
		if wider, err := flat.Offset(s.Strip); err == nil {
			out = wider
		}
	}
	b.area(Shade, out.Transform(geom.Translate(0.22*b.u, 0.34*b.u)), dark.veil(0.13), 0)
	if s.Strip > 0 {
		b.area(Edge, out, edge, detailPen)
	}
}

// shadeInside darkens the ground along the inner edges of a raised band, which is laid over half of it.
func (b *board) shadeInside(band geom.Region) {
	shade := Lines{Class: Shade, Colour: dark.veil(0.16), Pen: 0.5 * b.u}
	for _, s := range band {
		for _, hole := range s.Holes {
			shade.Chains = append(shade.Chains, closed(hole))
		}
	}
	b.add(shade)
}

func closed(r geom.Ring) []geom.Point { return append(r[:len(r):len(r)], r[0]) }

// centre is the centre line: in its own colour beyond the work, in what can be seen upon it.
func (b *board) centre(box geom.Rect, on Colour) {
	dash := []float64{1.3 * b.u, 0.35 * b.u, 0.15 * b.u, 0.35 * b.u}
	beyond := 1.2 * b.u
	top, foot := geom.Point{Y: box.Min.Y}, geom.Point{Y: box.Max.Y}
	b.add(Lines{Class: Guide, Chains: [][]geom.Point{{top, foot}}, Colour: upon(on).veil(0.55), Pen: finePen * b.u, Dash: dash})
	b.add(Lines{Class: Centre, Pen: detailPen * b.u, Dash: dash, Chains: [][]geom.Point{
		{top, {Y: top.Y - beyond}}, {foot, {Y: foot.Y + beyond}},
	}})
}
