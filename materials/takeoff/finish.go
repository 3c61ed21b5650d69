package takeoff

import (
	"github.com/shopspring/decimal"

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
	n := len(s.Pieces)
	for _, part := range s.Free {
		outlines = append(outlines, p(length(part.Perimeter, part.Name), measure.N(part.Count, "of them"), measure.N(part.Layers, "layers")))
		n += part.Count
	}
	t.drive(PieceOutlineM, measure.RunMetre, outlines...)
	t.count(RaisedPiece, n, "pieces")
	var gems [][]measure.Factor
	for _, g := range s.Spec.Gems {
		one := p(measure.N(g.Count, "gems"))
		if g.Faceted {
			one = append(one, measure.F(d("1.6"), "faceted")) // common practice, no source
		}
		gems = append(gems, one)
	}
	t.drive(GemCount, measure.Ratio, gems...)
	t.count(StudCount, s.Spec.Studs, "studs")
	grooves := map[string][][]measure.Factor{}
	for _, g := range s.Grooves {
		one := p(length(g.Length, "groove"), measure.N(g.Passes, "passes"))
		if g.Knots {
			one = append(one, measure.F(d("1.5"), "knotwork")) // common practice, no source
		}
		grooves[g.Tool] = append(grooves[g.Tool], one)
	}
	t.drive(RotaryM, measure.RunMetre, grooves["rotary"]...)
	t.drive(KnifeM, measure.RunMetre, grooves["knife"]...)
	t.drive(HeatedGrooveM, measure.RunMetre, grooves["knife"]...)
	burrs := measure.Formula{}
	for _, g := range grooves["rotary"] {
		burrs.Add(append(g, measure.F(t.usage.BurrGroove, "burrs a metre"))...)
	}
	if s.Spec.Back.Tool == "rotary" {
		burrs.Add(length(s.PlankLine, "planks"), measure.F(t.usage.BurrGroove, "burrs a metre"))
	}
	t.goods(Hardware, materials.UseBurr, burrs)
}

// backAndGrip counts the back's lines and everything it is held by.
func (t *taking) backAndGrip() {
	s, u := t.shield, t.usage
	planks := p(length(s.PlankLine, "planks"))
	if s.Spec.Back.Tool == "rotary" {
		planks = append(planks, measure.N(2, "by rotary tool")) // twice as slow: common practice, no source
	}
	t.drive(PlankM, measure.RunMetre, planks)
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
	t.count(GripStack, g.Stacks, "stacks")
	t.count(TaperedLayer, g.Tapered, "layers")
	t.count(GripBar, g.Bars, "bars")
	t.count(RopeGrip, g.Ropes, "ropes")
	t.count(Channel, g.Channels, "channels")
	t.count(StrapCount, g.Straps, "straps")
	t.count(ThumbGuard, g.ThumbGuards, "guards")
	t.count(AdjustableStrap, g.Adjustable, "straps")
	t.goods(Hardware, materials.UseStrap, of(measure.N(g.Straps, "straps"), measure.F(u.StrapLength, "m")))
	t.goods(Hardware, materials.UseRivet, of(measure.N(g.Straps, "straps"), measure.F(u.Rivets, "rivets")))
	if bar, ok := t.catalogue.GoodOf(s.Spec.Grip.Bar); ok && g.Bars > 0 {
		t.good(Hardware, bar, of(measure.N(g.Bars, "bars")))
	} else {
		t.goods(Hardware, materials.UseBar, of(measure.N(g.Bars, "bars")))
	}
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
	if !s.Made() {
		for _, r := range s.Free { // nothing lies under them: both faces and the walls
			skin = append(skin, p(area(2*r.Area+r.Perimeter*r.Foam.Thickness.MM()*float64(r.Layers), r.Name), measure.N(r.Count, "of them")))
		}
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
	if skin.Value.IsZero() { // a repair without new parts
		return
	}
	brushes := of(skin, measure.N(coats, "coats"), measure.F(u.BrushCoat, "brushes a m²"))
	t.goods(Hardware, materials.UseBrush, brushes)
	if s.Spec.Coat.System == "primer" {
		t.drive(PrimerCoatM2, measure.SquareMetre, p(skin, measure.N(coats, "coats")))
		t.count(PrimerCoats, coats, "coats")
		l, litres := t.liquid(Coats, materials.UsePrimer, of(skin, measure.N(coats, "coats")), spread)
		t.DryFilm = l.Dry(l.Spread.Mul(decimal.NewFromInt(int64(coats))))
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
	neat := latex.FirstSpread.Mul(one.Sub(u.WaterShare)).Add(latex.Spread.Mul(decimal.NewFromInt(int64(coats - 1))))
	t.DryFilm = latex.Dry(neat)
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
	if n := s.Spec.ClearCoats; n > 0 && !skin.Value.IsZero() {
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
