package demo

import (
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/stock"
)

// shelf gathers items and their prices as they are listed.
type shelf struct {
	list  stock.List
	today time.Time
}

// id is a key that is the same every time: what is listed twice is found again.
func id(of ...any) string {
	return uuid.NewSHA1(uuid.NameSpaceOID, []byte("foamwright demo "+fmt.Sprint(of...))).String()
}

// The three suppliers, all invented.
func (s *shelf) suppliers() {
	for _, one := range []stock.Supplier{
		{Name: foams, Email: "counter@saltmarsh-foams.example", LeadDays: 6, Note: "Mats come in packs of ten at a better price."},
		{Name: chandlery, Email: "orders@harrow-chandlery.example", LeadDays: 3, Note: "Down at the quay; closed on Mondays."},
		{Name: colours, Email: "hello@cinder-lane.example", LeadDays: 9, Note: "No deliveries in frost: latex does not survive it."},
	} {
		one.ID = id(one.Name)
		s.list.Suppliers = append(s.list.Suppliers, one)
	}
}

const (
	foams     = "Saltmarsh Foams"
	chandlery = "Harrow Chandlery"
	colours   = "Cinder Lane Colours"
)

// add lists an item with its usual pack.
func (s *shelf) add(i stock.Item, supplier, amount, pack string) {
	i.Place = len(s.list.Items) + 1
	s.list.Items = append(s.list.Items, i)
	s.offer(i, supplier, amount, pack, true)
}

// offer lists a pack of the last item and what it cost on three days, the invented past as shares of today's price.
func (s *shelf) offer(i stock.Item, supplier, amount, pack string, usual bool) {
	past := map[stock.Family][2]string{stock.Foam: {"0.91", "0.96"}, stock.Liquid: {"0.88", "1.05"}, stock.Good: {"0.94", "0.94"}}[i.Family()]
	o := stock.Offer{ID: id(i.Code, supplier, pack), Item: i.Code, Supplier: id(supplier), Pack: d(pack), Usual: usual}
	for _, p := range []struct {
		days   int
		amount decimal.Decimal
	}{{45, d(amount)}, {190, d(amount).Mul(d(past[1])).Round(2)}, {420, d(amount).Mul(d(past[0])).Round(2)}} {
		from := s.today.AddDate(0, 0, -p.days)
		o.Prices = append(o.Prices, stock.Price{From: from, Amount: p.amount, Noted: from, By: "Wren Calloway"})
	}
	s.list.Offers = append(s.list.Offers, o)
}

// another lists a second pack of the item that was listed last.
func (s *shelf) another(supplier, amount, pack string) {
	s.offer(s.list.Items[len(s.list.Items)-1], supplier, amount, pack, false)
}

// least is what the last item should not fall below.
func (s *shelf) least(amount string) { s.list.Items[len(s.list.Items)-1].Least = d(amount) }

// keeps says how many months the last item lasts sealed and opened, and the temperatures it bears: common practice,
// no source.
func (s *shelf) keeps(sealed, opened, coldest, warmest int) {
	i := &s.list.Items[len(s.list.Items)-1]
	i.SealedDays, i.OpenedDays = sealed*30, opened*30
	i.Climate.Coldest, i.Climate.Warmest = &coldest, &warmest
}

// dampest is the relative humidity the last item may be used at.
func (s *shelf) dampest(percent int) { s.list.Items[len(s.list.Items)-1].Climate.Dampest = &percent }

// foam lists a foam by its measures in mm.
func (s *shelf) foam(code, name string, form materials.Form, thick, width, height, pitch measure.Length, density, price string) {
	mm := measure.Millimetre
	s.add(stock.Of(materials.Foam{
		Code: code, Name: name, Form: form, Thickness: thick * mm, Width: width * mm, Height: height * mm,
		Pitch: pitch * mm, Density: d(density), Textured: form == materials.Mat,
	}), foams, price, "1")
}

func (s *shelf) liquid(l materials.Liquid, supplier, price, pack string) {
	s.add(stock.Of(l), supplier, price, pack)
}

func (s *shelf) colour(name, swatch string) {
	s.liquid(materials.Liquid{
		Code: "colour-" + name, Name: "Acrylic colour, " + name, Use: materials.UseColour, Colour: name, Swatch: swatch,
		Density: d("1.25"), Solids: d("0.50"), Spread: d("0.10"), Loss: d("0.20"),
	}, colours, "11.00", "0.5")
	s.keeps(36, 24, 5, 30)
	s.another(colours, "19.50", "1")
}

