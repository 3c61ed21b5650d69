package takeoff

import (
	"foamwright/materials"
	"foamwright/materials/measure"
)

// raisedCoats is how many coats a raised part gets in its own colour. Common practice, no source.
const raisedCoats = 2

// colours measures every painted region on the drawing: a part of another colour takes its area from the ground.
func (t *taking) colours() {
	s := t.shield
	order := []string{}
	sums := map[string][][]measure.Factor{}
	most := 0
	add := func(colour string, coats int, product ...measure.Factor) {
		if sums[colour] == nil {
			order = append(order, colour)
		}
		sums[colour] = append(sums[colour], append(product, measure.N(coats, "coats")))
		most = max(most, coats)
	}
	painted := map[string]bool{}
	regions := map[string][]measure.Factor{}
	for _, paint := range s.Spec.Paint {
		if !painted[paint.Where] {
			painted[paint.Where], regions[paint.Where] = true, t.region(paint.Where)
		}
		for _, r := range regions[paint.Where] {
			add(paint.Colour, paint.Coats, r)
		}
	}
	if s.Rim != nil && s.Spec.Rim.Colour != "" && !painted["rim"] {
		for _, r := range t.region("rim") {
			add(s.Spec.Rim.Colour, raisedCoats, r)
		}
	}
	for _, r := range raised(s) {
		if r.Colour != "" {
			add(r.Colour, raisedCoats, measure.M((r.Area+r.Perimeter*r.Foam.Thickness.MM()*float64(r.Layers))/1e6, measure.SquareMetre, r.Name), measure.N(max(r.Count, 1), "of them"))
		}
	}
	t.brushOn(order, sums, most)
	if painted["face"] && (painted["rim"] || s.Spec.Rim != nil && s.Spec.Rim.Colour != "") {
		t.drive(MaskedM, measure.RunMetre, p(length(s.Rim.Inner, "inside of rim")))
		t.goods(Hardware, materials.UseTape, of(length(s.Rim.Inner, "inside of rim"), measure.F(t.usage.TapeMask, "tape")))
	}
}

func (t *taking) brushOn(order []string, sums map[string][][]measure.Factor, most int) {
	var all [][]measure.Factor
	for _, colour := range order {
		f := measure.Formula{Least: t.usage.PaintLeast}
		for _, product := range sums[colour] {
			f.Add(product...)
		}
		all = append(all, f.Sum...)
		l, ok := t.catalogue.Paint(colour)
		if !ok {
			t.lacks("the colour " + colour)
			continue
		}
		litres := t.pour(Coats, l, f, spread(l))
		t.mass.Add(measure.F(litres, "l "+l.Name), measure.F(l.Density, "kg/l"), measure.F(l.Solids, "stays"))
	}
	t.drive(ColourCoatM2, measure.SquareMetre, all...)
	t.count(ColourCount, len(order), "colours")
	t.count(ColourCoats, most, "coats")
	t.shared(materials.UseCup, of(measure.N(len(order), "colours")), (t.shield.Spec.Quantity+BatchOf-1)/BatchOf)
}

// region is the area of a named region as drawn.
func (t *taking) region(where string) []measure.Factor {
	s := t.shield
	switch where {
	case "back":
		return p(area(s.Area, "back"))
	case "edge":
		return p(area(s.Perimeter*s.Total, "edge"))
	case "rim":
		if s.Rim == nil {
			return nil
		}
		return p(area(s.Rim.Area, "rim"), area(s.Rim.Inner*s.Rim.Foam.Thickness.MM(), "rim wall"))
	}
	return p(area(ground(s), "face"))
}
