package takeoff

import (
	"math"

	"foamwright/materials"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

// design is the paper work: brief, drawing, template, former.
func (t *taking) design() {
	s := t.shield
	t.count(Job, 1, "job")
	t.count(ComplexityPoint, s.Spec.Complexity, "points")
	t.count(DetailPoint, s.Spec.Complexity, "points")
	if s.Spec.FirstTime {
		t.count(FirstTime, 1, "first time")
	}
	switch {
	case s.FormerStands:
		t.count(FormerStands, 1, "former")
	case s.Curve != nil:
		t.count(Former, 1, "former")
	}
	if s.Spec.Outline.Template == "have" {
		return
	}
	// Every distinct outline once, however often it is cut.
	outlines := [][]measure.Factor{p(length(s.Perimeter, "outline"))}
	for _, part := range s.Free {
		outlines = append(outlines, p(length(part.Perimeter, part.Name)))
	}
	if s.Rim != nil {
		outlines = append(outlines, p(length(s.Rim.Inner, "inside of rim")))
	}
	if s.Cover != nil {
		outlines = append(outlines, p(length(s.Cover.Inner, "inside of cover strip")))
	}
	for _, piece := range t.drawnPieces() {
		outlines = append(outlines, p(length(piece.Perimeter, piece.Name)))
	}
	t.drive(TemplateM, measure.RunMetre, outlines...)
	if s.Spec.Outline.Shape == shield.Path && !symmetric(s.Flat) { // every other shape is its own mirror image
		t.drive(TemplateFactor, measure.Ratio, p(measure.F(d("1.5"), "halves differ")))
	}
	t.shared(materials.UseCard, of(measure.M(s.Box.Width()*s.Box.Height()/1e6, measure.SquareMetre, "card")), 1)
}

// drawnPieces are the pieces as drawn: one of all its copies and mirror images.
func (t *taking) drawnPieces() (drawn []shield.Placed) {
	first := 0
	for _, p := range t.shield.Spec.Pieces {
		drawn = append(drawn, t.shield.Pieces[first])
		if first += p.Count; p.Mirror {
			first += p.Count
		}
	}
	return drawn
}

// symmetric tells whether an outline is its own mirror image about the middle, within a thousandth.
func symmetric(r geom.Region) bool {
	b := r.Bounds()
	mirrored := r.Transform(geom.MirrorX().Then(geom.Translate(b.Min.X+b.Max.X, 0)))
	common, err := r.Intersect(mirrored)
	return err == nil && common.Area() > 0.999*r.Area()
}

// cutting counts pieces, cuts, teeth and seams.
func (t *taking) cutting() {
	s := t.shield
	n := 0
	for _, part := range s.Parts {
		n += part.Count
	}
	t.count(CutPieces, n, "pieces")
	// Thin foam cuts quicker, but never quicker than six tenths of 10 mm foam. Common practice, no source.
	thick := measure.F(t.round(math.Max(s.CoreFoam.Thickness.MM()/10, 0.6)), "thickness")
	layers := measure.N(s.Spec.Core.Layers, "layers")
	seamSides := p(length(s.Seams.Glued, "seams"), measure.N(2, "sides"), thick)
	t.drive(CutM, measure.RunMetre, p(length(s.Perimeter, "outline"), layers, thick), seamSides)
	if s.CoreFoam.Form == materials.Mat {
		t.drive(TeethM, measure.RunMetre, p(length(s.Seams.Glued, "seams"), measure.N(2, "sides")))
	}
	t.drive(GluedSeamM, measure.RunMetre, p(length(s.Seams.Glued, "seams")))
	t.drive(LockedSeamM, measure.RunMetre, p(length(s.Seams.Locked, "seams")))
	var marked [][]measure.Factor
	for _, piece := range s.Pieces {
		marked = append(marked, p(length(piece.Perimeter, piece.Name)))
	}
	marked = append(marked, p(length(s.PlankLine, "planks")))
	t.drive(MarkedM, measure.RunMetre, marked...)
	t.blades()
}

// blades are worn by every cut, as the foam is thick, and by every line that is carved with the knife.
func (t *taking) blades() {
	s, blades := t.shield, measure.Formula{}
	var order []string
	cuts := map[string]float64{}
	for _, part := range s.Parts {
		if cuts[part.Foam] == 0 {
			order = append(order, part.Foam)
		}
		cuts[part.Foam] += part.CutLength * float64(part.Count)
	}
	for _, code := range order {
		if f, ok := t.catalogue.Foam(code); ok {
			blades.Add(length(cuts[code], "of "+f.Name), measure.F(t.round(f.Thickness.MM()/10), "of 10 mm"), measure.F(t.usage.BladeCut, "blades a metre"))
		}
	}
	groove := measure.F(t.usage.BladeGroove, "blades a metre")
	for _, g := range s.Grooves {
		if g.Tool == "knife" {
			blades.Add(length(g.Length, "groove"), measure.N(g.Passes, "passes"), groove)
		}
	}
	if s.Spec.Back.Tool != "rotary" {
		blades.Add(length(s.PlankLine, "planks"), groove)
	}
	blades.Add(length(s.GrainLine(), "grain"), groove, measure.F(d("0.1"), "shallow"))
	t.goods(Hardware, materials.UseBlade, blades)
}

// laminate counts faces keyed, spread and bonded, and how the stack is held meanwhile.
func (t *taking) laminate() {
	s := t.shield
	n := s.Spec.Core.Layers
	if n < 2 {
		t.drive(KeyedM2, measure.SquareMetre, t.flattened(measure.F(t.usage.TexturedKey, "texture"))...)
		return
	}
	faces, textured := faces(s)
	layer := area(s.Area, "layer")
	t.drive(KeyedM2, measure.SquareMetre, append(t.keying(layer, faces, textured), t.flattened(measure.F(t.usage.TexturedKey, "texture"))...)...)
	t.drive(FaceCoatM2, measure.SquareMetre, p(layer, measure.N(faces, "faces")))
	t.drive(BondM2, measure.SquareMetre, p(layer, measure.N(n-1, "joints")))
	t.count(Bonds, n-1, "bonds")
	// Two people above 0.35 m² or 800 mm. Common practice, no source.
	if s.Area > 0.35e6 || math.Max(s.Box.Width(), s.Box.Height()) > 800 {
		t.count(LayUpPeople, 2, "people")
	}
	if s.Curve != nil {
		t.count(BracedItem, 1, "item")
		t.goods(Hardware, materials.UseTape, of(measure.F(t.usage.TapeBrace, "m brace")))
	} else {
		t.count(PressedItem, 1, "item")
	}
}

// discs are what the keyed faces and rounding the edge wear, belts what levelling it wears.
func (t *taking) discs() {
	s := t.shield
	faces, textured := faces(s)
	layer := area(s.Area, "layer")
	discs := measure.Formula{}
	if s.Spec.Core.Prep == "" || s.Spec.Core.Prep == "keyed" {
		discs.Add(layer, measure.N(faces-textured, "faces"), measure.F(t.usage.DiscsKeyed, "discs a m²"))
	}
	if s.Spec.Core.Prep != "smooth" {
		discs.Add(layer, measure.N(textured, "textured faces"), measure.F(t.usage.DiscsKeyed, "discs a m²"), measure.N(2, "texture"))
	}
	for _, flat := range t.flattened(measure.F(t.usage.DiscsKeyed, "discs a m²"), measure.N(2, "texture")) {
		discs.Add(flat...)
	}
	discs.Add(length(s.Perimeter, "edge"), measure.F(t.usage.DiscsEdge, "discs a metre"), measure.F(t.round(s.Total/30), "edge height"))
	t.goods(Hardware, materials.UseDisc, discs)
	if s.Made() {
		t.goods(Hardware, materials.UseBelt, of(length(s.Perimeter, "edge"), measure.F(t.usage.BeltsEdge, "belts a metre"), measure.F(t.round(s.Total/30), "edge height")))
	}
}

// flattened is every glued part whose moulded texture is taken off, as an area times the factors given: one face of
// each of its layers. Layers of the core are counted by keying.
func (t *taking) flattened(by ...measure.Factor) (products [][]measure.Factor) {
	s := t.shield
	add := func(prep string, f materials.Foam, factors ...measure.Factor) {
		if prep == "flat" && f.Textured {
			products = append(products, append(factors, by...))
		}
	}
	if s.Rim != nil {
		add(s.Spec.Rim.Prep, s.Rim.Foam, area(s.Rim.Area, "rim"))
	}
	if e := s.Spec.Edge; e != nil {
		if f, ok := t.catalogue.Foam(e.Foam); ok {
			add(e.Prep, f, area(s.Perimeter*(s.Total+s.Bench.StripAllowance.MM()), "edge strip"))
		}
	}
	for _, r := range raised(s) {
		add(r.Prep, r.Foam, area(r.Area, r.Name), measure.N(max(r.Count, 1), "of them"), measure.N(r.Layers, "layers"))
	}
	return products
}

// faces are the bonded faces of the layers, and how many of them carry a moulded texture: with smooth faces
// outside, every mat has its texture in a joint.
func faces(s shield.Shield) (all, textured int) {
	n := s.Spec.Core.Layers
	if n < 2 {
		return 0, 0
	}
	all = 2 * (n - 1)
	if s.CoreFoam.Textured {
		textured = min(n, all)
	}
	return all, textured
}

// keying is the area of faces that are worked before gluing: all of them when keyed, only the moulded texture when
// it is taken off flat, none when smooth faces are glued as they are.
func (t *taking) keying(layer measure.Factor, faces, textured int) [][]measure.Factor {
	texture := p(layer, measure.N(textured, "textured faces"), measure.F(t.usage.TexturedKey, "texture"))
	switch t.shield.Spec.Core.Prep {
	case "smooth":
		return nil
	case "flat":
		return [][]measure.Factor{texture}
	}
	return [][]measure.Factor{p(layer, measure.N(faces-textured, "faces")), texture}
}

// foamMass adds the weight of the foam parts.
func (t *taking) foamMass() {
	for _, part := range t.shield.Parts {
		f, ok := t.catalogue.Foam(part.Foam)
		if !ok {
			continue
		}
		t.mass.Add(area(part.Net, string(part.Kind)), measure.N(part.Count, "pieces"),
			measure.F(f.Thickness.Decimal().Shift(-3), "m"), measure.F(f.Density, "kg/m³"))
	}
}