func (s *shelf) metallic(name, swatch string) {
	s.liquid(materials.Liquid{
		Code: "metallic-" + name, Name: "Metallic acrylic, copper-free, " + name, Use: materials.UseMetallic, Colour: name, Swatch: swatch,
		Density: d("1.2"), Solids: d("0.45"), Spread: d("0.12"), Loss: d("0.20"),
	}, colours, "17.00", "0.5")
	s.keeps(36, 18, 5, 30)
	s.another(colours, "5.20", "0.12")
}

func (s *shelf) good(code, name string, use materials.Use, unit measure.Unit, mass, price string) {
	s.add(stock.Of(materials.Good{Code: code, Name: name, Use: use, Unit: unit, Mass: d(mass)}), chandlery, price, "1")
}

// box lists a box by its inside measures in cm.
func (s *shelf) box(long, wide, deep measure.Length, price string) {
	cm := measure.Centimetre
	s.add(stock.Of(materials.Good{
		Code: fmt.Sprintf("box-%d", long), Name: fmt.Sprintf("Box %d × %d × %d cm", long, wide, deep), Use: materials.UseBox, Unit: measure.Each,
		Holds: [3]measure.Length{long * cm, wide * cm, deep * cm},
	}), chandlery, price, "1")
}

// Stock is the catalogue with suppliers and prices, as it stands on a day: sizes, spreads and losses are the trade's
// common practice, prices and suppliers are invented.
func Stock(now time.Time) stock.List {
	s := shelf{today: stock.Day(now)}
	s.suppliers()
	s.foam("mat-10", "Mat 10 mm", materials.Mat, 10, 550, 550, 550, "90", "3.60")
	s.another(foams, "33.00", "10")
	s.least("6")
	s.foam("mat-12", "Mat 12 mm", materials.Mat, 12, 600, 600, 600, "100", "4.20")
	s.another(foams, "39.00", "10")
	s.foam("sheet-2", "Sheet 2 mm", materials.Sheet, 2, 1000, 2000, 0, "100", "12.00")
	s.foam("sheet-3", "Sheet 3 mm", materials.Sheet, 3, 1000, 2000, 0, "100", "15.00")
	s.foam("sheet-5", "Sheet 5 mm", materials.Sheet, 5, 1000, 2000, 0, "100", "22.00")
	s.foam("sheet-10", "Sheet 10 mm", materials.Sheet, 10, 1000, 2000, 0, "100", "38.00")
	s.foam("half-2", "Half sheet 2 mm", materials.Sheet, 2, 1000, 500, 0, "100", "3.60")
	s.foam("half-3", "Half sheet 3 mm", materials.Sheet, 3, 1000, 500, 0, "100", "4.50")
	s.foam("half-5", "Half sheet 5 mm", materials.Sheet, 5, 1000, 500, 0, "100", "6.60")
	s.foam("light-10", "Light sheet 10 mm", materials.Sheet, 10, 1000, 2000, 0, "60", "27.00")

	s.liquids()
	s.goods()
	return s.list
}

