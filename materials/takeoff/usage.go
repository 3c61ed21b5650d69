package takeoff

import (
	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
)

// Usage is how much of a material one unit of work takes where it is not the liquid's own spread. All figures
// are common practice without a source, and the workshop's to edit.
type Usage struct {
	// Surface factors: how much thirstier than smooth skin a face is.
	Keyed, CutEdge        decimal.Decimal
	Textured              decimal.Decimal // a moulded face that is left as it is
	TexturedKey           decimal.Decimal // keying a face with moulded texture takes so much longer
	SeamCoats             decimal.Decimal // coats on the cut edges of a seam
	ToothFactor           decimal.Decimal // a locked seam is so much longer than a straight one
	JointShare            decimal.Decimal // of the perimeter that needs filler
	Bead                  decimal.Decimal // l of filler a metre of joint
	CoatedExtra           decimal.Decimal // both faces are coated a little over
	GrainedExtra          decimal.Decimal // opened grain drinks this share more on the back
	WaterShare            decimal.Decimal // of the first latex coat's mix
	PaintLeast            decimal.Decimal // l of any colour that is mixed at all
	DiscsKeyed            decimal.Decimal // a m² keyed; textured faces take twice as many
	DiscsEdge             decimal.Decimal // a metre of edge 30 mm high
	BeltsEdge             decimal.Decimal // a metre of edge 30 mm high
	BladeCut              decimal.Decimal // blades a metre of 10 mm foam
	BladeGroove           decimal.Decimal // blades a metre of groove, plank line or grain
	BurrGroove            decimal.Decimal // burrs a metre of rotary groove
	BrushGlue, BrushCoat  decimal.Decimal // brushes a m² of face-coat, of coat
	Gloves                decimal.Decimal // pairs an item
	TapeBrace, TapeMask   decimal.Decimal // m an item braced, a metre masked
	Talc                  decimal.Decimal // kg a m²
	StrapLength           decimal.Decimal // m a strap
	Rivets                decimal.Decimal // a strap
	RopeLength            decimal.Decimal // m a rope grip
	Wrap                  decimal.Decimal // m a parcel
	KnifeGap, SheetMargin measure.Length  // between pieces on a sheet, and to its edge
	BoxGap                measure.Length  // a box is so much longer, wider and deeper than what it holds, in all
	Divisor               decimal.Decimal // cm³ a carrier counts as one kg
	ParcelStep            decimal.Decimal // kg that chargeable weight is rounded up to
	LongestSide, Girth    measure.Length  // a carrier takes no longer side, and no more length and girth together
}

// UsualUsage is what a new workshop starts with.
func UsualUsage() Usage {
	d := decimal.RequireFromString
	return Usage{
		Keyed: d("1.35"), CutEdge: d("1.8"), Textured: d("1.5"), TexturedKey: d("2.2"), SeamCoats: d("2"), ToothFactor: d("1.5"),
		JointShare: d("0.3"), Bead: d("0.0075"), CoatedExtra: d("1.03"), GrainedExtra: d("0.3"), WaterShare: d("0.25"),
		PaintLeast: d("0.015"), DiscsKeyed: d("2"), DiscsEdge: d("0.7"), BeltsEdge: d("0.25"), BladeCut: d("0.0625"), BladeGroove: d("0.0833"),
		BurrGroove: d("0.05"), BrushGlue: d("0.3333"), BrushCoat: d("0.5"), Gloves: d("2"), TapeBrace: d("2"), TapeMask: d("1.1"),
		Talc: d("0.010"), StrapLength: d("0.6"), Rivets: d("4"), RopeLength: d("1.2"), Wrap: d("3"),
		KnifeGap: 3 * measure.Millimetre, BoxGap: 40 * measure.Millimetre,
		Divisor: d("5000"), ParcelStep: d("0.5"), LongestSide: 1750 * measure.Millimetre, Girth: 3000 * measure.Millimetre,
	}
}
