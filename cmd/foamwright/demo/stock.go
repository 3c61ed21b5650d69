package demo

import (
	"fmt"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/pricing"
)

// shelf gathers items and their prices as they are listed.
type shelf struct {
	catalogue materials.Catalogue
	prices    []pricing.Price
}

func (s *shelf) price(item, amount, pack string, unit measure.Unit) {
	s.prices = append(s.prices, pricing.Price{Item: item, Amount: d(amount), Pack: d(pack), Unit: unit})
}

// foam lists a foam by its measures in mm.
func (s *shelf) foam(code, name string, form materials.Form, thick, width, height, pitch measure.Length, density, price string) {
	mm := measure.Millimetre
	s.catalogue.Foams = append(s.catalogue.Foams, materials.Foam{
		Code: code, Name: name, Form: form, Thickness: thick * mm, Width: width * mm, Height: height * mm,
		Pitch: pitch * mm, Density: d(density), Textured: form == materials.Mat,
	})
	s.price(code, price, "1", measure.Each)
}

func (s *shelf) liquid(l materials.Liquid, price, pack string) {
	s.catalogue.Liquids = append(s.catalogue.Liquids, l)
	s.price(l.Code, price, pack, measure.Litre)
}

func (s *shelf) colour(name, swatch string) {
	s.liquid(materials.Liquid{
		Code: "colour-" + name, Name: "Acrylic colour, " + name, Use: materials.UseColour, Colour: name, Swatch: swatch,
		Density: d("1.25"), Solids: d("0.50"), Spread: d("0.10"), Loss: d("0.20"),
	}, "11.00", "0.5")
}

func (s *shelf) metallic(name, swatch string) {
	s.liquid(materials.Liquid{
		Code: "metallic-" + name, Name: "Metallic acrylic, copper-free, " + name, Use: materials.UseMetallic, Colour: name, Swatch: swatch,
		Density: d("1.2"), Solids: d("0.45"), Spread: d("0.12"), Loss: d("0.20"),
	}, "17.00", "0.5")
}

func (s *shelf) good(code, name string, use materials.Use, unit measure.Unit, mass, price string) {
	s.catalogue.Goods = append(s.catalogue.Goods, materials.Good{Code: code, Name: name, Use: use, Unit: unit, Mass: d(mass)})
	s.price(code, price, "1", unit)
}

// box lists a box by its inside measures in cm.
func (s *shelf) box(long, wide, deep measure.Length, price string) {
	cm := measure.Centimetre
	code := fmt.Sprintf("box-%d", long)
	s.catalogue.Goods = append(s.catalogue.Goods, materials.Good{
		Code: code, Name: fmt.Sprintf("Box %d × %d × %d cm", long, wide, deep), Use: materials.UseBox, Unit: measure.Each,
		Holds: [3]measure.Length{long * cm, wide * cm, deep * cm},
	})
	s.price(code, price, "1", measure.Each)
}