func (s *shelf) liquids() {
	s.liquid(materials.Liquid{Code: "contact", Name: "Contact adhesive", Use: materials.UseAdhesive, Density: d("0.83"), Solids: d("0.25"), Spread: d("0.18"), Loss: d("0.15"), Flags: []materials.Flag{materials.Solvent}}, chandlery, "62.00", "5")
	s.keeps(12, 5, 5, 30)
	s.another(chandlery, "13.50", "0.75")
	s.another(colours, "15.90", "1")
	s.least("1")
	s.liquid(materials.Liquid{Code: "filler", Name: "Acrylic filler", Use: materials.UseFiller, Density: d("1.6"), Solids: d("0.85"), Loss: d("0.20"), DryHours: d("3"), Sets: materials.ByAir}, chandlery, "3.80", "0.3")
	s.keeps(18, 2, 5, 30)
	// What they weigh, lose and how long they take: common practice, no source.
	s.liquid(materials.Liquid{Code: "filler-hot-melt", Name: "Hot-melt glue sticks", Use: materials.UseFiller, Density: d("0.95"), Solids: d("1"), Loss: d("0.10"), DryHours: d("0.25"), Sets: materials.ByItself, Unsanded: true}, chandlery, "9.50", "1")
	s.liquid(materials.Liquid{Code: "filler-sealant", Name: "Flexible polyurethane sealant", Use: materials.UseFiller, Density: d("1.2"), Solids: d("0.95"), Loss: d("0.20"), DryHours: d("24"), Sets: materials.ByWarmth, Unsanded: true}, chandlery, "7.20", "0.3")
	s.keeps(12, 1, 5, 30)
	s.liquid(materials.Liquid{Code: "filler-clay", Name: "Foam clay", Use: materials.UseFiller, Density: d("0.25"), Solids: d("1"), Loss: d("0.20"), DryHours: d("48"), Sets: materials.ByAir}, colours, "12.00", "1.2")
	s.keeps(12, 3, 5, 30)
	s.liquid(materials.Liquid{Code: "latex", Name: "Latex, pre-vulcanised", Use: materials.UseLatex, Density: d("0.95"), Solids: d("0.62"), Spread: d("0.13"), FirstSpread: d("0.20"), Loss: d("0.12"), Flags: []materials.Flag{materials.Rubber}}, colours, "58.00", "5")
	s.keeps(12, 6, 5, 25)
	s.dampest(85)
	s.another(colours, "14.50", "1")
	s.another(chandlery, "15.80", "1")
	s.least("2")
	s.liquid(materials.Liquid{Code: "primer", Name: "Flexible primer", Use: materials.UsePrimer, Density: d("1.05"), Solids: d("0.40"), Spread: d("0.12"), Loss: d("0.10")}, colours, "24.00", "1")
	s.keeps(18, 9, 5, 30)
	s.another(colours, "104.00", "5")
	s.liquid(materials.Liquid{Code: "water", Name: "Distilled water", Use: materials.UseWater, Density: d("1")}, chandlery, "3.00", "5")
	s.liquid(materials.Liquid{Code: "clear", Name: "Flexible clear coat", Use: materials.UseClear, Density: d("1.03"), Solids: d("0.35"), Spread: d("0.09"), Loss: d("0.10")}, colours, "29.00", "1")
	s.keeps(18, 6, 5, 30)
	s.another(colours, "126.00", "5")
	for _, c := range [][2]string{
		{"black", "#26282b"}, {"white", "#efeade"}, {"deep blue", "#2f4f6b"}, {"madder red", "#8f3b34"}, {"moss green", "#4c6b4f"},
		{"ochre", "#c08f3f"}, {"oak brown", "#6f5138"}, {"slate grey", "#6d747a"}, {"leaf green", "#2f7d55"},
	} {
		s.colour(c[0], c[1])
	}
	s.metallic("steel", "#a2a8ad")
	s.metallic("old gold", "#b9924a")
}

func (s *shelf) goods() {
	s.good("webbing-40", "Webbing 40 mm", materials.UseStrap, measure.RunMetre, "0.045", "0.64")
	s.another(chandlery, "28.00", "50")
	s.good("bar", "Grip bar, wood 28 mm", materials.UseBar, measure.Each, "0.09", "0.60")
	s.good("bar-tube", "Plastic tube 25 mm", materials.UseBar, measure.Each, "0.05", "0.40")
	s.good("rope-10", "Rope 10 mm", materials.UseRope, measure.RunMetre, "0.06", "1.10")
	s.good("rivet", "Rivet, soft head", materials.UseRivet, measure.Each, "0.002", "0.12")
	s.another(chandlery, "9.80", "100")
	s.good("disc-80", "Sanding disc, 80 grit", materials.UseDisc, measure.Each, "0", "0.35")
	s.good("belt-80", "Sanding belt, 80 grit", materials.UseBelt, measure.Each, "0", "0.90")
	s.good("blade", "Snap blade", materials.UseBlade, measure.Each, "0", "0.25")
	s.least("10")
	s.good("burr", "Rotary burr", materials.UseBurr, measure.Each, "0", "4.00")
	s.good("brush-50", "Brush 50 mm", materials.UseBrush, measure.Each, "0", "1.80")
	s.good("gloves", "Gloves, pair", materials.UseGloves, measure.Each, "0", "0.12")
	s.another(chandlery, "4.90", "50")
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
}

// NewStock is the same catalogue for a workshop that is not the demo: all of one supplier, at today's prices.
func NewStock(now time.Time) stock.List {
	list := Stock(now)
	one := stock.Supplier{ID: id("Price list"), Name: "Price list", LeadDays: 7, Note: "Invented prices to begin with. Put your own suppliers and their prices in their place."}
	list.Suppliers = []stock.Supplier{one}
	var usual []stock.Offer
	for _, o := range list.Offers {
		if o.Usual {
			o.ID, o.Supplier, o.Prices = id(o.Item, one.Name), one.ID, o.Prices[:1]
			o.Prices[0].By = ""
			usual = append(usual, o)
		}
	}
	list.Offers = usual
	return list
}
