package takeoff

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
)

// Parcel is what a carrier sees: they charge by weight or by size, whichever is more.
type Parcel struct {
	Long, Wide, Deep measure.Length  // outside, longest side first
	Mass             decimal.Decimal // kg, packed
	Volumetric       decimal.Decimal // kg by size: cm³ over the carrier's divisor
	Chargeable       decimal.Decimal // kg, the larger, rounded up to the carrier's step
}

// parcel is the box the finished prop goes into, and what fills it.
func (t *taking) parcel() {
	t.count(Parcels, 1, "parcel")
	long, wide, deep := t.finished()
	t.Parcel = &Parcel{Long: long, Wide: wide, Deep: deep}
	if box, ok := t.catalogue.Box(long, wide, deep); ok {
		t.good(Packing, box, of(measure.N(1, "box")))
		t.Parcel.Long, t.Parcel.Wide, t.Parcel.Deep = box.Holds[0], box.Holds[1], box.Holds[2]
	} else {
		t.Warnings = append(t.Warnings, "No box of the catalogue holds it: the box is not in the price. Add a larger one under Workshop.")
	}
	t.goods(Packing, materials.UseWrap, of(measure.F(t.usage.Wrap, "m a parcel")))
}

// weigh works out what a carrier charges for, once everything in the parcel is known, and says where a carrier may
// refuse it. Limits seen at carriers; common practice, no source.
func (t *taking) weigh() {
	p, u := t.Parcel, t.usage
	if p == nil || !u.Divisor.IsPositive() || !u.ParcelStep.IsPositive() {
		return
	}
	p.Mass = t.Mass.Add(t.packing.Quantity().Value)
	cm := func(l measure.Length) decimal.Decimal { return l.Decimal().Shift(-1) }
	p.Volumetric = cm(p.Long).Mul(cm(p.Wide)).Mul(cm(p.Deep)).DivRound(u.Divisor, 3)
	p.Chargeable = decimal.Max(p.Mass, p.Volumetric).Div(u.ParcelStep).RoundCeil(0).Mul(u.ParcelStep)
	if u.LongestSide > 0 && p.Long > u.LongestSide {
		t.Warnings = append(t.Warnings, fmt.Sprintf("The parcel is %.0f cm long; many carriers take no more than %.0f.", p.Long.MM()/10, u.LongestSide.MM()/10))
	}
	if round := p.Long + 2*(p.Wide+p.Deep); u.Girth > 0 && round > u.Girth {
		t.Warnings = append(t.Warnings, fmt.Sprintf("Length and girth of the parcel are %.0f cm together; many carriers take no more than %.0f.", round.MM()/10, u.Girth.MM()/10))
	}
}

// finished is the size that a box has to hold, longest side first.
func (t *taking) finished() (long, wide, deep measure.Length) {
	s := t.shield
	gap := t.usage.BoxGap.MM()
	w, h := s.Box.Width()+2*s.Strip, s.Box.Height()+2*s.Strip
	thick := s.Total
	if s.Curve != nil {
		w, thick = s.Curve.Released.Chord+2*s.Strip, s.Curve.Released.Depth
	}
	if !s.Made() {
		for _, part := range s.Free { // as if the parts were packed flat on each other
			b := part.Region.Bounds()
			w, h = math.Max(w, b.Width()), math.Max(h, b.Height())
			thick += part.Foam.Thickness.MM() * float64(part.Layers*part.Count)
		}
	}
	return measure.FromMM(math.Max(w, h) + gap), measure.FromMM(math.Min(w, h) + gap), measure.FromMM(thick + gap)
}
