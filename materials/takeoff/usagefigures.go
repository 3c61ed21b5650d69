package takeoff

import (
	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
)

// Figures are all of it, in the order of making, to be read and written. No range has a published source: beyond it lies
// a slip of the hand.
func (u *Usage) Figures() []materials.Figure {
	n := func(name, group, what, unit string, of *decimal.Decimal, least, most float64) materials.Figure {
		return materials.Figure{Name: name, Group: group, What: what, Unit: unit, Number: of, Least: least, Most: most}
	}
	l := func(name, group, what string, of *measure.Length, least, most float64) materials.Figure {
		return materials.Figure{Name: name, Group: group, What: what, Length: of, Least: least, Most: most}
	}
	const faces, wear, fittings, cutting, parcels = "Faces, seams and coats", "What wears out", "Fittings and sundries", "Cutting", "Parcels"
	return []materials.Figure{
		n("keyed", faces, "A keyed face drinks, of smooth skin", "times", &u.Keyed, 1, 5),
		n("cut_edge", faces, "A cut edge drinks, of smooth skin", "times", &u.CutEdge, 1, 5),
		n("textured", faces, "A face moulded with texture drinks", "times", &u.Textured, 1, 5),
		n("textured_key", faces, "Keying it takes as long", "times", &u.TexturedKey, 1, 5),
		n("seam_coats", faces, "Glue on the edges of a seam", "coats", &u.SeamCoats, 0, 6),
		n("tooth_factor", faces, "A locked seam is longer than a straight one", "times", &u.ToothFactor, 1, 5),
		n("joint_share", faces, "Of the edge needs filler", "of 1", &u.JointShare, 0, 1),
		n("bead", faces, "Filler for a metre of joint", "l", &u.Bead, 0, 1),
		n("coated_extra", faces, "Coats take, of the area of the face", "times", &u.CoatedExtra, 1, 2),
		n("grained_extra", faces, "Opened grain drinks more", "of 1", &u.GrainedExtra, 0, 2),
		n("water_share", faces, "Water in the first coat of latex", "of 1", &u.WaterShare, 0, 1),
		n("paint_least", faces, "Of any colour that is mixed at least", "l", &u.PaintLeast, 0, 1),
		n("discs_keyed", wear, "Discs for a m² keyed", "pieces", &u.DiscsKeyed, 0, 50),
		n("discs_edge", wear, "Discs for a metre of edge", "pieces", &u.DiscsEdge, 0, 50),
		n("belts_edge", wear, "Belts for a metre of edge", "pieces", &u.BeltsEdge, 0, 50),
		n("blade_cut", wear, "Blades for a metre of 10 mm foam", "pieces", &u.BladeCut, 0, 10),
		n("blade_groove", wear, "Blades for a metre of groove or plank line", "pieces", &u.BladeGroove, 0, 10),
		n("burr_groove", wear, "Burrs for a metre of groove with a rotary tool", "pieces", &u.BurrGroove, 0, 10),
		n("brush_glue", wear, "Brushes for a m² of glue", "pieces", &u.BrushGlue, 0, 20),
		n("brush_coat", wear, "Brushes for a m² of a coat", "pieces", &u.BrushCoat, 0, 20),
		n("gloves", wear, "Gloves for an item", "pairs", &u.Gloves, 0, 50),
		n("tape_brace", fittings, "Tape to brace an item", "m", &u.TapeBrace, 0, 100),
		n("tape_mask", fittings, "Tape for a metre masked", "m", &u.TapeMask, 1, 5),
		n("talc", fittings, "Talc for a m² of latex", "kg", &u.Talc, 0, 1),
		n("strap_length", fittings, "Webbing for a strap", "m", &u.StrapLength, 0.1, 5),
		n("rivets", fittings, "Rivets for a strap", "pieces", &u.Rivets, 0, 50),
		n("rope_length", fittings, "Rope for a grip", "m", &u.RopeLength, 0.1, 10),
		l("knife_gap", cutting, "Knife gap between pieces on a sheet", &u.KnifeGap, 0, 50),
		l("sheet_margin", cutting, "Left at the edge of a sheet", &u.SheetMargin, 0, 100),
		n("wrap", parcels, "Wrap for a parcel", "m", &u.Wrap, 0, 100),
		l("box_gap", parcels, "A box is larger than what it holds, in all", &u.BoxGap, 0, 500),
		n("divisor", parcels, "A carrier counts as one kg", "cm³", &u.Divisor, 1000, 20_000),
		n("parcel_step", parcels, "and rounds up to a multiple of", "kg", &u.ParcelStep, 0.01, 50),
		l("longest_side", parcels, "takes no longer side than", &u.LongestSide, 200, 10_000),
		l("girth", parcels, "and no more length and girth than", &u.Girth, 400, 20_000),
	}
}

// Check is nil when materials can be reckoned with the figures, else a fault with everything that is wrong.
func (u Usage) Check() error { return materials.CheckFigures(u.Figures()) }