// stock is the catalogue with its price list: sizes, spreads and losses are the trade's common practice, prices
// are invented.
func stock() (materials.Catalogue, []pricing.Price) {
	var s shelf
	s.foam("mat-10", "Mat 10 mm", materials.Mat, 10, 550, 550, 550, "90", "3.60")
	s.foam("mat-12", "Mat 12 mm", materials.Mat, 12, 600, 600, 600, "100", "4.20")
	s.foam("sheet-2", "Sheet 2 mm", materials.Sheet, 2, 1000, 2000, 0, "100", "12.00")
	s.foam("sheet-3", "Sheet 3 mm", materials.Sheet, 3, 1000, 2000, 0, "100", "15.00")
	s.foam("sheet-5", "Sheet 5 mm", materials.Sheet, 5, 1000, 2000, 0, "100", "22.00")
	s.foam("sheet-10", "Sheet 10 mm", materials.Sheet, 10, 1000, 2000, 0, "100", "38.00")
	s.foam("half-2", "Half sheet 2 mm", materials.Sheet, 2, 1000, 500, 0, "100", "3.60")
	s.foam("half-3", "Half sheet 3 mm", materials.Sheet, 3, 1000, 500, 0, "100", "4.50")
	s.foam("half-5", "Half sheet 5 mm", materials.Sheet, 5, 1000, 500, 0, "100", "6.60")
	s.foam("light-10", "Light sheet 10 mm", materials.Sheet, 10, 1000, 2000, 0, "60", "27.00")

	s.liquid(materials.Liquid{Code: "contact", Name: "Contact adhesive", Use: materials.UseAdhesive, Density: d("0.83"), Solids: d("0.25"), Spread: d("0.18"), Loss: d("0.15"), Flags: []materials.Flag{materials.Solvent}}, "62.00", "5")
	s.liquid(materials.Liquid{Code: "filler", Name: "Acrylic filler", Use: materials.UseFiller, Density: d("1.6"), Solids: d("0.85"), Loss: d("0.20")}, "3.80", "0.3")
	s.liquid(materials.Liquid{Code: "latex", Name: "Latex, pre-vulcanised", Use: materials.UseLatex, Density: d("0.95"), Solids: d("0.62"), Spread: d("0.13"), FirstSpread: d("0.20"), Loss: d("0.12"), Flags: []materials.Flag{materials.Rubber}}, "58.00", "5")
	s.liquid(materials.Liquid{Code: "primer", Name: "Flexible primer", Use: materials.UsePrimer, Density: d("1.05"), Solids: d("0.40"), Spread: d("0.12"), Loss: d("0.10")}, "24.00", "1")
	s.liquid(materials.Liquid{Code: "water", Name: "Distilled water", Use: materials.UseWater, Density: d("1")}, "3.00", "5")
	s.liquid(materials.Liquid{Code: "clear", Name: "Flexible clear coat", Use: materials.UseClear, Density: d("1.03"), Solids: d("0.35"), Spread: d("0.09"), Loss: d("0.10")}, "29.00", "1")
	for _, c := range [][2]string{
		{"black", "#26282b"}, {"white", "#efeade"}, {"deep blue", "#2f4f6b"}, {"madder red", "#8f3b34"}, {"moss green", "#4c6b4f"},
		{"ochre", "#c08f3f"}, {"oak brown", "#6f5138"}, {"slate grey", "#6d747a"}, {"leaf green", "#2f7d55"},
	} {
		s.colour(c[0], c[1])
	}
	s.metallic("steel", "#a2a8ad")
	s.metallic("old gold", "#b9924a")

	s.good("webbing-40", "Webbing 40 mm", materials.UseStrap, measure.RunMetre, "0.045", "0.64")
	s.good("bar", "Grip bar, wood 28 mm", materials.UseBar, measure.Each, "0.09", "0.60")
	s.good("rope-10", "Rope 10 mm", materials.UseRope, measure.RunMetre, "0.06", "1.10")
	s.good("rivet", "Rivet, soft head", materials.UseRivet, measure.Each, "0.002", "0.12")
	s.good("disc-80", "Sanding disc, 80 grit", materials.UseDisc, measure.Each, "0", "0.35")
	s.good("blade", "Snap blade", materials.UseBlade, measure.Each, "0", "0.25")
	s.good("burr", "Rotary burr", materials.UseBurr, measure.Each, "0", "4.00")
	s.good("brush-50", "Brush 50 mm", materials.UseBrush, measure.Each, "0", "1.80")
	s.good("gloves", "Gloves, pair", materials.UseGloves, measure.Each, "0", "0.12")
	s.good("cup", "Mixing cup", materials.UseCup, measure.Each, "0", "0.10")
	s.good("tape", "Masking tape", materials.UseTape, measure.RunMetre, "0", "0.06")
	s.good("card", "Template card", materials.UseCard, measure.SquareMetre, "0", "1.20")
	s.good("talc", "Talc", materials.UseTalc, measure.Kilogram, "0", "8.00")
	s.good("wrap", "Bubble film", materials.UseWrap, measure.RunMetre, "0.03", "0.50")
	s.good("care-card", "Care card", materials.UseCareCard, measure.Each, "0.01", "0.15")
	s.box(45, 45, 12, "2.20")
	s.box(80, 65, 16, "4.50")
	s.box(115, 65, 20, "7.50")
	s.box(140, 85, 20, "14.00")
	return s.catalogue, s.prices
}
