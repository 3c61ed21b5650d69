package shield

import (
	"fmt"
	"math"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
)

// Smallest and largest outline, either way.
const (
	smallest = 50 * measure.Millimetre
	largest  = 3 * measure.Metre
)

// checkSizes notes what the written measures already rule out.
func (o Outline) checkSizes(l *fault.List) {
	size := func(field string, v measure.Length) {
		if v != 0 && (v < smallest || v > largest) {
			l.Add("outline."+field, v.String(), "An outline is from 50 mm to 3 m. Check the number and its unit.")
		}
	}
	size("diameter", o.Diameter)
	size("width", o.Width)
	size("height", o.Height)
	if o.Corner > 0 && 2*o.Corner > min(o.Width, o.Height) {
		l.Add("outline.corner", o.Corner.String(), "The corner radius is more than half the shorter side. Make it smaller.")
	}
	if o.Shape != Heater && o.Shape != Kite || o.Width == 0 || o.Height == 0 || o.Shoulder == 0 {
		return
	}
	if o.Height-o.Shoulder < o.Width/2 {
		most := o.Height - o.Width/2
		remedy := fmt.Sprintf("Below the shoulder there must be at least half the width: the shoulder can be at most %s down.", most)
		if most <= 0 {
			remedy = fmt.Sprintf("This shape must be higher than half its width and the shoulder: make it at least %s high.", o.Width/2+o.Shoulder)
		}
		l.Add("outline.shoulder", o.Shoulder.String(), remedy)
	}
}

// path draws the outline for a template width in mm; the width is ignored where the outline is drawn by hand.
func (o Outline) path(width float64) (geom.Path, error) {
	switch o.Shape {
	case Round:
		return geom.Ellipse(width, o.Diameter.MM())
	case Oval:
		return geom.Ellipse(width, o.Height.MM())
	case Rectangle:
		return geom.Rectangle(width, o.Height.MM(), o.Corner.MM())
	case Heater, Kite:
		return pointed(o.Shape, width, o.Height.MM(), o.Shoulder.MM()), nil
	case Polygon:
		return geom.RegularPolygon(o.Sides, width)
	}
	drawn, err := geom.ParsePath(o.D)
	if err == nil && o.Shape == Half {
		drawn, err = geom.MirrorHalf(drawn)
	}
	if err != nil {
		return nil, err
	}
	if err := drawn.Check(); err != nil {
		return nil, err
	}
	return toTopCentre(drawn), nil
}

// pointed is a heater (straight top and sides to the shoulder) or a kite (a half ellipse above its widest
// line), each closed by two arcs that leave the sides without a kink and meet at the point: with a half the
// width and b the height below the shoulder their radius is (a² + b²)/2a.
func pointed(shape string, width, height, shoulder float64) geom.Path {
	a, b := width/2, height-shoulder
	r := (a*a + b*b) / (2 * a)
	draw := new(geom.Builder)
	if shape == Heater {
		draw.MoveTo(-a, 0).LineTo(a, 0).LineTo(a, shoulder)
	} else {
		draw.MoveTo(-a, shoulder).ArcTo(a, shoulder, 0, false, true, 0, 0).ArcTo(a, shoulder, 0, false, true, a, shoulder)
	}
	return draw.ArcTo(r, r, 0, false, true, 0, height).ArcTo(r, r, 0, false, true, -a, shoulder).Close().Path()
}

// toTopCentre moves a drawn outline so that its origin is the middle of its top edge.
func toTopCentre(p geom.Path) geom.Path {
	box := p.Bounds()
	return p.Transform(geom.Translate(-(box.Min.X+box.Max.X)/2, -box.Min.Y))
}

// width is the width as it was written, or as drawn.
func (o Outline) width() (float64, error) {
	switch {
	case o.Shape == Round:
		return o.Diameter.MM(), nil
	case o.Width > 0:
		return o.Width.MM(), nil
	}
	drawn, err := o.path(0)
	if err != nil {
		return 0, err
	}
	return drawn.Bounds().Width(), nil
}

// template is the outline that is cut, in mm, exactly and as polygons: the core, with the width solved for when it
// was given straight across. strip is the thickness of the edge strip, which a finished outline has inside it. moved
// is where a place of the outline as it was written lies on the template.
func (s Spec) template(layers []float64, b Bench, strip, former float64) (p geom.Path, flat geom.Region, moved geom.Matrix, err error) {
	moved = geom.Translate(0, 0)
	o := s.Outline
	width, err := o.width()
	if err != nil {
		return nil, nil, moved, err
	}
	asked := width
	if o.WidthIs == StraightAcross && former > 0 {
		if width, err = templateFor(width, former, layers, s.Core.Templates == "per layer", b.calibration(s.Core.Set)); err != nil {
			return nil, nil, moved, err
		}
	}
	if p, err = o.path(width); err != nil {
		return nil, nil, moved, err
	}
	if o.byHand() && width != asked {
		moved = geom.Scale(width/asked, 1)
		p = p.Transform(moved)
	}
	flat = p.Flatten(drawn)
	if err := simple(flat); err != nil {
		return nil, nil, moved, err
	}
	if o.Is == "finished" && strip > 0 {
		var off geom.Point
		if p, flat, off, err = inside(p, flat, strip); err != nil {
			return nil, nil, moved, err
		}
		moved = moved.Then(geom.Translate(-off.X, -off.Y))
	}
	box := p.Bounds()
	if least := smallest.MM() * (1 - 1e-9); box.Width() < least || box.Height() < least || math.Max(box.Width(), box.Height()) > largest.MM()*math.Pi/2 {
		return nil, nil, moved, fault.New(fault.Invalid, "The outline is %.0f × %.0f mm; it must be from 50 mm to 3 m both ways. A drawing without units is in millimetres.", box.Width(), box.Height())
	}
	return p, flat, moved, nil
}

func (o Outline) byHand() bool { return o.Shape == Half || o.Shape == Path }

func narrow() error {
	return fault.New(fault.Invalid, "The outline is too narrow in places for its edge strip to be inside it.")
}

// inside is the core of a finished outline: everything further than the strip's thickness from its edge; and
// where the core's top centre was.
func inside(p geom.Path, flat geom.Region, strip float64) (geom.Path, geom.Region, geom.Point, error) {
	if wound(p, strip) {
		return nil, nil, geom.Point{}, narrow()
	}
	core, err := finely(p, flat).Offset(-strip)
	if err == nil {
		flat, err = flat.Offset(-strip)
	}
	if err != nil {
		return nil, nil, geom.Point{}, err
	}
	if len(core) != 1 || len(flat) != 1 {
		return nil, nil, geom.Point{}, narrow()
	}
	draw := new(geom.Builder)
	for _, ring := range append([]geom.Ring{core[0].Outer}, core[0].Holes...) {
		draw.MoveTo(ring[0].X, ring[0].Y)
		for _, at := range ring[1:] {
			draw.LineTo(at.X, at.Y)
		}
		draw.Close()
	}
	box := core.Bounds()
	top := geom.Point{X: (box.Min.X + box.Max.X) / 2, Y: box.Min.Y}
	return toTopCentre(draw.Path()), flat.Transform(geom.Translate(-top.X, -top.Y)), top, nil
}
