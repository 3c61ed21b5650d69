package takeoff

import (
	"math"

	"foamwright/materials"
	"foamwright/materials/measure"
)

// face counts what is raised on the face or carved into it.
func (t *taking) face() {
	s := t.shield
	var outlines [][]measure.Factor
	for _, piece := range s.Pieces {
		outlines = append(outlines, p(length(piece.Perimeter, piece.Name), measure.N(piece.Layers, "layers")))
	}
	t.drive(PieceOutlineM, measure.RunMetre, outlines...)
	t.count(RaisedPiece, len(s.Pieces), "pieces")
	t.count(GemCount, len(s.Gems), "gems")
	t.count(StudCount, s.Spec.Studs, "studs")
	grooves := map[string][][]measure.Factor{}
	for _, g := range s.Grooves {
		grooves[g.Tool] = append(grooves[g.Tool], p(length(g.Length, "groove"), measure.N(g.Passes, "passes")))
	}
	t.drive(RotaryM, measure.RunMetre, grooves["rotary"]...)
	t.drive(KnifeM, measure.RunMetre, grooves["knife"]...)
	t.drive(HeatedGrooveM, measure.RunMetre, grooves["knife"]...)
	burrs := measure.Formula{}
	for _, g := range grooves["rotary"] {
		burrs.Add(append(g, measure.F(t.usage.BurrGroove, "burrs a metre"))...)
	}
	t.goods(Hardware, materials.UseBurr, burrs)
}

// backAndGrip counts the back's lines and everything it is held by.
func (t *taking) backAndGrip() {
	s, u := t.shield, t.usage
	t.drive(PlankM, measure.RunMetre, p(length(s.PlankLine, "planks")))
	t.drive(GrainM, measure.RunMetre, p(length(s.GrainLine(), "grain")))
	if s.GrainLine() > 0 {
		t.drive(GrainedM2, measure.SquareMetre, p(area(s.Area, "back")))
	}
	if s.Cover != nil {
		t.drive(CoverM, measure.RunMetre, p(length(s.Perimeter, "cover strip")))
	}
	g := s.Grip
	t.count(HandleBlock, g.Blocks, "blocks")
	t.count(StackLayer, g.Layers, "layers")
	t.count(Channel, g.Channels, "channels")
	t.count(StrapCount, g.Straps, "straps")
	t.count(ThumbGuard, g.ThumbGuards, "guards")
	t.goods(Hardware, materials.UseStrap, of(measure.N(g.Straps, "straps"), measure.F(u.StrapLength, "m")))
	t.goods(Hardware, materials.UseRivet, of(measure.N(g.Straps, "straps"), measure.F(u.Rivets, "rivets")))
	t.goods(Hardware, materials.UseBar, of(measure.N(g.Bars, "bars")))
	t.goods(Hardware, materials.UseRope, of(measure.N(g.Ropes, "ropes"), measure.F(u.RopeLength, "m")))
}

// coated is the whole skin as products: both faces a little over, the edge, the walls of what is raised.
func (t *taking) coated() [][]measure.Factor {
	s := t.shield
	skin := [][]measure.Factor{
		p(area(s.Area, "face"), measure.N(2, "sides"), measure.F(t.usage.CoatedExtra, "over")),
		p(area(s.Perimeter*s.Total, "edge")),
	}
	if s.Rim != nil {
		skin = append(skin, p(area(s.Rim.Inner*s.Rim.Foam.Thickness.MM(), "rim wall")))
	}
	for _, r := range append(s.Pieces[:len(s.Pieces):len(s.Pieces)], s.Gems...) {
		skin = append(skin, p(area(r.Perimeter*r.Foam.Thickness.MM()*float64(r.Layers), r.Name+" wall")))
	}
	return skin
}

