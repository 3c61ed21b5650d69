package takeoff

import (
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// round takes a ratio over the boundary with four places.
func (t *taking) round(x float64) decimal.Decimal { return measure.Of(x, measure.Ratio).Value }

// glue adds up every bonded face, each with how thirsty it is: both faces of every bond get adhesive.
func (t *taking) glue() {
	s, u := t.shield, t.usage
	keyed, cut := measure.F(u.Keyed, "keyed"), measure.F(u.CutEdge, "cut edge")
	both := measure.N(2, "faces")
	f := measure.Formula{}
	t.layerFaces(&f)
	if s.Rim != nil {
		f.Add(area(s.Rim.Area, "rim"), both, t.drinks(s.Spec.Rim.Prep))
	}
	if s.Spec.Edge != nil {
		wide := s.Total + s.Bench.StripAllowance.MM()
		f.Add(area(s.Perimeter*s.Total, "edge"), cut)
		f.Add(area(s.Perimeter*wide, "edge strip"), t.drinks(s.Spec.Edge.Prep))
	}
	for _, r := range raised(s) {
		joints := r.Layers
		if r.Loose {
			joints--
		}
		f.Add(area(r.Area, r.Name), measure.N(max(r.Count, 1), "of them"), measure.N(joints, "layers"), both, t.drinks(r.Prep))
	}
	if s.Cover != nil {
		f.Add(area(s.Cover.Area, "cover strip"), both, keyed)
	}
	f.Add(area(s.Grip.Bond, "grip"), both, keyed)
	seams := &f
	other, named := t.catalogue.LiquidOf(s.Spec.Core.JointGlue)
	if named {
		seams = &measure.Formula{}
	}
	seam := measure.F(s.CoreFoam.Thickness.Decimal().Shift(-3), "m")
	seams.Add(length(s.Seams.Glued, "seams"), seam, both, measure.F(u.SeamCoats, "coats"), cut)
	seams.Add(length(s.Seams.Locked, "locked seams"), seam, measure.F(u.ToothFactor, "teeth"), both, measure.F(u.SeamCoats, "coats"), cut)
	if named && !seams.Empty() {
		litres := t.pour(Adhesive, other, *seams, spread(other))
		t.mass.Add(measure.F(litres, "l adhesive"), measure.F(other.Density, "kg/l"), measure.F(other.Solids, "stays"))
	}
	glue, litres := t.liquid(Adhesive, materials.UseAdhesive, f, func(l materials.Liquid) []measure.Factor {
		return p(measure.F(l.Spread, "l/m²"))
	})
	t.mass.Add(measure.F(litres, "l adhesive"), measure.F(glue.Density, "kg/l"), measure.F(glue.Solids, "stays"))
	brushes := measure.Formula{}
	brushes.Add(area(s.Area, "layer"), measure.N(2*(s.Spec.Core.Layers-1), "faces"), measure.F(u.BrushGlue, "brushes a m²"))
	t.goods(Hardware, materials.UseBrush, brushes)
	t.goods(Hardware, materials.UseGloves, of(measure.F(u.Gloves, "pairs")))
}

// drinks is how thirsty the faces of a glued part are, by how they were made ready.
func (t *taking) drinks(prep string) measure.Factor {
	switch prep {
	case "smooth":
		return measure.N(1, "smooth")
	case "flat":
		return measure.F(t.usage.Keyed, "sanded flat")
	}
	return measure.F(t.usage.Keyed, "keyed")
}

// layerFaces adds the bonded faces of the layers, by how they were prepared.
func (t *taking) layerFaces(f *measure.Formula) {
	s, u := t.shield, t.usage
	all, textured := faces(s)
	layer := area(s.Area, "layer")
	switch s.Spec.Core.Prep {
	case "smooth":
		f.Add(layer, measure.N(all-textured, "faces"))
		f.Add(layer, measure.N(textured, "faces"), measure.F(u.Textured, "textured"))
	case "flat":
		f.Add(layer, measure.N(all-textured, "faces"))
		f.Add(layer, measure.N(textured, "faces"), measure.F(u.Keyed, "sanded flat"))
	default:
		f.Add(layer, measure.N(all, "faces"), measure.F(u.Keyed, "keyed"))
	}
}

// raised is everything glued on: pieces, gems and free parts.
func raised(s shield.Shield) []shield.Placed {
	return slices.Concat(s.Pieces, s.Gems, s.Free)
}

// edges counts rim, edge and strip work, and the filler.
func (t *taking) edges() {
	s := t.shield
	edge := length(s.Perimeter, "edge")
	if s.Rim != nil {
		t.drive(RimM, measure.RunMetre, p(length(s.Rim.Outer, "rim")))
		t.count(RimJoint, s.Rim.Joints, "joints")
	}
	t.drive(EdgeM, measure.RunMetre, p(edge))
	if s.Spec.Core.Layers > 1 || s.Rim != nil {
		t.drive(CheckedEdgeM, measure.RunMetre, p(edge, measure.N(2, "times")))
	}
	t.drive(EdgeHeight, measure.Ratio, p(measure.F(t.round(s.Total/30), "of 30 mm")))
	t.drive(EdgeHeightLeast, measure.Ratio, p(measure.F(t.round(math.Max(s.Total/30, 0.7)), "of 30 mm")))
	if s.Spec.Edge != nil {
		t.drive(StripM, measure.RunMetre, p(edge))
		t.drive(StripEdgeM, measure.RunMetre, p(edge, measure.N(2, "sides")))
		if s.Spec.Edge.Corners == "met" {
			t.count(StripCorner, s.Corners, "corners")
		}
	}
	joints := [][]measure.Factor{
		p(edge, measure.F(t.usage.JointShare, "of the edge")),
		p(length(s.Seams.Glued+s.Seams.Locked, "seams")),
	}
	if s.Spec.Core.Layers < 2 {
		joints = joints[1:]
	}
	t.drive(JointM, measure.RunMetre, joints...)
	f := measure.Formula{}
	for _, j := range joints {
		f.Add(j...)
	}
	t.fill(f, joints)
}

// fill is the filler in the joints: which one, how long it waits, and whether it is sanded back.
func (t *taking) fill(f measure.Formula, joints [][]measure.Factor) {
	if f.Empty() {
		return
	}
	filler, ok := t.catalogue.LiquidOf(t.shield.Spec.Filler)
	if !ok {
		if filler, ok = t.catalogue.Liquid(materials.UseFiller); !ok {
			t.lacks(string(materials.UseFiller))
		}
	}
	if !filler.Unsanded {
		t.drive(SandedM, measure.RunMetre, joints...)
	}
	if !ok {
		return
	}
	t.drive(FillerHours, measure.Ratio, p(measure.F(filler.DryHours, "h")))
	switch sets := filler.Sets; {
	case sets != "":
		t.drive(FillerHours.By(sets), measure.Ratio, p(measure.N(1, "so it sets")))
	case filler.Unsanded: // from an older list; what cannot be sanded is no water-borne filler
		t.drive(FillerHours.By(materials.ByWarmth), measure.Ratio, p(measure.N(1, "so it sets")))
	}
	litres := t.pour(Coats, filler, f, p(measure.F(t.usage.Bead, "l/m bead")))
	t.mass.Add(measure.F(litres, "l filler"), measure.F(filler.Density, "kg/l"), measure.F(filler.Solids, "stays"))
}