// skin is the coat: latex with a thinned first coat, or a flexible primer where there is to be no latex.
func (t *taking) skin() {
	s, u := t.shield, t.usage
	coats := s.Spec.Coat.Coats
	if s.Spec.Coat.System == "none" || coats == 0 {
		return
	}
	whole := measure.Formula{Unit: measure.SquareMetre, Sum: t.coated()}
	skin := measure.F(whole.Quantity().Value, "m² skin")
	brushes := of(skin, measure.N(coats, "coats"), measure.F(u.BrushCoat, "brushes a m²"))
	t.goods(Hardware, materials.UseBrush, brushes)
	if s.Spec.Coat.System == "primer" {
		t.drive(PrimerCoatM2, measure.SquareMetre, p(skin, measure.N(coats, "coats")))
		t.count(PrimerCoats, coats, "coats")
		l, litres := t.liquid(Coats, materials.UsePrimer, of(skin, measure.N(coats, "coats")), spread)
		t.mass.Add(measure.F(litres, "l primer"), measure.F(l.Density, "kg/l"), measure.F(l.Solids, "stays"))
		return
	}
	t.drive(FirstCoatM2, measure.SquareMetre, whole.Sum...)
	t.drive(FurtherCoatM2, measure.SquareMetre, p(skin, measure.N(coats-1, "coats")))
	t.count(FurtherCoats, coats-1, "coats")
	t.drive(FinishedM2, measure.SquareMetre, p(skin))
	latex, ok := t.catalogue.Liquid(materials.UseLatex)
	if !ok {
		t.lacks("latex")
		return
	}
	drinks := measure.Formula{Unit: measure.SquareMetre, Sum: t.coated()}
	if s.GrainLine() > 0 {
		drinks.Add(area(s.Area, "opened back"), measure.F(u.GrainedExtra, "more"))
	}
	thirsty := measure.F(drinks.Quantity().Value, "m² skin")
	f := measure.Formula{}
	f.Add(thirsty, measure.F(latex.FirstSpread, "l/m² first coat"), measure.F(one.Sub(u.WaterShare), "latex in the mix"))
	f.Add(thirsty, measure.N(coats-1, "coats"), measure.F(latex.Spread, "l/m²"))
	litres := t.pour(Coats, latex, f, nil)
	t.mass.Add(measure.F(litres, "l latex"), measure.F(latex.Density, "kg/l"), measure.F(latex.Solids, "stays"))
	t.liquid(Coats, materials.UseWater, of(thirsty, measure.F(latex.FirstSpread, "l/m² first coat"), measure.F(u.WaterShare, "water in the mix")), nothing)
	t.goods(Hardware, materials.UseTalc, of(skin, measure.F(u.Talc, "kg/m²")))
}

func spread(l materials.Liquid) []measure.Factor { return p(measure.F(l.Spread, "l/m²")) }

func nothing(materials.Liquid) []measure.Factor { return nil }

// finish is weathering, clear coat, check, photograph and parcel.
func (t *taking) finish() {
	s := t.shield
	skin := measure.F(measure.Formula{Unit: measure.SquareMetre, Sum: t.coated()}.Quantity().Value, "m² skin")
	if level := s.Spec.Weathering; level > 0 {
		t.drive(WeatheredM2, measure.SquareMetre, p(area(s.Area, "face"), measure.F(t.usage.CoatedExtra, "over")), p(area(s.Perimeter*s.Total, "edge")))
		// Light, usual and heavy weathering: common practice, no source.
		t.drive(WeatheringLevel, measure.Ratio, p(measure.F(d([]string{"0.5", "1", "1.8"}[level-1]), "weathering")))
	}
	if n := s.Spec.ClearCoats; n > 0 {
		t.drive(ClearCoatM2, measure.SquareMetre, p(skin, measure.N(n, "coats")))
		t.count(ClearCoats, n, "coats")
		l, litres := t.liquid(Coats, materials.UseClear, of(skin, measure.N(n, "coats")), spread)
		t.mass.Add(measure.F(litres, "l clear"), measure.F(l.Density, "kg/l"), measure.F(l.Solids, "stays"))
		t.goods(Hardware, materials.UseBrush, of(measure.N(n, "clear coats")))
	}
	t.count(CheckedItem, 1, "item")
	t.count(Photographed, 1, "item")
	t.goods(Packing, materials.UseCareCard, of(measure.N(1, "card")))
	if s.Spec.Delivery.Ship {
		t.parcel()
	}
}

// parcel is the box the finished shield goes into, and what fills it.
func (t *taking) parcel() {
	t.count(Parcel, 1, "parcel")
	long, wide, deep := t.finished()
	box, ok := t.catalogue.Box(measure.FromMM(long), measure.FromMM(wide), measure.FromMM(deep))
	if !ok {
		t.Warnings = append(t.Warnings, "No box of the catalogue holds it: packing is not in the price. Add a larger box under Workshop.")
	} else {
		t.good(Packing, box, of(measure.N(1, "box")))
	}
	t.goods(Packing, materials.UseWrap, of(measure.F(t.usage.Wrap, "m a parcel")))
}

// finished is the size in mm that a box has to hold, longest side first.
func (t *taking) finished() (long, wide, deep float64) {
	s := t.shield
	gap := 2 * t.usage.BoxGap.MM()
	w, h := s.Box.Width()+2*s.Strip+gap, s.Box.Height()+2*s.Strip+gap
	deep = s.Total
	if s.Curve != nil {
		w, deep = s.Curve.Released.Chord+2*s.Strip+gap, s.Curve.Released.Depth
	}
	return math.Max(w, h), math.Min(w, h), deep + gap/2
}
